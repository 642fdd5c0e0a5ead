"""The words that are no mistakes, and those worth suggesting with how they sound."""

from __future__ import annotations

import gzip
from functools import cache
from importlib.resources import files


@cache
def suggested() -> dict[str, tuple[int, tuple[str, ...], tuple[str, ...]]]:
    """Word (as it is capitalised) to SCOWL size (10 commonest to 60), pronunciations, sound keys."""
    table = {}
    for line in _lines("words.txt.gz"):
        word, size, sounds, keys = line.split("\t")
        table[word] = int(size), tuple(sounds.split()), tuple(keys.split())
    return table


@cache
def common() -> frozenset[str]:
    """The suggested words that are written small."""
    return frozenset(word for word in suggested() if word[0].islower())


@cache
def rare() -> frozenset[str]:
    """Words too rare to suggest, each checked to be no likely slip of a commoner one."""
    return frozenset(_lines("known.txt.gz"))


@cache
def names() -> frozenset[str]:
    """Names, surnames and abbreviations, in small letters."""
    return frozenset(word.lower() for word in (*_lines("names.txt.gz"), *suggested()) if word[0].isupper())


def _lines(name: str) -> list[str]:
    text = gzip.decompress((files(__package__) / "data" / name).read_bytes()).decode()
    return [line for line in text.splitlines() if not line.startswith("#")]
