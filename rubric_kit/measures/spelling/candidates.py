"""The words that a misspelling may stand for: near in letters, near in sound, or two words written as one."""

from __future__ import annotations

from functools import cache

from rapidfuzz import process
from rapidfuzz.distance import OSA, JaroWinkler

from rubric_kit.measures.spelling.sounds import sound_key
from rubric_kit.measures.spelling.words import common, suggested
from rubric_kit.measures.spelling.frequency import zipf

SHORT = 6  # letters; up to here two wrong letters are looked for, beyond three (98% of the lists' words are then found)
SHORTLIST = 30  # words weighed closely; the intended one is among them in 97% of the lists' misspellings
SPLIT_ZIPF = 4.5  # both words of a pair written as one are common ones


def candidates(word: str) -> list[str]:
    """At most ``SHORTLIST`` words that ``word`` (small letters) may stand for, and pairs of words it may run together."""
    near = set(_near_in_letters(word)) | set(_near_in_sound(word))
    near.discard(word)
    rough = sorted(near, key=lambda other: _roughly(word, other), reverse=True)
    return rough[:SHORTLIST] + _pairs(word)


def _roughly(word: str, other: str) -> float:
    return JaroWinkler.similarity(word, other.lower()) + zipf(other) / 25 - (OSA.distance(word, other.lower()) / len(word)) / 2


def _near_in_letters(word: str) -> list[str]:
    wrong = 2 if len(word) <= SHORT else 3
    found: list[str] = []
    for length in range(len(word) - wrong, len(word) + wrong + 1):
        words, small = _by_length().get(length, ((), ()))
        hits = process.extract(word, small, scorer=OSA.distance, score_cutoff=wrong, limit=None)
        found += [words[i] for _, _, i in hits]
    return found


def _near_in_sound(word: str) -> list[str]:
    key = sound_key(word)
    found: list[str] = []
    for length in range(len(key) - 1, len(key) + 2):
        keys = _by_key_length().get(length, ())
        for other, _, _ in process.extract(key, keys, scorer=OSA.distance, score_cutoff=1, limit=None):
            found += _by_key()[other]
    return found


def _pairs(word: str) -> list[str]:
    """'alot' may be 'a lot'."""
    halves = ((word[:i], word[i:]) for i in range(1, len(word)))
    return [
        f"{a} {b}"
        for a, b in halves
        if (len(a) > 1 or a in "ai") and len(b) > 1 and a in common() and b in common() and min(zipf(a), zipf(b)) >= SPLIT_ZIPF
    ]


@cache
def _by_length() -> dict[int, tuple[list[str], list[str]]]:
    index: dict[int, tuple[list[str], list[str]]] = {}
    for word in suggested():
        words, small = index.setdefault(len(word), ([], []))
        words.append(word)
        small.append(word.lower())
    return index


@cache
def _by_key() -> dict[str, list[str]]:
    index: dict[str, list[str]] = {}
    for word, (_, _, keys) in suggested().items():
        for key in keys:
            index.setdefault(key, []).append(word)
    return index


@cache
def _by_key_length() -> dict[int, list[str]]:
    index: dict[int, list[str]] = {}
    for key in _by_key():
        index.setdefault(len(key), []).append(key)
    return index
