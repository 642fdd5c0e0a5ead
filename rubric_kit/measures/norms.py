"""Where a child's sentences stand among published averages by grade: with an interval, and no verdict."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import sqrt

from rubric_kit.measures.syntax import ENOUGH_T_UNITS, SYNTAX, SyntaxCounts, TUnit

STANDARD_ERRORS = 1.96  # either side of the value, for a 95% interval of a mean (normal)


@dataclass(frozen=True, slots=True)
class Norm:
    """One published average: the measure, for which grade, by whom, and whether the figure was seen ("verified") or is
    given from memory.
    """

    measure: str
    grade: int
    value: float
    source: str
    status: str


@dataclass(frozen=True, slots=True)
class Placement:
    """A child's value among the norms.

    margin      half of the 95% interval, from how much the child's own T-units differ
    low_grade   lowest and highest grade whose published averages lie in the interval; None where the interval goes
    high_grade  beyond the norms on that side, or where nothing can be said
    nearest     the norms in the interval; where there are none, the nearest one
    words       the same for a parent
    """

    measure: str
    value: float | None
    margin: float | None
    low_grade: int | None
    high_grade: int | None
    nearest: tuple[Norm, ...]
    words: str


@dataclass(frozen=True, slots=True)
class _Ratio:
    """A measure with norms as a ratio over T-units, so that its standard error can be worked out, and in words."""

    above: Callable[[TUnit], int]
    below: Callable[[TUnit], int]
    phrase: str
    digits: int


NORMED = {
    "words_per_t_unit": _Ratio(
        lambda unit: unit.words, lambda _: 1, "words for each main clause and all it carries", 1
    ),
    "clauses_per_t_unit": _Ratio(lambda unit: unit.clauses, lambda _: 1, "clauses for each main clause, itself too", 2),
    "words_per_clause": _Ratio(lambda unit: unit.words, lambda unit: unit.clauses, "words for each clause", 1),
}


@cache
def norms(measure: str) -> tuple[Norm, ...]:
    """The published averages of one measure, by grade; none for a measure without norms."""
    series = tomllib.loads((files("rubric_kit.measures") / "data" / "norms.toml").read_text("utf-8"))["series"]
    found = (
        Norm(measure, grade, value, row["source"], row["status"])
        for row in series
        if row["measure"] == measure
        for grade, value in row["points"]
    )
    return tuple(sorted(found, key=lambda norm: (norm.grade, norm.source)))


def standard_error(above: Sequence[int], below: Sequence[int]) -> float:
    """Standard error of sum(above) / sum(below) over T-units (Cochran 1977, Sampling Techniques, 3rd ed., 2.11); with
    ``below`` all 1, that of a mean. Needs two T-units.
    """
    n = len(above)
    ratio = sum(above) / sum(below)
    spread = sum((a - ratio * b) ** 2 for a, b in zip(above, below, strict=True)) / (n - 1)
    return sqrt(spread / n) / (sum(below) / n)


def place(measure: str, counts: SyntaxCounts, grade: int | None = None) -> Placement:
    """Place one of the measures in NORMED among its norms (KeyError for another); ``grade`` is the child's own, for the
    words only. A text of fewer than five T-units is not placed.
    """
    ratio = NORMED[measure]
    if counts.t_units < ENOUGH_T_UNITS:
        reason = f"Too short to compare: it wants {ENOUGH_T_UNITS} main clauses, and has {counts.t_units}."
        return Placement(measure, None, None, None, None, (), reason)
    value = SYNTAX[measure].function(counts)
    above = [ratio.above(unit) for unit in counts.units]
    below = [ratio.below(unit) for unit in counts.units]
    margin = STANDARD_ERRORS * standard_error(above, below)
    low, high = value - margin, value + margin
    known = norms(measure)
    inside = tuple(norm for norm in known if low <= norm.value <= high)
    nearest = inside or (min(known, key=lambda norm: abs(norm.value - value)),)
    low_grade = None if low < min(norm.value for norm in known) else min(norm.grade for norm in nearest)
    high_grade = None if high > max(norm.value for norm in known) else max(norm.grade for norm in nearest)
    words = _words(ratio, value, margin, nearest, low_grade, high_grade, grade)
    return Placement(measure, value, margin, low_grade, high_grade, nearest, words)


def _words(
    ratio: _Ratio,
    value: float,
    margin: float,
    nearest: tuple[Norm, ...],
    low_grade: int | None,
    high_grade: int | None,
    grade: int | None,
) -> str:
    parts = [f"{value:.{ratio.digits}f} {ratio.phrase}, give or take {margin:.{ratio.digits}f}."]
    parts.append(f"Published averages like that come from {_grades(nearest, low_grade, high_grade)}.")
    own = [norm for norm in norms(nearest[0].measure) if norm.grade == grade]
    if own:
        averages = ", ".join(f"{norm.value:.{ratio.digits}f} ({norm.source})" for norm in own)
        parts.append(f"For grade {grade} they are {averages}.")
    parts.append("Kinds of writing differ, and so do children of one grade: this says where, not how good.")
    return " ".join(parts)


def _grades(nearest: tuple[Norm, ...], low_grade: int | None, high_grade: int | None) -> str:
    lowest, highest = min(norm.grade for norm in nearest), max(norm.grade for norm in nearest)
    span = f"grade {lowest}" if lowest == highest else f"grades {lowest} to {highest}"
    if low_grade is None and high_grade is None:
        return f"{span}, and it may be lower or higher than any of them"
    if low_grade is None:
        return f"{span} or below"
    if high_grade is None:
        return f"{span} or above"
    return span
