"""Easily confused words: right spellings of the wrong word."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

DATA = files("rubric_kit.measures.mechanics") / "data"


@cache
def confusion_sets() -> dict[str, dict[str, str]]:
    """Set name ("their/there/they're") to its words, each with its meaning."""
    rows = tomllib.loads((DATA / "confusion_sets.toml").read_text("utf-8"))["set"]
    return {"/".join(words): words for words in rows}
