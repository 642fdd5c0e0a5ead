"""Agreement against published worked examples.

Cohen, J. (1968). Weighted kappa. Psychological Bulletin 70(4), 213-220, Table 1: 200 cases, two judges; proportions and
results from memory, confirmed by arithmetic.
Shrout, P. E., & Fleiss, J. L. (1979). Intraclass correlations. Psychological Bulletin 86(2), 420-428, Tables 2 (data)
and 4 (results).
"""

import pytest

from rubric_kit.scoring.agreement import (
    any_disagreement,
    intraclass,
    linear_disagreement,
    quadratic_disagreement,
    weighted_kappa,
)

COHEN_1968 = [[88, 10, 2], [14, 40, 6], [18, 10, 12]]  # personality disorder, neurosis, psychosis
SEVERITY = {frozenset({0, 1}): 1, frozenset({0, 2}): 3, frozenset({1, 2}): 6}
SHROUT_FLEISS = [(9, 2, 5, 8), (6, 1, 3, 2), (8, 4, 6, 8), (7, 1, 2, 6), (10, 5, 6, 9), (6, 2, 4, 7)]


def pairs() -> list[tuple[float, float]]:
    return [(i, j) for i, row in enumerate(COHEN_1968) for j, n in enumerate(row) for _ in range(n)]


def test_cohens_kappa_is_492() -> None:
    assert weighted_kappa(pairs(), any_disagreement) == pytest.approx(0.492, abs=0.0005)


def test_cohens_weighted_kappa_is_348() -> None:
    weighted = weighted_kappa(pairs(), lambda a, b: SEVERITY.get(frozenset({int(a), int(b)}), 0))
    assert weighted == pytest.approx(0.348, abs=0.0005)


def test_cohens_table_as_ordered_levels() -> None:
    """By arithmetic, not published."""
    assert weighted_kappa(pairs(), linear_disagreement) == pytest.approx(0.47368, abs=5e-6)
    assert weighted_kappa(pairs(), quadratic_disagreement) == pytest.approx(0.45455, abs=5e-6)


def test_shrout_and_fleiss_six_forms() -> None:
    icc = intraclass(SHROUT_FLEISS)
    single, mean = (icc.one_way, icc.two_way, icc.fixed), (icc.mean_one_way, icc.mean_two_way, icc.mean_fixed)
    assert single == pytest.approx((0.17, 0.29, 0.71), abs=0.005)
    assert mean == pytest.approx((0.44, 0.62, 0.91), abs=0.005)
