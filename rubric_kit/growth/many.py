"""Several trends on one page: the more one looks at, the more luck finds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rubric_kit.growth.trend import Trend

HEADLINE = "overall"  # the writing level of whole pieces


def holm(ps: Sequence[float]) -> tuple[float, ...]:
    """Holm's adjusted p-values, in the order given (Holm 1979, Scandinavian Journal of Statistics 6(2)).

    With p(1) <= ... <= p(m): adjusted p(i) = the largest of (m - j + 1) p(j) for j <= i, at most 1.
    """
    adjusted = [0.0] * len(ps)
    highest = 0.0
    for rank, place in enumerate(sorted(range(len(ps)), key=ps.__getitem__)):
        highest = max(highest, min(1.0, (len(ps) - rank) * ps[place]))
        adjusted[place] = highest
    return tuple(adjusted)


def together(trends: Mapping[str, Trend], headline: str | None = HEADLINE) -> dict[str, Trend]:
    """The same trends, with ``p_of_many`` where they are looked at together.

    The headline was chosen beforehand and is the first thing said, so it stands alone; all others share Holm's
    adjustment. With None, all do. A trend with too few pieces is not tested and does not count.
    """
    tested = [name for name, trend in trends.items() if trend.p is not None and name != headline]
    adjusted = dict(zip(tested, holm([trends[name].p or 0.0 for name in tested]), strict=True))
    return {
        name: replace(trend, among=len(tested), p_of_many=adjusted[name]) if name in adjusted else trend
        for name, trend in trends.items()
    }
