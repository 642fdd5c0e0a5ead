"""The words that a misspelling may stand for: near in letters, near in sound, or two words written as one."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from rapidfuzz import process
from rapidfuzz.distance import OSA, JaroWinkler

from rubric_kit.measures.frequency import zipf_of_words
from rubric_kit.measures.spelling.sounds import sound_key
from rubric_kit.measures.spelling.words import UNLISTED, commonness, is_common, suggested

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Counts = NDArray[np.uint64]
    Words = NDArray[np.object_]

SHORT = 6  # letters; up to here two wrong letters are looked for, beyond three,
LONG = 9  # from here four
LONG_KEY = 7  # sounds; from here two of a sound key may differ, else one
SILENT = 3  # letters that a word may have more than its sounds' spelling, or fewer (enough, enuf)
SHORTLIST = 36  # words weighed closely; 93 to 99% of the lists' intended words are among them
LAST_BIT = 31  # of 32; "a" and "A" are bit 1, and bit 33 where they come again
SPLIT_ZIPF = 4.2  # both words of a pair written as one are common ones


def candidates(word: str) -> list[int]:
    """Places in ``suggested()`` of the words, at most ``SHORTLIST``, that ``word`` (in small letters) may stand for."""
    small = suggested().small
    key = sound_key(word)
    near = list({i for i in (*_near_in_letters(word), *_near_in_sound(word, key)) if small[i] != word})
    likeness = _roughly(word, key, near)
    return sorted(near, key=likeness.__getitem__, reverse=True)[:SHORTLIST]


def pairs(word: str) -> list[str]:
    """Pairs of common words that may have been run together: 'alot' may be 'a lot'."""
    halves = ((word[:i], word[i:]) for i in range(1, len(word) - 1))
    return [
        f"{a} {b}"
        for a, b in halves
        if (len(a) > 1 or a in "ai")
        and is_common(a)
        and is_common(b)
        and min(commonness(a), commonness(b)) >= SPLIT_ZIPF
    ]


def _roughly(word: str, key: str, near: list[int]) -> dict[int, float]:
    """A quick likeness, in Zipf points; weights by logistic regression of intended words on half of the lists."""
    small, keys = suggested().small, suggested().keys
    zipf = zipf_of_words()
    return {
        i: zipf.get(small[i], UNLISTED)
        + 9.6 * JaroWinkler.similarity(word, small[i])
        - 8.8 * OSA.distance(word, small[i]) / len(word)
        - 6.4 * OSA.distance(key, keys[i]) / (len(key) + 1)
        + 1.6 * (key == keys[i])
        + 1.8 * (word[0] == small[i][0])
        for i in near
    }


def _near_in_letters(word: str) -> list[int]:
    wrong = 2 if len(word) <= SHORT else 3 if len(word) < LONG else 4
    return _near(word, *_words(), len(word) - wrong, len(word) + wrong, wrong)


def _near_in_sound(word: str, key: str) -> list[int]:
    wrong = 1 if len(key) < LONG_KEY else 2
    return _near(key, *_keys(), len(word) - SILENT, len(word) + SILENT, wrong)


def _near(text: str, column: Words, counts: Counts, shortest: int, longest: int, wrong: int) -> list[int]:
    """Places of the words at most ``wrong`` slips away, among those of some lengths.

    One slip brings in at most one letter, and takes out one: words with too many other letters are not compared.
    """
    import numpy as np

    first = suggested().first
    start = first[max(0, min(shortest, len(first) - 1))]
    stop = first[min(longest + 1, len(first) - 1)]
    own = letter_counts([text.replace(" ", "_")])
    other = counts[start:stop] ^ own
    near = np.flatnonzero(np.bitwise_count(other) <= 2 * wrong)  # most words go here, by one look at each
    other = other[near]
    brought, taken = np.bitwise_count(other & own), np.bitwise_count(other & ~own)
    near = near[(brought <= wrong) & (taken <= wrong)] + start
    hits = process.extract(text, column[near].tolist(), scorer=OSA.distance, score_cutoff=wrong, limit=None)
    places: list[int] = near[[i for _, _, i in hits]].tolist()
    return places


@cache
def _words() -> tuple[Words, Counts]:
    return _with_counts(suggested().small)


@cache
def _keys() -> tuple[Words, Counts]:
    return _with_counts(suggested().keys)


def _with_counts(words: Sequence[str]) -> tuple[Words, Counts]:
    import numpy as np

    return np.array(words, dtype=object), letter_counts(words)


def letter_counts(words: Sequence[str]) -> Counts:
    """The letters of each word as bits, one that comes twice as two; other characters share them. No word has a space
    in it.
    """
    import numpy as np

    text = np.frombuffer((" ".join(words) + " ").encode("utf-32-le", "surrogatepass"), np.uint32)
    ends = np.flatnonzero(text == ord(" "))
    starts = np.concatenate(([0], ends[:-1] + 1))
    bits = np.uint64(1) << (text & LAST_BIT).astype(np.uint64)
    once, twice = np.zeros(len(words), np.uint64), np.zeros(len(words), np.uint64)
    for place in range(int((ends - starts).max(initial=0))):
        long = np.flatnonzero(ends - starts > place)
        bit = bits[starts[long] + place]
        twice[long] |= once[long] & bit
        once[long] |= bit
    return once | twice << np.uint64(LAST_BIT + 1)
