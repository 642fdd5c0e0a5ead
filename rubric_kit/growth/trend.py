"""One line through a year of pieces, and whether it says more than chance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import combinations
from math import fsum, hypot, isfinite, sqrt
from statistics import fmean, median
from typing import Literal

from rubric_kit.errors import RubricKitError
from rubric_kit.growth.kendall import EXACT_UP_TO, LEVEL, critical, mann_kendall, smallest_p, ties

DAYS_A_MONTH = 30.44  # 365.25 / 12, rounded

Direction = Literal["rising", "falling", "steady", "too few to say"]


class UnusableSeriesError(RubricKitError, ValueError):
    """Dates and values that no trend can be drawn through: not one value a date, or a value that is no number."""


@dataclass(frozen=True, slots=True)
class Trend:
    """The trend of one series. Where nothing can be said, ``why_not`` says why and every figure is None.

    n         pieces
    first     date of the first piece; None without pieces
    last      date of the last piece
    middle    mean date
    slope     change a month (30.44 days), the median of the slopes of all pairs (Theil 1950; Sen 1968, JASA 63)
    interval  95% for the slope: the slopes that the test below would not reject; None where there is none,
              as where all values are the same
    start     the line's value at ``first``: the median of what the slope leaves
    scatter   standard deviation of the pieces around the line, with n - 2
    s         Mann-Kendall: rising pairs minus falling pairs
    tau       Kendall's tau-b; None where all values are the same
    p         two-sided chance of such an s without any change
    exact     whether p was counted over all orders (up to ten pieces) or taken from a normal curve
    among     trends that were looked at together with this one, itself too (``many.together``)
    p_of_many p after Holm's adjustment for that; None where it is looked at alone
    """

    n: int
    first: date | None = None
    last: date | None = None
    middle: date | None = None
    slope: float | None = None
    interval: tuple[float, float] | None = None
    start: float | None = None
    scatter: float | None = None
    s: int | None = None
    tau: float | None = None
    p: float | None = None
    exact: bool = True
    among: int = 1
    p_of_many: float | None = None
    why_not: str = ""

    @property
    def direction(self) -> Direction:
        """Which way the line goes, beyond chance or not."""
        if self.slope is None:
            return "too few to say"
        return "rising" if self.slope > 0 else "falling" if self.slope < 0 else "steady"

    @property
    def beyond_chance(self) -> bool:
        """Whether p is at most 0.05, after adjustment where there was one, and a line that is not level."""
        p = self.p if self.p_of_many is None else self.p_of_many
        return p is not None and p <= LEVEL and bool(self.slope)

    def at(self, day: date) -> float | None:
        """The line's value on a day; it may leave the scale. None where there is no line."""
        if self.slope is None or self.start is None or self.first is None:
            return None
        return self.start + self.slope * (day - self.first).days / DAYS_A_MONTH

    def band(self, day: date) -> tuple[float, float] | None:
        """About 95% limits for the line itself on a day (not for single pieces), for drawing; None without a line or an
        interval.

        As for a straight line by least squares, var = scatter^2 / n + var(slope) x (distance from the mean date)^2,
        with the interval's ends for the slope; tests/growth/simulate.py says how often it holds the true line.
        """
        line = self.at(day)
        if line is None or self.interval is None or self.middle is None or self.scatter is None or self.slope is None:
            return None
        from scipy.special import stdtrit  # Student's t

        level = float(stdtrit(self.n - 2, 1 - LEVEL / 2)) * self.scatter / sqrt(self.n)
        away = (day - self.middle).days / DAYS_A_MONTH
        ends = sorted((end - self.slope) * away for end in self.interval)
        return line - hypot(level, ends[0]), line + hypot(level, ends[1])


def trend(dates: Sequence[date], values: Sequence[float]) -> Trend:
    """The trend of values on dates, in any order.

    Fewer pieces on different days than could ever differ from chance (five, if no two share a day) give a Trend that
    says so. Raises UnusableSeriesError (a ValueError) for lists of different lengths and values that are not finite.
    """
    if len(dates) != len(values):
        raise UnusableSeriesError(
            f"there are {len(dates)} dates and {len(values)} values: give one value for each date"
        )
    odd = [day for day, value in zip(dates, values, strict=True) if not isfinite(value)]
    if odd:
        raise UnusableSeriesError(
            f"the value of {odd[0].isoformat()} is not a number: leave that piece out, or mark it"
        )
    days = [day.toordinal() for day in dates]
    n = len(days)
    first, last = min(dates, default=None), max(dates, default=None)
    if smallest_p(ties(days)) > LEVEL:
        return Trend(n, first, last, why_not=_too_few(n, len(set(days))))
    months = [(day - min(days)) / DAYS_A_MONTH for day in days]
    slopes = _slopes(months, values)
    slope = median(slopes)
    left = [value - slope * month for month, value in zip(months, values, strict=True)]
    start = median(left)
    test = mann_kendall(days, values)
    return Trend(
        n,
        first,
        last,
        middle=date.fromordinal(round(fmean(days))),
        slope=slope,
        interval=_interval(slopes, days) if len(set(values)) > 1 else None,
        start=start,
        scatter=sqrt(fsum((value - start) ** 2 for value in left) / (n - 2)),
        s=test.s,
        tau=test.tau,
        p=test.p,
        exact=test.exact,
    )


def _slopes(months: Sequence[float], values: Sequence[float]) -> list[float]:
    """The slopes of all pairs of pieces on different days, the smallest first."""
    pairs = combinations(sorted(zip(months, values, strict=True)), 2)
    return sorted((b - a) / (later - earlier) for (earlier, a), (later, b) in pairs if later > earlier)


def _interval(slopes: Sequence[float], days: Sequence[int]) -> tuple[float, float] | None:
    """Sen 1968: the slopes which, taken away, leave an s that the test does not reject. Values are taken as different:
    once a slope is taken away they are, and it makes the interval wider where levels come in steps.
    """
    rejected = critical(ties(days))
    if rejected is None:
        return None
    out = (len(slopes) - rejected) // 2  # so many of the smallest slopes lie below it, and of the largest above
    return slopes[out], slopes[-1 - out]


def _too_few(n: int, days: int) -> str:
    have = f"there {'is' if n == 1 else 'are'} {n} piece{'s' * (n != 1)}" + (
        f" on {days} day{'s' * (days != 1)}" if days != n else ""
    )
    return f"Fewer than {fewest()} pieces on different days cannot differ from chance; {have}."


def fewest() -> int:
    """The smallest number of pieces on different days that can differ from chance at all."""
    return next(n for n in range(1, EXACT_UP_TO) if smallest_p((1,) * n) <= LEVEL)
