"""The Mann-Kendall test: do values go up, or down, more steadily than a shuffled order would?

Mann 1945, Econometrica 13; Kendall 1975, Rank Correlation Methods, 4th ed.; Gilbert 1987, Statistical Methods for
Environmental Pollution Monitoring, 16.4 (exact for few values, normal above, equal dates and values).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from math import comb, factorial, prod, sqrt
from statistics import NormalDist

EXACT_UP_TO = 10  # values; as Gilbert's table. Every order is counted up to here, and a normal curve is used above
LEVEL = 0.05  # two-sided: of a hundred children who did not change, at most five are said to have, up or down

Ties = tuple[int, ...]  # how many values share each different value, in order of value; the same for dates


@dataclass(frozen=True, slots=True)
class MannKendall:
    """The test of one series.

    s      rising pairs minus falling pairs
    tau    Kendall's tau-b, -1 to 1; None where all values, or all dates, are the same
    p      two-sided: the chance that a shuffled order gives an s as far from 0 on either side, 0 to 1
    exact  whether p was counted or taken from a normal curve
    """

    s: int
    tau: float | None
    p: float
    exact: bool


def mann_kendall(times: Sequence[float], values: Sequence[float]) -> MannKendall:
    """Test one series, in any order; pairs on the same day count as neither rising nor falling.

    Z = (s - sign(s)) / sqrt(variance(s)) above EXACT_UP_TO values.
    """
    order = sorted(zip(times, values, strict=True))
    s = sum(_sign(b - a) * _sign(later - earlier) for (earlier, a), (later, b) in combinations(order, 2))
    of_times, of_values = ties(times), ties(values)
    apart = [comb(len(order), 2) - sum(comb(t, 2) for t in tied) for tied in (of_times, of_values)]
    tau = s / sqrt(prod(apart)) if all(apart) else None
    exact = len(order) <= EXACT_UP_TO
    return MannKendall(s, tau, _exact_p(s, of_times, of_values) if exact else _normal_p(s, of_times, of_values), exact)


def ties(values: Sequence[float]) -> Ties:
    """How often each different value occurs, the lowest value first."""
    counted = Counter(values)
    return tuple(counted[value] for value in sorted(counted))


def smallest_p(of_times: Ties) -> float:
    """The smallest two-sided p that values on such days can have: all different, and always rising or always falling.

    2 / (n! / product of t!): four days give 0.083, five give 0.017.
    """
    return min(1.0, 2 * prod(factorial(t) for t in of_times) / factorial(sum(of_times)))


@cache
def critical(of_times: Ties, level: float = LEVEL) -> int | None:
    """The smallest s, for values that all differ, whose p is at most ``level``; None where no s is far enough out."""
    n = sum(of_times)
    p = _exact_p if n <= EXACT_UP_TO else _normal_p
    pairs = comb(n, 2) - sum(comb(t, 2) for t in of_times)
    return next((s for s in range(pairs % 2, pairs + 1, 2) if p(s, of_times, (1,) * n) <= level), None)


def variance(of_times: Ties, of_values: Ties) -> float:
    """Variance of s over all orders, with ties in dates and values (Kendall 1975; Gilbert 1987, 16.4.4)."""
    n = sum(of_times)
    pairs = [sum(t * (t - 1) for t in tied) for tied in (of_times, of_values)]
    triples = [sum(t * (t - 1) * (t - 2) for t in tied) for tied in (of_times, of_values)]
    spread = n * (n - 1) * (2 * n + 5) - sum(t * (t - 1) * (2 * t + 5) for t in (*of_times, *of_values))
    both = prod(pairs) / (2 * n * (n - 1)) + (prod(triples) / (9 * n * (n - 1) * (n - 2)) if n > 2 else 0)
    return spread / 18 + both


def _normal_p(s: int, of_times: Ties, of_values: Ties) -> float:
    spread = variance(of_times, of_values)
    return 2 * NormalDist().cdf(-max(0, abs(s) - 1) / sqrt(spread)) if spread > 0 else 1.0


def _exact_p(s: int, of_times: Ties, of_values: Ties) -> float:
    """Twice the smaller tail, so that neither direction is called more often than half the level."""
    if len(of_times) == sum(of_times):
        of_values = tuple(sorted(of_values))  # on different days their order does not matter: fewer tables to count
    table = _orders(of_times, of_values)
    above = sum(ways for other, ways in table.items() if other >= s)
    below = sum(ways for other, ways in table.items() if other <= s)
    return min(1.0, 2 * min(above, below) / factorial(sum(of_times)))


@cache
def _orders(of_times: Ties, of_values: Ties) -> Mapping[int, int]:
    """How many of the n! orders of the values give each s: day by day, over what is left to place."""
    states: dict[Ties, Counter[int]] = {of_values: Counter({0: 1})}
    for size in of_times:
        following: dict[Ties, Counter[int]] = {}
        for left, table in states.items():
            used = [whole - rest for whole, rest in zip(of_values, left, strict=True)]
            gain = [sum(used[:i]) - sum(used[i + 1 :]) for i in range(len(used))]
            for taken in _choices(left, size):
                rest = tuple(a - b for a, b in zip(left, taken, strict=True))
                ways = factorial(size) * prod(comb(a, b) for a, b in zip(left, taken, strict=True))
                step = sum(g * b for g, b in zip(gain, taken, strict=True))
                to = following.setdefault(rest, Counter())
                for s, n in table.items():
                    to[s + step] += n * ways
        states = following
    return states[(0,) * len(of_values)]


def _choices(left: Ties, size: int) -> Iterator[Ties]:
    """Every way to take ``size`` values from what is left of each."""
    if not left:
        if size == 0:
            yield ()
        return
    for first in range(min(left[0], size) + 1):
        for others in _choices(left[1:], size - first):
            yield (first, *others)


def _sign(difference: float) -> int:
    return (difference > 0) - (difference < 0)
