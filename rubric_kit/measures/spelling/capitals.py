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
        self._small: Counter[str] = Counter()
        for text, times in Counter([word.text for word in essay.words]).items():
            (self._large if text[0].isupper() else self._small)[_form(text)] += times
        self._inside = {
            _form(word.text)
            for sentence in essay.sentences
            for place, word in enumerate(sentence.words)
            if word.text[0].isupper() and not self.opens(sentence.words, place)
        }

    def opens(self, words: tuple[Word, ...], place: int) -> bool:
        """Does the word at this place open the sentence, or a quotation or clause after a mark?"""
        return place == 0 or not NO_MARK.issuperset(self._text[words[place - 1].end : words[place].start])

    def has_inside(self, form: str) -> bool:
        """Does this (in small letters) stand with a capital inside a sentence, and mostly with one?"""
        return form in self._inside and self._large[form] > self._small[form]

    def is_name_here(self, form: str) -> bool:
        """... or more than once with a capital, and never without?"""
        return self.has_inside(form) or (self._large[form] > 1 and not self._small[form])

    def is_small_too(self, form: str) -> bool:
        """Is this mostly written without a capital?"""
        return self._small[form] >= max(1, self._large[form])


def _form(text: str) -> str:
    return plain(text).removesuffix("'s")
