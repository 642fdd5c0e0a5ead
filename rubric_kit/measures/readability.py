"""The readability formulas, each from its published definition. They describe a text, not a child's ability."""

from __future__ import annotations

import math

from rubric_kit.measures.catalogue import Measure, Result, by_name, run
from rubric_kit.measures.counts import Counts

LINSEAR_LOW = 20  # points per sentence; up to here one is taken off
SMOG_SAMPLE = 30  # sentences
FORCAST_SAMPLE = 150  # words
SAMPLE = 100  # words


def flesch_reading_ease(c: Counts) -> float:
    return 206.835 - 1.015 * _sentence_length(c) - 84.6 * c.syllables / c.words


def flesch_kincaid_grade(c: Counts) -> float:
    return 0.39 * _sentence_length(c) + 11.8 * c.syllables / c.words - 15.59


def gunning_fog(c: Counts) -> float:
    return 0.4 * (_sentence_length(c) + 100 * c.complex_words / c.words)


def smog(c: Counts) -> float:
    return 1.0430 * math.sqrt(c.polysyllables * SMOG_SAMPLE / c.sentences) + 3.1291


def smog_quick(c: Counts) -> float:
    return 3 + math.sqrt(c.polysyllables * SMOG_SAMPLE / c.sentences)


def coleman_liau(c: Counts) -> float:
    return 0.0588 * (100 * c.characters / c.words) - 0.296 * (100 * c.sentences / c.words) - 15.8


def automated_readability(c: Counts) -> float:
    return 4.71 * c.characters / c.words + 0.5 * _sentence_length(c) - 21.43


def dale_chall(c: Counts) -> float:
    # Dale and Chall always add the constant; to add it only above 5 percent is a later habit of software.
    return 0.1579 * (100 * c.unfamiliar / c.words) + 0.0496 * _sentence_length(c) + 3.6365


def new_dale_chall(c: Counts) -> float:
    return 64 - 0.95 * (100 * c.unfamiliar / c.words) - 0.69 * _sentence_length(c)


def spache(c: Counts) -> float:
    return 0.121 * _sentence_length(c) + 0.082 * (100 * c.spache_unfamiliar / c.words) + 0.659


def spache_1953(c: Counts) -> float:
    return 0.141 * _sentence_length(c) + 0.086 * (100 * c.spache_unfamiliar / c.words) + 0.839


def linsear_write(c: Counts) -> float:
    points = ((c.words - c.hard_words) + 3 * c.hard_words) / c.sentences
    return points / 2 if points > LINSEAR_LOW else points / 2 - 1


def forcast(c: Counts) -> float:
    return 20 - (FORCAST_SAMPLE * c.monosyllables / c.words) / 10


def lix(c: Counts) -> float:
    return _sentence_length(c) + 100 * c.long_words / c.words


def rix(c: Counts) -> float:
    return c.long_words / c.sentences


def _sentence_length(c: Counts) -> float:
    return c.words / c.sentences


ANY = {"words": 1, "sentences": 1}
WANTS_SAMPLE = {"words": SAMPLE}
WANTS_30_SENTENCES = {"sentences": SMOG_SAMPLE}

READABILITY = by_name(
    [
        Measure(
            "flesch_reading_ease",
            flesch_reading_ease,
            "206.835 - 1.015 words/sentences - 84.6 syllables/words",
            "points, 0 hard to 100 easy",
            "Flesch 1948",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "flesch_kincaid_grade",
            flesch_kincaid_grade,
            "0.39 words/sentences + 11.8 syllables/words - 15.59",
            "US school grade",
            "Kincaid, Fishburne, Rogers & Chissom 1975",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "gunning_fog",
            gunning_fog,
            "0.4 (words/sentences + 100 complex words/words)",
            "US school grade",
            "Gunning 1952",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "smog",
            smog,
            "1.0430 sqrt(30 polysyllables/sentences) + 3.1291",
            "US school grade",
            "McLaughlin 1969",
            ANY,
            WANTS_30_SENTENCES,
        ),
        Measure(
            "smog_quick",
            smog_quick,
            "3 + sqrt(30 polysyllables/sentences)",
            "US school grade",
            "McLaughlin 1969, quick form",
            ANY,
            WANTS_30_SENTENCES,
        ),
        Measure(
            "coleman_liau",
            coleman_liau,
            "0.0588 characters per 100 words - 0.296 sentences per 100 words - 15.8",
            "US school grade",
            "Coleman & Liau 1975",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "automated_readability",
            automated_readability,
            "4.71 characters/words + 0.5 words/sentences - 21.43",
            "score, read by its table",
            "Senter & Smith 1967",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "dale_chall",
            dale_chall,
            "0.1579 percent unfamiliar + 0.0496 words/sentences + 3.6365",
            "score, read by its table",
            "Dale & Chall 1948",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "new_dale_chall",
            new_dale_chall,
            "64 - 0.95 percent unfamiliar - 0.69 words/sentences",
            "cloze score, higher is easier",
            "Chall & Dale 1995",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "spache",
            spache,
            "0.121 words/sentences + 0.082 percent unfamiliar, each word once in 100, + 0.659",
            "US school grade, best up to 4",
            "Spache 1974 (revised)",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "spache_1953",
            spache_1953,
            "0.141 words/sentences + 0.086 percent unfamiliar, each word once in 100, + 0.839",
            "US school grade, best up to 4",
            "Spache 1953; with the revised list of 1974, since the first is in no open package",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "linsear_write",
            linsear_write,
            "r = (easy words + 3 hard words)/sentences; r/2 where r > 20, else r/2 - 1",
            "US school grade",
            "Linsear Write, after O'Hayre 1966; on the whole text",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "forcast",
            forcast,
            "20 - (words of one syllable in 150)/10",
            "US school grade",
            "Caylor, Sticht, Fox & Ford 1973",
            ANY,
            {"words": FORCAST_SAMPLE},
        ),
        Measure(
            "lix",
            lix,
            "words/sentences + 100 words of over 6 letters/words",
            "points, 20 easy to 60 hard",
            "Björnsson 1968",
            ANY,
            WANTS_SAMPLE,
        ),
        Measure(
            "rix",
            rix,
            "words of over 6 letters/sentences",
            "long words to a sentence",
            "Anderson 1983",
            ANY,
            WANTS_SAMPLE,
        ),
    ]
)


def readability(counts: Counts) -> dict[str, Result]:
    """Every formula on one text's counts, in the order of the catalogue."""
    return {name: run(measure, counts) for name, measure in READABILITY.items()}
