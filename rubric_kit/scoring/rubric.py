"""A rubric: criteria with weights and descriptors, what is expected at each grade, and what a level is worth."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from rubric_kit.scoring.exact import as_written, rounded

LEVELS = (1, 2, 3, 4)
LEVEL_NAMES = {1: "beginning", 2: "approaching", 3: "at grade", 4: "exemplary"}
GRADES = range(3, 10)


@dataclass(frozen=True, slots=True)
class LookFor:
    """One measure that informs a criterion.

    expected  for some grades, the measure's value at levels 1, 2, 3 and 4 (all rising or all falling)
    """

    measure: str
    weight: float
    expected: Mapping[int, tuple[float, float, float, float]]

    def at_grade(self, grade: int) -> tuple[float, ...]:
        """The values at levels 1 to 4 for a grade, in proportion between the grades that the rubric names."""
        known = sorted(self.expected)
        above = min(max(bisect_right(known, grade), 1), len(known) - 1) if len(known) > 1 else 0
        low, high = known[above - 1] if above else known[0], known[above]
        if low == high:
            return self.expected[low]
        part = (grade - low) / (high - low)
        pairs = zip(self.expected[low], self.expected[high], strict=True)
        return tuple(at_low + part * (at_high - at_low) for at_low, at_high in pairs)

    def level(self, value: float, grade: int) -> float:
        """The level (1.0 to 4.0) that a value of the measure speaks for."""
        return level_of(value, self.at_grade(grade))


@dataclass(frozen=True, slots=True)
class Criterion:
    """One line of the rubric; ``key`` is its name in the file, ``weight`` its share of 100."""

    key: str
    name: str
    weight: float
    descriptors: Mapping[int, str]
    not_judged: str
    look_for: tuple[LookFor, ...]


@dataclass(frozen=True, slots=True)
class Rubric:
    """A rubric as read from its file.

    paragraphs  fewest and most paragraphs that the form asks for
    percent     what each level is worth out of 100
    letters     (least percent, letter), highest first
    """

    name: str
    form: str
    version: int
    default_grade: int
    paragraphs: tuple[int, int]
    percent: Mapping[int, float]
    letters: tuple[tuple[float, str], ...]
    criteria: tuple[Criterion, ...]
    source: str

    def percent_for(self, levels: Mapping[str, int]) -> float:
        """The weighted mean of what the levels (by criterion key) are worth, to one decimal, half up."""
        pairs = [(as_written(c.weight), as_written(self.percent[levels[c.key]])) for c in self.criteria]
        total = sum(weight * worth for weight, worth in pairs) / sum(weight for weight, _ in pairs)
        return float(rounded(Fraction(total)))

    def letter_for(self, percent: float) -> str:
        """The letter for a percent; the lowest letter has no floor."""
        return next((letter for least, letter in self.letters if percent >= least), self.letters[-1][1])


def level_of(value: float, expected: tuple[float, ...]) -> float:
    """Where a value stands on the line through the values at levels 1 to 4: 1.0 to 4.0."""
    if expected[0] > expected[-1]:
        value, expected = -value, tuple(-e for e in expected)
    if value <= expected[0]:
        return 1.0
    for level, (low, high) in enumerate(pairwise(expected), start=1):
        if value < high:
            return level + (value - low) / (high - low)
    return 4.0
