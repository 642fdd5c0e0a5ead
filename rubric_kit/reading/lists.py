"""The word lists of this package, read from its data files at first use."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

DATA = files("rubric_kit.reading") / "data"


def _lines(file: str) -> list[str]:
    """The lines of a data file that are no comment."""
    return [line for line in (DATA / file).read_text("utf-8").splitlines() if not line.startswith("#")]


@cache
def word_list(name: str) -> frozenset[str]:
    """The lower-case words of ``data/<name>.txt``, separated by white space."""
    return frozenset(" ".join(_lines(f"{name}.txt")).lower().split())


@cache
def abbreviations() -> dict[str, str]:
    """Abbreviation without its last period -> how it may end a sentence; an entry with a capital needs that capital."""
    return dict(line.split("\t") for line in _lines("abbreviations.tsv") if line)
