from datetime import date, timedelta
from math import inf, nan, sqrt
from random import Random
from statistics import stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import chi2, ttest_1samp

from rubric_kit.growth.reliable import drift, reliable_change, sem, sem_from_pairs

FIRST = [2, 2.5, 3, 3, 2, 1.5, 3.5, 2.5, 3]
SECOND = [2.5, 2.5, 2.5, 3, 2, 2, 3, 2.5, 3.5]
DAYS = [date(2025, 10, 1) + timedelta(20 * i) for i in range(9)]


def test_the_error_is_the_spread_of_differences_over_root_two_with_chi_square_limits() -> None:
    spread = stdev(b - a for a, b in zip(FIRST, SECOND, strict=True))
    found = sem_from_pairs(FIRST, SECOND)
    assert (found.value, found.n) == (pytest.approx(spread / sqrt(2)), 9)
    limits = [sqrt(8 * spread**2 / chi2.ppf(tail, 8) / 2) for tail in (0.975, 0.025)]
    assert found.interval == pytest.approx(limits)


def test_nineteen_of_twenty_intervals_hold_the_true_error() -> None:
    draw, held = Random(5), 0
    for _ in range(1000):
        true = [draw.uniform(1, 4) for _ in range(10)]
        found = sem_from_pairs([t + draw.gauss(0, 0.3) for t in true], [t + draw.gauss(0, 0.3) for t in true])
        held += found.interval[0] <= 0.3 <= found.interval[1]
    assert held == pytest.approx(950, abs=20)


def test_a_shift_alike_in_all_pairs_is_no_error_and_has_no_limits() -> None:
    found = sem_from_pairs(FIRST, [mark + 0.5 for mark in FIRST])
    assert (found.value, found.interval) == (0, None)


def test_one_pair_or_none_says_nothing() -> None:
    assert sem_from_pairs([], []).value is None
    assert sem_from_pairs([2], [3]).value is None


def test_a_change_just_beyond_the_smallest_is_reliable() -> None:
    smallest = reliable_change(2, 2, 0.3).smallest
    assert smallest == pytest.approx(1.96 * sqrt(2) * 0.3, abs=1e-4)
    assert reliable_change(2, 2 + smallest + 0.001, 0.3).reliable
    assert not reliable_change(2, 2 - smallest + 0.001, 0.3).reliable


@given(st.floats(-5, 5), st.floats(-5, 5), st.floats(0.05, 2))
def test_forward_and_back_are_the_same_change(before: float, after: float, error: float) -> None:
    one, other = reliable_change(before, after, error), reliable_change(after, before, error)
    assert (one.index, one.reliable) == (-other.index, other.reliable)


@pytest.mark.parametrize(("before", "after", "error"), [(2, 3, 0), (2, 3, -1), (nan, 3, 1), (2, inf, 1), (2, 3, nan)])
def test_a_change_that_cannot_be_judged_is_refused(before: float, after: float, error: float) -> None:
    with pytest.raises(ValueError, match="cannot be judged"):
        reliable_change(before, after, error)


@pytest.mark.parametrize(("sd", "reliability"), [(-1, 0.5), (1, 1.2), (1, -0.1), (nan, 0.5), (inf, 0.5), (1, nan)])
def test_an_impossible_reliability_is_refused(sd: float, reliability: float) -> None:
    with pytest.raises(ValueError, match="reliability"):
        sem(sd, reliability)


def test_marks_that_do_not_pair_are_refused() -> None:
    with pytest.raises(ValueError, match="go in pairs"):
        sem_from_pairs([1, 2], [1])
    with pytest.raises(ValueError, match="not a number"):
        sem_from_pairs([1, nan], [1, 2])


def test_drift_is_the_mean_difference_with_students_limits() -> None:
    differences = [b - a for a, b in zip(FIRST, SECOND, strict=True)]
    found = drift(DAYS, differences)
    theirs = ttest_1samp(differences, 0).confidence_interval()
    assert found.interval == pytest.approx((theirs.low, theirs.high), abs=1e-3)
    assert not found.beyond_chance


def test_a_reader_who_always_gives_more_has_drifted_even_if_alike() -> None:
    assert drift(DAYS, [0.5] * 9).beyond_chance
    assert not drift(DAYS[:5], [0.5] * 5).beyond_chance
    assert not drift(DAYS, [0.0] * 9).beyond_chance
    assert drift(DAYS, [0.5, 0.5, 0, 0.5, 0.5, 1, 0.5, 0.5, 0]).beyond_chance


def test_no_pairs_have_no_drift() -> None:
    found = drift([], [])
    assert (found.mean, found.interval, found.beyond_chance, found.trend.n) == (None, None, False, 0)
