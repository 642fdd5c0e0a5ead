"""Misspellings in an essay: which words are accused, and which, names above all, are let alone."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from rubric_kit.measures.found import Found
from rubric_kit.measures.spelling.known import corrections, is_known, is_name, plain, well_known_names
from rubric_kit.measures.spelling.ranking import MOST, weighed
from rubric_kit.measures.spelling.words import commonness

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay, Sentence, Word

KIND = "spelling"
# How much evidence (ranking.py) the best suggestion needs before a word is accused; tests/measures/measure_spelling.py
# shows false alarms in novels and misspellings missed. Misspellings mostly have 1 to 8, coined words and names -10 to 3.
ENOUGH = -4.0
ENOUGH_FOR_CAPITAL = 3.0  # a capital at the start of a sentence may be a name's
ENOUGH_FOR_NAME = 1.0  # a misspelled day, month or country
ENOUGH_FOR_CONTRACTION = 0.0  # did'nt; other unknown words with an apostrophe are dialect
NEVER = float("inf")
COMMON = 4.0  # Zipf; what a capitalised misspelling at the start of a sentence stands for is a common word
LONGEST_ABBREVIATION = 5  # capitals


def spelling(essay: Essay, parse: Parse | None = None) -> tuple[Found, ...]:
    """The misspelled words of an essay, in order of the text, with at most five suggestions each, best first.

    The parse is not needed; it is taken so that every finder of mechanics is called alike.
    """
    capitals = Capitals(essay)
    return tuple(
        item
        for number, paragraph in enumerate(essay.paragraphs, start=1)
        for sentence in paragraph.sentences
        for item in _misspelled(sentence, capitals, number)
    )


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
        return place == 0 or any(c not in " \t\n\u00a0,-'’" for c in self._text[words[place - 1].end : words[place].start])

    def is_name_here(self, form: str) -> bool:
        return form in self._inside or (self._large[form] > 1 and form not in self._small)

    def is_small_too(self, form: str) -> bool:
        return form in self._small


def _misspelled(sentence: Sentence, capitals: Capitals, paragraph: int) -> Iterator[Found]:
    words = sentence.words
    for place, word in enumerate(words):
        small = plain(word.text)
        if is_known(small) or _may_be_name(word, small, capitals):
            continue
        before = words[place - 1].text if place else ""
        after = words[place + 1].text if place + 1 < len(words) else ""
        found = weighed(word.text, before, after)
        if found and found[0][1] >= _enough(word, small, found[0][0], capitals.opens(words, place), capitals):
            best = tuple(other for other, _ in found[:MOST])
            yield Found(word.text, word.start, word.end, KIND, _why(word.text, small, best[0]), paragraph, best)


def _may_be_name(word: Word, small: str, capitals: Capitals) -> bool:
    if small in corrections():
        return False
    if not word.text[0].isupper():
        return capitals.is_name_here(small.removesuffix("'s"))
    return is_name(small) or (word.text.isupper() and len(small) <= LONGEST_ABBREVIATION)


def _enough(word: Word, small: str, best: str, opens: bool, capitals: Capitals) -> float:
    """The evidence that the best suggestion needs."""
    form = small.removesuffix("'s")
    if small in corrections():
        return ENOUGH
    if "'" in form:
        return ENOUGH_FOR_CONTRACTION if "'" in best else NEVER
    if not word.text[0].isupper() or capitals.is_small_too(form):
        return ENOUGH
    if best.removesuffix("'s") in well_known_names():
        return ENOUGH_FOR_NAME
    if opens and not capitals.is_name_here(form) and commonness(best) >= COMMON:
        return ENOUGH_FOR_CAPITAL
    return NEVER


def _why(text: str, small: str, best: str) -> str:
    if best.replace("'", "").lower() == small.replace("'", ""):
        return f"“{best}” is short for two words, so it has an apostrophe where letters are left out."
    if best.replace(" ", "").lower() == small:
        return f"“{text}” is written as two words: “{best}”."
    return f"“{text}” is in no dictionary; it is nearest to “{best}”."
