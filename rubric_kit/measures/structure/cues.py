"""Hint phrases (data/cues.toml) and where they stand in a sentence."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from itertools import chain
from typing import NamedTuple

# What a child may put before the phrase itself: "So, in conclusion", "But for example", an opening quotation mark.
OPENING = r"^[\s\"'(*-]*(?:(?:and|but|so|well|now|okay|ok|yes)\b,?\s+)?"


WORD = re.compile(r"\w+")


class Phrases(NamedTuple):
    """A list of phrases as one pattern.

    keys  the longest word of each: a sentence with none of these words need not be searched
    """

    pattern: re.Pattern[str]
    keys: frozenset[str]


def cues(sentence: str) -> dict[str, bool]:
    """Which kinds of cue are in a sentence (lower-cased, straight apostrophes)."""
    words = set(WORD.findall(sentence))
    return {
        kind: not phrases.keys.isdisjoint(words) and phrases.pattern.search(sentence) is not None
        for kind, phrases in _kinds().items()
    }


def _longest_word(phrase: str) -> str:
    words: list[str] = WORD.findall(phrase)
    return max(words, key=len)


@cache
def _kinds() -> Mapping[str, Phrases]:
    table = tomllib.loads((files("rubric_kit.measures.structure") / "data/cues.toml").read_text("utf-8"))
    return {
        kind: Phrases(re.compile(_alternatives(lists)), frozenset(map(_longest_word, chain(*lists.values()))))
        for kind, lists in table.items()
    }


def _alternatives(lists: Mapping[str, list[str]]) -> str:
    parts = []
    if "start" in lists:
        parts.append(rf"{OPENING}(?:{_longest_first(lists['start'])})\b")
    if "anywhere" in lists:
        parts.append(rf"\b(?:{_longest_first(lists['anywhere'])})\b")
    if "subject" in lists:
        parts.append(rf"\b(?:{_longest_first(lists['subject'])})(?: \w+)? (?:{_longest_first(lists['verb'])})\b")
    return "|".join(parts)


def _longest_first(phrases: list[str]) -> str:
    return "|".join(re.escape(p) for p in sorted(phrases, key=len, reverse=True))
