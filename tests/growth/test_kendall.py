from itertools import permutations
from math import sqrt
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import kendalltau, norm

from rubric_kit.growth.kendall import EXACT_UP_TO, mann_kendall, smallest_p, ties, variance


def pieces(draw: Random, n: int, days: int, levels: int) -> tuple[list[int], list[int]]:
    return draw.choices(range(days), k=n), draw.choices(range(levels), k=n)


@pytest.mark.parametrize("n", range(3, EXACT_UP_TO + 1))
def test_without_ties_p_is_that_of_scipy_counted_exactly(n: int) -> None:
    draw = Random(n)
    for _ in range(20):
        values = draw.sample(range(n), n)
        theirs = kendalltau(range(n), values, method="exact")
        ours = mann_kendall(range(n), values)
        assert (ours.tau, ours.p) == pytest.approx((theirs.statistic, theirs.pvalue), abs=1e-12)


@pytest.mark.parametrize("seed", range(30))
def test_tau_and_the_variance_are_those_of_scipy_with_ties_in_days_and_levels(seed: int) -> None:
    draw = Random(seed)
    days, levels = pieces(draw, draw.randint(11, 30), 20, 5)
    theirs = kendalltau(days, levels, method="asymptotic")
    ours = mann_kendall(days, levels)
    spread = sqrt(variance(ties(days), ties(levels)))
    assert ours.tau == pytest.approx(theirs.statistic, abs=1e-12)
    assert 2 * norm.sf(abs(ours.s) / spread) == pytest.approx(theirs.pvalue, abs=1e-12)
    assert ours.p == pytest.approx(2 * norm.sf(max(0, abs(ours.s) - 1) / spread), abs=1e-12)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 4), st.integers(0, 3)), min_size=2, max_size=6))
def test_with_ties_p_is_counted_over_every_order(pairs: list[tuple[int, int]]) -> None:
    days, levels = [day for day, _ in pairs], [level for _, level in pairs]
    ours = mann_kendall(days, levels)
    all_s = [
        sum(
            (order[i] < order[j]) - (order[i] > order[j])
            for i in range(len(days))
            for j in range(len(days))
            if days[i] < days[j]
        )
        for order in permutations(levels)
    ]
    tails = sum(s >= ours.s for s in all_s), sum(s <= ours.s for s in all_s)
    assert ours.p == pytest.approx(min(1, 2 * min(tails) / len(all_s)))
    assert variance(ties(days), ties(levels)) == pytest.approx(sum(s * s for s in all_s) / len(all_s))


def test_the_smallest_p_is_that_of_a_steady_rise_and_two_on_one_day_make_it_larger() -> None:
    assert smallest_p((1,) * 5) == pytest.approx(mann_kendall(range(5), range(5)).p) == pytest.approx(2 / 120)
    assert smallest_p((2, 1, 1, 1)) == pytest.approx(2 / 60)


def test_the_normal_curve_takes_over_smoothly() -> None:
    values = [0, 1, 2, 5, 3, 4, 8, 6, 7, 9]
    longer = [*values, 4.5]
    assert mann_kendall(range(10), values).exact
    assert not mann_kendall(range(11), longer).exact
    assert 0 < mann_kendall(range(10), values).p < mann_kendall(range(11), longer).p < 0.02
