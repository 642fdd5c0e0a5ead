"""Whether two marks differ by more than the marker's own unsteadiness."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import inf, isfinite, sqrt
from statistics import NormalDist, fmean, variance

from rubric_kit.growth.trend import Trend, UnusableSeriesError, trend
from rubric_kit.scoring.agreement import INTERVAL, Interval, agreement

CERTAINTY = NormalDist().inv_cdf((1 + INTERVAL) / 2)  # 1.96 standard errors: nineteen of twenty steady pairs are nearer
ALL_ON_ONE_SIDE = 6  # pieces: the sign test's p is 2 / 2^6 = 0.03, and with five still 0.06


@dataclass(frozen=True, slots=True)
class Change:
    """The change from one mark to another, beside the error of both.

    change    after - before
    error     standard error of a difference, sqrt(2) x SEM
    index     change / error: the reliable change index
    smallest  the smallest reliable change, 1.96 x error
    """

    change: float
    error: float
    index: float
    smallest: float

    @property
    def reliable(self) -> bool:
        return abs(self.index) > CERTAINTY


@dataclass(frozen=True, slots=True)
class ReaderError:
    """A reader's standard error of measurement, from pieces marked twice.

    value     in the unit of the marks; None with fewer than two pairs
    interval  95%; None also where all pairs differ alike, which shows no error and no limit to it
    n         pairs
    """

    value: float | None
    interval: Interval | None
    n: int


@dataclass(frozen=True, slots=True)
class Drift:
    """How second marks of the same pieces differ from first ones.

    mean      mean of second minus first; None without pairs
    interval  95% by Student's t; None with fewer than five pairs or where all differ alike
    trend     of the differences, by the date of the second marking
    """

    mean: float | None
    interval: Interval | None
    trend: Trend

    @property
    def beyond_chance(self) -> bool:
        """Whether the interval leaves out 0; where all pieces differ alike, whether six or more do."""
        if self.interval is None:
            return bool(self.mean) and self.trend.n >= ALL_ON_ONE_SIDE
        return not self.interval[0] <= 0 <= self.interval[1]


def reliable_change(before: float, after: float, error: float) -> Change:
    """Jacobson & Truax 1991 (Journal of Consulting and Clinical Psychology 59(1)): (after - before) / (sqrt(2) x SEM),
    reliable beyond 1.96. ``error`` is the SEM. Raises UnusableSeriesError for an error that is not above 0, or values
    that are not finite.
    """
    if not all(map(isfinite, (before, after, error))) or error <= 0:
        raise UnusableSeriesError(
            f"a change from {before} to {after} with an error of {error} cannot be judged: "
            "all three must be numbers, and the error above 0"
        )
    of_difference = sqrt(2) * error
    return Change(after - before, of_difference, (after - before) / of_difference, CERTAINTY * of_difference)


def sem(sd: float, reliability: float) -> float:
    """Standard error of measurement, sd x sqrt(1 - reliability). Raises UnusableSeriesError for an sd below 0 or a
    reliability outside 0 to 1.
    """
    if not (0 <= sd < inf and 0 <= reliability <= 1):
        raise UnusableSeriesError(
            f"an sd of {sd} with a reliability of {reliability}: the sd must be 0 or more, the reliability 0 to 1"
        )
    return sd * sqrt(1 - reliability)


def sem_from_pairs(first: Sequence[float], second: Sequence[float]) -> ReaderError:
    """SEM = standard deviation of the differences / sqrt(2), so that a shift alike in all pairs is no error.

    Raises UnusableSeriesError for lists of different lengths or values that are not finite.
    """
    differences = _differences(first, second)
    if len(differences) < 2:
        return ReaderError(None, None, len(differences))
    return reader_error(variance(differences), len(differences) - 1, len(differences))


def reader_error(spread: float, freedom: int, n: int) -> ReaderError:
    """From the variance of differences; interval by chi-square with ``freedom`` degrees: freedom x spread / chi-square
    holds the true variance.
    """
    if spread <= 0:
        return ReaderError(0.0, None, n)
    from scipy.special import chdtri  # inverse of the upper tail of chi-square

    ends = [sqrt(freedom * spread / float(chdtri(freedom, (1 + side * INTERVAL) / 2)) / 2) for side in (-1, 1)]
    return ReaderError(sqrt(spread / 2), (min(ends), max(ends)), n)


def drift(dates: Sequence[date], differences: Sequence[float]) -> Drift:
    """Whether a reader marks old pieces higher or lower the second time, and whether that grows; one difference (second
    minus first) a piece. Raises UnusableSeriesError as ``trend`` does.
    """
    over_time = trend(dates, differences)
    interval = agreement(differences, [0.0] * len(differences)).mean_difference_interval
    return Drift(fmean(differences) if differences else None, interval, over_time)


def _differences(first: Sequence[float], second: Sequence[float]) -> list[float]:
    if len(first) != len(second):
        raise UnusableSeriesError(f"there are {len(first)} first marks and {len(second)} second ones: they go in pairs")
    if not all(map(isfinite, (*first, *second))):
        raise UnusableSeriesError("a mark is not a number: leave that pair out")
    return [b - a for a, b in zip(first, second, strict=True)]
