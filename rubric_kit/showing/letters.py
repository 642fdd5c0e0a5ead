"""Text for paper: what no font of the PDF can draw becomes its name in brackets, so that nothing is lost."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from typing import Any

# Of an emoji joined from several, and what only colours or turns the one before it.
UNNAMED = re.compile("[\u200d\ufe00-\ufe0f\U0001f3fb-\U0001f3ff]")


def drawable(value: Any) -> Any:
    """Every text in plain data as the PDF's fonts can draw it: the picture of an owl becomes "[owl]"."""
    if isinstance(value, str):
        return value if value.isascii() else _drawable(value)
    if isinstance(value, Mapping):
        return {key: drawable(each) for key, each in value.items()}
    if isinstance(value, Sequence):
        return [drawable(each) for each in value]
    return value


def _drawable(text: str) -> str:
    known = _letters()
    return "".join(c if ord(c) in known or c.isspace() else _named(c) for c in text)


def _named(character: str) -> str:
    if UNNAMED.match(character):
        return ""
    name = unicodedata.name(character, f"character {ord(character):x}")
    return f"[{name.lower()}]"


@cache
def _letters() -> frozenset[int]:
    """data/pdf_letters.txt"""
    lines = (files("rubric_kit.showing") / "data" / "pdf_letters.txt").read_text("utf-8").splitlines()
    ends = [[int(end, 16) for end in line.split("-")] for line in lines if not line.startswith("#")]
    return frozenset(code for first, *last in ends for code in range(first, (last[0] if last else first) + 1))
