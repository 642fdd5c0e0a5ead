"""Names in an essay: what is written with a capital though no sentence begins there."""

from __future__ import annotations

from collections import defaultdict
from functools import cached_property
from typing import TYPE_CHECKING

from rubric_kit.measures.remembered import Remembered
from rubric_kit.measures.spelling.known import plain

if TYPE_CHECKING:
    from rubric_kit.reading import Essay, Word

NO_MARK = frozenset(" \t\r\n\u00a0,-'’")  # between two words these open nothing new


class Capitals:
    """How an essay writes its capitalised words: a name has its capital inside sentences too, or comes back with it."""

    def __init__(self, essay: Essay) -> None:
        self._essay = essay

    @cached_property
    def _uses(self) -> tuple[dict[str, int], dict[str, int]]:
        """How often each is written with a capital, and without."""
        large, small = defaultdict[str, int](int), defaultdict[str, int](int)
        for text, times in self._essay.uses.items():
            (large if text[0].isupper() else small)[_FORMS[text]] += times
        return large, small

    @cached_property
    def _inside(self) -> set[str]:
        return {
            _FORMS[word.text]
            for sentence in self._essay.sentences
            for place, word in enumerate(sentence.words)
            if word.text[0].isupper() and not self.opens(sentence.words, place)
        }

    def opens(self, words: tuple[Word, ...], place: int) -> bool:
        """Does the word at this place open the sentence, or a quotation or clause after a mark?"""
        return place == 0 or not NO_MARK.issuperset(self._essay.text[words[place - 1].end : words[place].start])

    def has_inside(self, form: str) -> bool:
        """Does this (in small letters) stand with a capital inside a sentence, and mostly with one?"""
        large, small = self._uses
        return form in self._inside and large[form] > small[form]

    def is_name_here(self, form: str) -> bool:
        """... or more than once with a capital, and never without?"""
        large, small = self._uses
        return self.has_inside(form) or (large[form] > 1 and not small[form])

    def is_small_too(self, form: str) -> bool:
        """Is this mostly written without a capital?"""
        large, small = self._uses
        return small[form] >= max(1, large[form])


def _form(text: str) -> str:
    return plain(text).removesuffix("'s")


_FORMS = Remembered(_form)
