"""The words that are no mistakes, and those worth suggesting with how they sound."""

from __future__ import annotations

import gzip
from bisect import bisect_left
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from rubric_kit.measures.frequency import zipf_of_words

UNLISTED = 2.0  # Zipf for words rarer than the frequency list's last (3.0): halfway to the rarest word we suggest


@dataclass(frozen=True, slots=True)
class Suggested:
    """Words worth suggesting, shortest first; the columns run side by side, as tuples, which Python's search for
    garbage does not go through.

    words   as they are capitalised ("school", "Wednesday")
    small   the same in small letters
    sizes   SCOWL's word list size: 10 for the commonest words, to 60
    sounds  one or two pronunciations, in the codes of sounds.py, with / between
    keys    sound keys
    place   word to its place in the lists
    first   length to the place of the first word of that length or longer
    """

    words: tuple[str, ...]
    small: tuple[str, ...]
    sizes: tuple[str, ...]
    sounds: tuple[str, ...]
    keys: tuple[str, ...]
    place: dict[str, int]
    first: list[int]


@cache
def suggested() -> Suggested:
    lines = list_body("words.txt.gz").split("\n")
    words, sizes, sounds, keys = (tuple(line.split(" ")) for line in lines)
    small = tuple(lines[0].lower().split(" "))
    first = [bisect_left(words, length, key=len) for length in range(len(words[-1]) + 2)]
    return Suggested(words, small, sizes, sounds, keys, dict(zip(words, range(len(words)), strict=True)), first)


def is_rare(word: str) -> bool:
    """Is this one of the words too rare to suggest? Each was checked to be no likely slip of a commoner one."""
    return _is_line_of(_rare(), word)


def is_listed_name(word: str) -> bool:
    """Is this, in small letters, a name, surname or abbreviation?"""
    return _is_line_of(_names(), word)


@cache
def _rare() -> str:
    return list_body("known.txt.gz")


@cache
def _names() -> str:
    return list_body("names.txt.gz")


def _is_line_of(text: str, word: str) -> bool:
    """Search lines in order of their characters, unsplit: a set or a list of them would take longer to build."""
    low, high = 0, len(text)
    while low < high:
        middle = (low + high) // 2
        start = max(text.rfind("\n", low, middle) + 1, low)
        end = text.find("\n", middle)
        end = end if end >= 0 else len(text)
        line = text[start:end]
        if line == word:
            return True
        if line < word:
            low = end + 1
        else:
            high = start
    return False


def is_common(word: str) -> bool:
    """Is this a word worth suggesting that is written small?"""
    return word in suggested().place and word[0].islower()


def commonness(word: str) -> float:
    """Zipf value: 7 is "the", 5 is "school", 3 is "wizards", 2 stands for anything rarer."""
    return zipf_of_words().get(word.lower(), UNLISTED)


def list_body(name: str) -> str:
    """The text of a list below its header of # lines."""
    text = gzip.decompress((files(__package__) / "data" / name).read_bytes()).decode()
    start = 0
    while text.startswith("#", start):
        start = text.index("\n", start) + 1
    return text[start:].rstrip("\n")
