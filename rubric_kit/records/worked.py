"""A grade with its explanation, and the exact arithmetic behind both.

Grades are worked out in fractions and rounded once: half up, to one decimal, where a figure is shown or turned into a
letter. So 89.95 is 90.0, and no grade depends on how a computer keeps 0.1.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor, isfinite

from rubric_kit.errors import RecordsError
from rubric_kit.scoring.exact import DECIMALS, as_written, rounded

DIGITS = 3  # decimals of a figure inside a sum; a longer one is cut, with "…" after it
WHOLE = Fraction(100)

Letters = Sequence[tuple[str, float]]


@dataclass(frozen=True, slots=True)
class Worked:
    """One step of an explanation: the words with the arithmetic written out, what it gave, and what it was made of.

    value  out of 100 and exact; none where the step has no figure of its own, such as a quoted sentence
    """

    text: str
    value: Fraction | None = None
    parts: tuple[Worked, ...] = ()


@dataclass(frozen=True, slots=True)
class Missing:
    """Work that is past its date: whose, which task, and what is not there. It counts nowhere until it is decided."""

    student: str
    task: str
    what: str


@dataclass(frozen=True, slots=True)
class Grade:
    """A grade and how it came about.

    kind         "piece", "task", "book", "term" or "year"
    exact        the percent before rounding; none where there is nothing to grade yet
    letter       "" where there is no percent
    provisional  whether a proposed level stands in for the parent's, or something due has no points yet
    pieces       how many graded tasks it rests on
    excused      whether it counts nowhere because the child was let off
    school_year  where it stands in a list of all years, the one that it belongs to
    """

    kind: str
    name: str
    student: str
    exact: Fraction | None
    letter: str
    provisional: bool
    pieces: int
    missing: tuple[Missing, ...]
    worked: Worked
    excused: bool = False
    school_year: str = ""

    @property
    def percent(self) -> float | None:
        """Out of 100, rounded half up to one decimal."""
        return None if self.exact is None else float(rounded(self.exact))


def exact(number: float) -> Fraction:
    """A number as it was written: 0.1 is a tenth.

    Raises RecordsError for one that is not finite.
    """
    if not isfinite(number):
        raise RecordsError(f"A grade cannot be worked out from {number}. Correct the points or weights that hold it.")
    return as_written(number)


def shown(value: Fraction) -> str:
    """A grade as people see it: "84.8"."""
    return f"{float(rounded(value)):.{DECIMALS}f}"


def figure(value: Fraction) -> str:
    """A figure inside a sum: "84.0", "83.125", and where it goes on "83.333…"."""
    cut = Fraction(floor(value * 10**DIGITS), 10**DIGITS)
    digits = f"{float(cut):.{DIGITS}f}"
    least = len(digits) - DIGITS + DECIMALS
    return f"{digits}…" if cut != value else digits[:least] + digits[least:].rstrip("0")


def plain(value: Fraction) -> str:
    """A weight or a number of points: "40", "2.5"."""
    return figure(value).removesuffix(".0")


def result(value: Fraction) -> str:
    """A figure and, where it has more decimals, what it rounds to: "83.125, which rounds to 83.1"."""
    return figure(value) if value == rounded(value) else f"{figure(value)}, which rounds to {shown(value)}"


def mean(parts: Sequence[tuple[Fraction, Fraction]]) -> tuple[Fraction, str]:
    """The weighted mean of (weight, value) pairs, and its arithmetic in writing.

    The weights are above 0 in sum. Equal weights are written as a plain mean: "(80.0 + 90.0) / 2 = 85.0".
    """
    total = sum((weight for weight, _ in parts), Fraction(0))
    value = sum((weight * each for weight, each in parts), Fraction(0)) / total
    if len(parts) == 1:
        return value, result(value)
    if len({weight for weight, _ in parts}) == 1:
        terms, by = " + ".join(figure(each) for _, each in parts), str(len(parts))
    else:
        terms, by = " + ".join(f"{plain(weight)} x {figure(each)}" for weight, each in parts), plain(total)
    return value, f"({terms}) / {by} = {result(value)}"


def letter_for(letters: Letters, value: Fraction) -> str:
    """The letter for a percent as it is shown. ``letters``: (letter, least percent), falling; the last has no floor."""
    return next((letter for letter, least in letters if rounded(value) >= exact(least)), letters[-1][0])
