"""Names in an essay: what is written with a capital though no sentence begins there."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from rubric_kit.measures.spelling.known import plain

if TYPE_CHECKING:
    from rubric_kit.reading import Essay, Word

NO_MARK = frozenset(" \t\r\n\u00a0,-'’")  # between two words these open nothing new


class Capitals:
    """How an essay writes its capitalised words: a name has its capital inside sentences too, or comes back with it."""

    def __init__(self, essay: Essay) -> None:
        self._text = essay.text
        self._large: Counter[str] = Counter()
        self._inside: set[str] = set()
        self._small: set[str] = set()
        for sentence in essay.sentences:
            for place, word in enumerate(sentence.words):
                form = plain(word.text).removesuffix("'s")
                if not word.text[0].isupper():
                    self._small.add(form)
                    continue
                self._large[form] += 1
                if not self.opens(sentence.words, place):
                    self._inside.add(form)

    def opens(self, words: tuple[Word, ...], place: int) -> bool:
        """Does the word at this place open the sentence, or a quotation or clause after a mark?"""
        return place == 0 or not NO_MARK.issuperset(self._text[words[place - 1].end : words[place].start])

    def is_name_here(self, form: str) -> bool:
        return form in self._inside or (self._large[form] > 1 and form not in self._small)

    def is_small_too(self, form: str) -> bool:
        return form in self._small
