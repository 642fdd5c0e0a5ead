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
    """A list of phrases as patterns.

    keys     the longest word of each: a sentence with none of these words need not be searched
    opening  those that count at the beginning of a sentence only; inside: those that count anywhere
    """

    keys: frozenset[str]
    opening: re.Pattern[str] | None
    inside: re.Pattern[str] | None

    def are_in(self, sentence: str, words: set[str]) -> bool:
        if self.keys.isdisjoint(words):
            return False
        opens = self.opening is not None and self.opening.match(sentence) is not None
        return opens or (self.inside is not None and self.inside.search(sentence) is not None)


def cues(sentence: str) -> dict[str, bool]:
    """Which kinds of cue are in a sentence (lower-cased, straight apostrophes)."""
    words = set(WORD.findall(sentence))
    return {kind: phrases.are_in(sentence, words) for kind, phrases in _kinds().items()}


def _longest_word(phrase: str) -> str:
    words: list[str] = WORD.findall(phrase)
    return max(words, key=len)


@cache
def _kinds() -> Mapping[str, Phrases]:
    table = tomllib.loads((files("rubric_kit.measures.structure") / "data/cues.toml").read_text("utf-8"))
    return {
        kind: Phrases(frozenset(map(_longest_word, chain(*lists.values()))), _opening(lists), _inside(lists))
        for kind, lists in table.items()
    }


def _opening(lists: Mapping[str, list[str]]) -> re.Pattern[str] | None:
    return re.compile(rf"{OPENING}(?:{_either(lists['start'])})\b") if "start" in lists else None


def _inside(lists: Mapping[str, list[str]]) -> re.Pattern[str] | None:
    parts = []
    if "anywhere" in lists:
        parts.append(rf"\b(?:{_either(lists['anywhere'])})\b")
    if "subject" in lists:
        parts.append(rf"\b(?:{_either(lists['subject'])})(?: \w+)? (?:{_either(lists['verb'])})\b")
    return re.compile("|".join(parts)) if parts else None


def _either(phrases: list[str]) -> str:
    return "|".join(map(re.escape, phrases))
