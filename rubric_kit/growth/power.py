"""How many more pieces until a change like this one would likely show."""

from __future__ import annotations

from math import comb, sqrt
from statistics import NormalDist

from rubric_kit.growth.kendall import LEVEL, critical, variance
from rubric_kit.growth.trend import DAYS_A_MONTH, Trend

LIKELY = 0.8  # Cohen 1988: power enough for planning
MOST = 40  # further pieces; two years of one every two weeks of school, beyond which a plan is no plan


def power(n: int, step: float, scatter: float, level: float = LEVEL) -> float:
    """The chance that n evenly spaced pieces show a change beyond chance, 0 to 1.

    step     true change from one piece to the next
    scatter  standard deviation of pieces around the line

    Normal approximation for Mann-Kendall's s: a pair k pieces apart rises with the chance Phi(k step / (scatter
    sqrt(2))), which gives the mean of s; its variance shrinks from that of no change as 1 - tau squared (exact for
    tau = 0 and 1). tests/growth/simulate.py compares it with simulation.
    """
    needed = critical((1,) * n, level)
    if needed is None:
        return 0.0
    normal = NormalDist()
    if scatter <= 0:
        return float(step != 0)
    rise = [2 * normal.cdf(k * abs(step) / (scatter * sqrt(2))) - 1 for k in range(1, n)]
    mean = sum((n - k) * share for k, share in enumerate(rise, 1))
    spread = variance((1,) * n, (1,) * n) * (1 - (mean / comb(n, 2)) ** 2)
    # s moves in steps of 2, so it reaches what is needed where a smooth one passes 1 below
    return normal.cdf((mean - needed + 1) / sqrt(spread)) if spread > 0 else float(mean >= needed)


def pieces_needed(trend: Trend) -> int | None:
    """How many more pieces, coming as often as so far, until a trend of this slope and scatter would likely (80%) show
    beyond chance; 0 where it does now. None where no number can be given: too few pieces, no slope, or more than 40.

    The slope and scatter found so far are themselves uncertain, so this is a number to plan by, not a promise.
    """
    if trend.beyond_chance:
        return 0
    if not trend.slope or trend.scatter is None or trend.first is None or trend.last is None:
        return None
    step = trend.slope * (trend.last - trend.first).days / DAYS_A_MONTH / (trend.n - 1)
    level = LEVEL / trend.among
    more = range(1, MOST + 1)
    return next((m for m in more if power(trend.n + m, step, trend.scatter, level) >= LIKELY), None)
