"""A readability value read as a US school grade, by the table of its own source, and what the formulas agree on."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from statistics import median
from typing import Any

from rubric_kit.measures.catalogue import Result

COLLEGE, AFTER_COLLEGE = 13, 17
WIDE = 4.0  # grades; formulas made on different pupils and texts commonly lie two or three apart


@dataclass(frozen=True, slots=True)
class GradeReading:
    """The grades that a value stands for; low and high are the same where the value itself is a grade."""

    low: float
    high: float
    words: str

    @property
    def middle(self) -> float:
        return (self.low + self.high) / 2


@dataclass(frozen=True, slots=True)
class Consensus:
    """What the formulas say together.

    grade    the median of their grades, None when no formula has a value
    low      the lowest grade among them
    high     the highest
    members  the grade by each formula that joined
    note     why it is only indicative, or ""
    """

    grade: float | None
    low: float | None
    high: float | None
    members: Mapping[str, float]
    note: str


def school_grade(name: str, value: float) -> GradeReading | None:
    """Read a formula's value as a grade; None where its source gives none. KeyError for a name not in the table."""
    table = _tables()[name]
    if table["kind"] == "none":
        return None
    if table["kind"] == "grade":
        return GradeReading(value, value, _in_words(value, value))
    low, high = next(
        (low, high)
        for number, low, high in table["rows"]
        if (value >= number if table["kind"] == "at least" else value <= number)
    )
    return GradeReading(low, high, _in_words(low, high))


def consensus(results: Mapping[str, Result]) -> Consensus:
    """The median grade and the spread of the formulas that are read as grades (``readability`` gives the results)."""
    members = {}
    indicative = []
    for name, table in _tables().items():
        result = results.get(name)
        if result is None or result.value is None or "not_in_consensus" in table:
            continue
        reading = school_grade(name, result.value)
        if reading:
            members[name] = reading.middle
            indicative += [name] if result.note else []
    if not members:
        return Consensus(None, None, None, {}, "no formula could be worked out")
    low, high = min(members.values()), max(members.values())
    notes = []
    if indicative:
        notes.append(f"the text is shorter than {len(indicative)} of {len(members)} formulas want")
    if high - low > WIDE:
        notes.append(f"the formulas lie {high - low:.0f} grades apart")
    return Consensus(median(members.values()), low, high, members, "indicative: " + "; ".join(notes) if notes else "")


@cache
def _tables() -> dict[str, dict[str, Any]]:
    return tomllib.loads((files("rubric_kit.measures") / "data" / "school_grades.toml").read_text("utf-8"))


def _in_words(low: float, high: float) -> str:
    if low >= AFTER_COLLEGE:
        return "beyond college"
    if low >= COLLEGE:
        return "college"
    if round(high) < 1:
        return "kindergarten or below"
    if low == high:
        return f"grade {low:.0f}"
    return f"grades {low:.0f} to {high:.0f}"
