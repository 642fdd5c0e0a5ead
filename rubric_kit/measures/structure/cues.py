"""Hint phrases (data/cues.toml) and where they stand in a sentence."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

# What a child may put before the phrase itself: "So, in conclusion", "But for example", an opening quotation mark.
OPENING = r"^[\s\"'(*-]*(?:(?:and|but|so|well|now|okay|ok|yes)\b,?\s+)?"


@cache
def patterns() -> Mapping[str, re.Pattern[str]]:
    """One pattern for each kind of cue, over lower-cased text with straight apostrophes."""
    table = tomllib.loads((files("rubric_kit.measures.structure") / "data/cues.toml").read_text("utf-8"))
    return {kind: re.compile(_alternatives(lists)) for kind, lists in table.items()}


def cue(kind: str, sentence: str) -> re.Match[str] | None:
    """The first phrase of that kind in a sentence (lower-cased, straight apostrophes), or None."""
    return patterns()[kind].search(sentence)


def _alternatives(lists: Mapping[str, list[str]]) -> str:
    parts = []
    if "start" in lists:
        parts.append(rf"{OPENING}(?:{_longest_first(lists['start'])})\b")
    if "anywhere" in lists:
        parts.append(rf"\b(?:{_longest_first(lists['anywhere'])})\b")
    return "|".join(parts)


def _longest_first(phrases: list[str]) -> str:
    return "|".join(re.escape(p) for p in sorted(phrases, key=len, reverse=True))
