"""The words that stand beside found things, from data/labels.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from rubric_kit.measures.found import Found
from rubric_kit.showing.inert import short

LONGEST = 30  # characters of a label; a suggestion can be a whole clause


@dataclass(frozen=True, slots=True)
class Label:
    """A row of the table: see the head of data/labels.toml. ``rank`` is the row's place in it."""

    label: str
    family: str
    whole: bool
    about: str
    rank: int
    heading: str = ""

    def words(self, found: Found) -> str:
        """The label for one found thing; without a suggestion only the part before the colon."""
        better = f"{found.suggestions[0]}?" if found.suggestions else ""
        words = self.label.format(kind=found.kind, better=better)
        return short(words.removesuffix(": "), LONGEST)

    @property
    def plain(self) -> str:
        """The label for the key, without what changes from one found thing to the next."""
        return self.heading if self.label.startswith("{") else self.label.partition(":")[0]


def labels(part: str) -> Mapping[str, Label]:
    """The labels for "structure" or "mechanics", by the name of the field they are found in."""
    return _labels()[part]


def formula_name(measure: str) -> str:
    return str(_table()["readability"].get(measure, measure.replace("_", " ")))


@cache
def _labels() -> dict[str, dict[str, Label]]:
    table = _table()
    rank = {name: i for i, name in enumerate([*table["structure"], *table["mechanics"]])}
    return {
        part: {name: Label(rank=rank[name], **row) for name, row in table[part].items()}
        for part in ("structure", "mechanics")
    }


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads((files("rubric_kit.showing") / "data" / "labels.toml").read_text("utf-8"))
