"""Misspellings in an essay: which words are accused, and which, names above all, are let alone."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from rapidfuzz import process
from rapidfuzz.distance import OSA

from rubric_kit.measures.found import Found
from rubric_kit.measures.remembered import Remembered
from rubric_kit.measures.spelling.capitals import Capitals
from rubric_kit.measures.spelling.in_context import has_rules, meant_here
from rubric_kit.measures.spelling.known import corrections, is_known, is_name, plain, well_known_names
from rubric_kit.measures.spelling.owners import owners
from rubric_kit.measures.spelling.quoted import Quoted
from rubric_kit.measures.spelling.ranking import MOST, capitalised_as, weighed
from rubric_kit.measures.spelling.words import commonness

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay, Sentence, Word

KIND = "spelling"
# How much evidence (ranking.py) the best suggestion needs before a word is accused; tests/measures/measure_spelling.py
# shows false alarms in novels and misspellings missed. Misspellings mostly have 1 to 8, coined words -10 to 3.
ENOUGH = -2.0
ENOUGH_FOR_CAPITAL = 3.5  # a capital at the start of a sentence may be a name's
ENOUGH_FOR_NAME = 1.0  # a misspelled day, month or country
ENOUGH_FOR_PART = 3.0  # a part of a hyphenated word: many are coined
ENOUGH_FOR_QUOTED = 4.0  # in quotation marks: a book's words, old ones and dialect among them
ENOUGH_FOR_CONTRACTION = 0.0  # did'nt; other unknown words with an apostrophe are dialect
NEVER = float("inf")
COMMON = 4.0  # Zipf; what a capitalised misspelling at the start of a sentence stands for is a common word
OF_THOU = re.compile(r"st$")  # its verbs: knowest, gav'st
WRONG_IN_NAME = 2  # letters
LONGEST_ABBREVIATION = 5  # capitals


def spelling(essay: Essay, parse: Parse | None = None) -> tuple[Found, ...]:
    """The misspelled words of an essay, in order of the text, with at most five suggestions each, best first.

    With a parse, names that lack the apostrophe of an owner ("Hooks ship") are found too.
    """
    capitals, quoted = Capitals(essay), Quoted(essay)
    found = [
        item
        for number, paragraph in enumerate(essay.paragraphs, start=1)
        for sentence in paragraph.sentences
        for item in _misspelled(sentence, capitals, quoted, number)
    ]
    if parse is not None:
        taken = {item.start for item in found}
        found += [item for item in owners(essay, parse, capitals) if item.start not in taken]
    return tuple(sorted(found, key=lambda item: item.start))


def _misspelled(sentence: Sentence, capitals: Capitals, quoted: Quoted, paragraph: int) -> Iterator[Found]:
    words = sentence.words
    for place, word in enumerate(words):
        if _PASSED[word.text]:
            continue
        small = plain(word.text)
        before = words[place - 1].text if place else ""
        after = words[place + 1].text if place + 1 < len(words) else ""
        meant = meant_here(small, plain(before), plain(after))
        if meant is not None:
            why = f"“{word.text}” is a word, but beside “{before or after}” the word that is meant is “{meant}”."
            yield Found(word.text, word.start, word.end, KIND, why, paragraph, (capitalised_as(word.text, meant),))
        elif not (
            is_known(small)
            or (OF_THOU.search(small) and any(plain(other.text) == "thou" for other in words))
            or _may_be_name(word, small, capitals.opens(words, place), capitals)
        ):
            found = weighed(word.text, before, after)
            # Of 36 candidates one goes with the neighbours by chance, so they tell which is meant, not whether one is.
            if found and max(item.alone for item in found) >= _enough(word, small, found[0].word, capitals, quoted):
                best = tuple(item.word for item in found[:MOST])
                yield Found(word.text, word.start, word.end, KIND, _why(word.text, small, best[0]), paragraph, best)


def _is_passed(word: str) -> bool:
    """Is this right as it stands, whatever stands beside it? So most words are."""
    small = plain(word)
    return is_known(small) and not has_rules(small)


_PASSED = Remembered(_is_passed)


def _may_be_name(word: Word, small: str, opens: bool, capitals: Capitals) -> bool:
    """A name, brand or abbreviation by its capitals? These are let alone, but for days, countries and so on."""
    form = small.removesuffix("'s")
    if small in corrections() or (word.text.islower() and not capitals.is_name_here(form)):
        return False
    if any(c.isupper() for c in word.text.split("-")[0][1:]) and not word.text.isupper():
        return True  # eBay, McDuff
    if word.text.isupper() and len(small) <= LONGEST_ABBREVIATION:
        return True
    if word.text.islower() or is_name(small):
        return True
    may_open = opens and not capitals.is_name_here(form)
    return not (may_open or capitals.is_small_too(form) or _near_well_known_name(form))


def _near_well_known_name(form: str) -> bool:
    names = map(str.lower, well_known_names())
    return process.extractOne(form, names, scorer=OSA.distance, score_cutoff=WRONG_IN_NAME) is not None


def _enough(word: Word, small: str, best: str, capitals: Capitals, quoted: Quoted) -> float:
    """The evidence that the best suggestion needs."""
    form = small.removesuffix("'s")
    if quoted.has(word.start) and small not in corrections():
        return NEVER if "'" in form else ENOUGH_FOR_QUOTED
    if "'" in form and small not in corrections():
        return ENOUGH_FOR_CONTRACTION if "'" in best else NEVER
    if "-" in form:
        return ENOUGH_FOR_PART
    if small in corrections() or not word.text[0].isupper() or capitals.is_small_too(form):
        return ENOUGH
    if best.removesuffix("'s") in well_known_names():
        return ENOUGH_FOR_NAME
    return ENOUGH_FOR_CAPITAL if commonness(best) >= COMMON and not capitals.is_name_here(form) else NEVER


def _why(text: str, small: str, best: str) -> str:
    if best.replace("'", "").lower() == small.replace("'", ""):
        return f"“{best}” is short for two words, so it has an apostrophe where letters are left out."
    if best.replace(" ", "").lower() == small:
        return f"“{text}” is written as two words: “{best}”."
    return f"“{text}” is in no dictionary; it is nearest to “{best}”."
