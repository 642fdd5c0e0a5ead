"""The words that are no mistakes, and those worth suggesting with how they sound."""

from __future__ import annotations

import gzip
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from rubric_kit.measures.frequency import zipf_of_words

UNLISTED = 2.0  # Zipf for words rarer than the frequency list's last (3.0): halfway to the rarest word we suggest


@dataclass(frozen=True, slots=True)
class Suggested:
    """Words worth suggesting, shortest first; the lists run side by side.

    words   as they are capitalised ("school", "Wednesday")
    small   the same in small letters
    sizes   SCOWL's word list size: 10 for the commonest words, to 60
    sounds  one or two pronunciations, in the codes of sounds.py, with / between
    keys    sound keys
    place   word to its place in the lists
    first   length to the place of the first word of that length or longer
    """

    words: list[str]
    small: list[str]
    sizes: list[int]
    sounds: list[str]
    keys: list[str]
    place: dict[str, int]
    first: list[int]


@cache
def suggested() -> Suggested:
    words, sizes, sounds, keys = _lines("words.txt.gz")
    listed = words.split(" ")
    longest = len(listed[-1])
    first = [0] * (longest + 2)
    lengths = list(map(len, listed))
    for length in range(1, longest + 2):
        first[length] = first[length - 1] + lengths.count(length - 1)
    place = dict(zip(listed, range(len(listed)), strict=True))
    sized = list(map(int, sizes.split(" ")))
    return Suggested(listed, words.lower().split(" "), sized, sounds.split(" "), keys.split(" "), place, first)


@cache
def rare() -> frozenset[str]:
    """Words too rare to suggest, each checked to be no likely slip of a commoner one."""
    return frozenset(_lines("known.txt.gz"))


@cache
def names() -> frozenset[str]:
    """Names, surnames and abbreviations, in small letters."""
    listed = (word.lower() for word in suggested().words if word[0].isupper())
    return frozenset(map(str.lower, _lines("names.txt.gz"))).union(listed)


def is_common(word: str) -> bool:
    """Is this a word worth suggesting that is written small?"""
    return word in suggested().place and word[0].islower()


def commonness(word: str) -> float:
    """Zipf value: 7 is "the", 5 is "school", 3 is "wizards", 2 stands for anything rarer."""
    return zipf_of_words().get(word.lower(), UNLISTED)


def _lines(name: str) -> list[str]:
    text = gzip.decompress((files(__package__) / "data" / name).read_bytes()).decode()
    return [line for line in text.splitlines() if not line.startswith("#")]
