"""Slips kind by kind, and how far a reader gets from one to the next."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from rubric_kit.measures.catalogue import Measure, by_name
from rubric_kit.measures.spelling.known import is_known

if TYPE_CHECKING:
    from rubric_kit.measures.measured import Measures

OWN = "own definition; slips found as described in DEVELOPERS.md, accuracy measured there"
ERROR_FREE = "after Wolfe-Quintero, Inagaki & Kim 1998, Second Language Development in Writing (error-free units)"
STEADY_WORDS = 50  # one slip more or less in 50 words moves a rate by 2 in 100; in fewer words it says little
KINDS = ("spelling", "confused_words", "run_ons", "fragments", "capitals", "end_marks", "repeated_words", "agreement")
SMALL_I = re.compile(r"\bi\b")
NO_SPACE = re.compile(r"[a-z][,.;!?][A-Za-z]")
SPACE_BEFORE = re.compile(r"\s[,.;!?]")
BARE_CONTRACTION = re.compile(
    r"\b(?:dont|cant|wont|didnt|doesnt|isnt|im|thats|ive|youre|theyre|couldnt|wouldnt)\b", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class SlipCounts:
    """What the slip signs are worked out from.

    found           slips by kind
    wrong_words     different misspelled words
    unknown_words   words that are in no list, names included
    clean           words in each sentence in which no slip was found
    runs            words from one slip to the next, the essay's ends counted as slips
    small_starts    sentences that begin with a small letter
    text_marks      small i, marks with no space after or with a space before, contractions with no apostrophe
    """

    words: int
    sentences: int
    found: Mapping[str, int]
    wrong_words: int
    unknown_words: int
    clean: tuple[int, ...]
    runs: tuple[int, ...]
    small_starts: int
    text_marks: Mapping[str, int]

    @property
    def total(self) -> int:
        return sum(self.found.values())


def slip_counts(measured: Measures) -> SlipCounts:
    """Count the slips found, sentence by sentence."""
    essay = measured.essay
    items = {kind: getattr(measured.mechanics, kind) for kind in KINDS}
    slips = sorted(item.start for found in items.values() for item in found)
    sentences = [sentence for sentence in essay.sentences if sentence.words]
    starts = [sentence.start for sentence in sentences]
    marred = Counter(max(0, bisect_right(starts, slip) - 1) for slip in slips)
    places = [word.start for word in essay.words]
    ends = [0, *(bisect_right(places, slip) for slip in slips), len(places)]
    text = "\n".join(essay.text[paragraph.start : paragraph.end] for paragraph in essay.paragraphs)
    return SlipCounts(
        words=len(essay.words),
        sentences=len(sentences),
        found={kind: len(found) for kind, found in items.items()},
        wrong_words=len({item.text.lower() for item in items["spelling"]}),
        unknown_words=sum(
            word.text.isalpha() and word.text.isascii() and not is_known(word.text.lower()) for word in essay.words
        ),
        clean=tuple(len(s.words) for number, s in enumerate(sentences) if not marred[number]),
        runs=tuple(after - before for before, after in pairwise(ends)),
        small_starts=sum(essay.text[s.words[0].start].islower() for s in sentences),
        text_marks={
            "small_i": len(SMALL_I.findall(text)),
            "no_space": len(NO_SPACE.findall(text)),
            "space_before": len(SPACE_BEFORE.findall(text)),
            "bare_contraction": len(BARE_CONTRACTION.findall(text)),
        },
    )


def _rate(name: str, of: str, count: Callable[[SlipCounts], int]) -> Measure[SlipCounts]:
    return Measure(
        f"{name}_per_100_words",
        lambda c: 100 * count(c) / c.words,
        f"100 * {of} / words",
        "per 100 words",
        OWN,
        at_least={"words": 1},
        wants={"words": STEADY_WORDS},
    )


def _of_kind(kind: str) -> Measure[SlipCounts]:
    return _rate(f"slips_of_{kind}", f"slips of {kind.replace('_', ' ')}", lambda c: c.found[kind])


def _mark(mark: str, of: str) -> Measure[SlipCounts]:
    return _rate(mark, of, lambda c: c.text_marks[mark])


def _clean(
    name: str, function: Callable[[SlipCounts], float], formula: str, unit: str, **at_least: int
) -> Measure[SlipCounts]:
    return Measure(name, function, formula, unit, ERROR_FREE, at_least, {"words": STEADY_WORDS})


SLIPS: dict[str, Measure[SlipCounts]] = by_name(
    [
        *map(_of_kind, KINDS),
        _rate("slips_of_all_kinds", "slips of all kinds", lambda c: c.total),
        _rate("unknown_words", "words in no list", lambda c: c.unknown_words),
        _mark("small_i", "“i” for “I”"),
        _mark("no_space", "marks with no space after them"),
        _mark("space_before", "marks with a space before them"),
        _mark("bare_contraction", "contractions with no apostrophe"),
        _clean("different_wrong_words", lambda c: c.wrong_words, "different misspelled words", "words"),
        _clean(
            "small_start_share",
            lambda c: c.small_starts / c.sentences,
            "sentences that begin with a small letter / sentences",
            "0 to 1",
            sentences=1,
        ),
        _clean(
            "clean_share",
            lambda c: len(c.clean) / c.sentences,
            "sentences in which no slip was found / sentences",
            "0 to 1",
            sentences=1,
        ),
        _clean("clean_words", lambda c: sum(c.clean), "words in sentences in which no slip was found", "words"),
        _clean("mean_clean_run", lambda c: sum(c.runs) / len(c.runs), "words from slip to slip, mean", "words"),
        _clean("longest_clean_run", lambda c: max(c.runs), "words from slip to slip, most", "words"),
    ]
)
