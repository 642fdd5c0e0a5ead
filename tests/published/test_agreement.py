"""Agreement against published worked examples.

Cohen, J. (1968). Weighted kappa. Psychological Bulletin 70(4), 213-220, Table 1: 200 cases, two judges; proportions and
results from memory, confirmed by arithmetic.
Fleiss, J. L., Cohen, J., & Everitt, B. S. (1969). Large sample standard errors of kappa and weighted kappa.
Psychological Bulletin 72(5), 323-327: 200 cases; the table and the weights as in the examples of the R package psych,
the results (variances .002885 and .003248) from memory, confirmed by arithmetic.
Shrout, P. E., & Fleiss, J. L. (1979). Intraclass correlations. Psychological Bulletin 86(2), 420-428, Tables 2 (data)
and 4 (results).
"""

import pytest

from rubric_kit.scoring.agreement import (
    any_disagreement,
    intraclass,
    kappa_error,
    linear_disagreement,
    quadratic_disagreement,
    weighted_kappa,
)

COHEN_1968 = [[88, 10, 2], [14, 40, 6], [18, 10, 12]]  # personality disorder, neurosis, psychosis
SEVERITY = {frozenset({0, 1}): 1, frozenset({0, 2}): 3, frozenset({1, 2}): 6}
FLEISS_1969 = [[106, 10, 4], [22, 28, 10], [2, 12, 6]]
ALIKE = {frozenset({0, 1}): 0.0, frozenset({0, 2}): 4 / 9, frozenset({1, 2}): 2 / 3}  # weights of agreement
SHROUT_FLEISS = [(9, 2, 5, 8), (6, 1, 3, 2), (8, 4, 6, 8), (7, 1, 2, 6), (10, 5, 6, 9), (6, 2, 4, 7)]


def pairs(table: list[list[int]] = COHEN_1968) -> list[tuple[float, float]]:
    return [(i, j) for i, row in enumerate(table) for j, n in enumerate(row) for _ in range(n)]


def unlike(a: float, b: float) -> float:
    return 1 - ALIKE.get(frozenset({int(a), int(b)}), 1)


def test_fleiss_cohen_and_everitts_kappa_429_has_a_variance_of_002885() -> None:
    assert weighted_kappa(pairs(FLEISS_1969), any_disagreement) == pytest.approx(0.429, abs=0.0005)
    assert kappa_error(pairs(FLEISS_1969), any_disagreement) ** 2 == pytest.approx(0.002885, abs=5e-7)


def test_their_weighted_kappa_507_has_a_variance_of_003248() -> None:
    assert weighted_kappa(pairs(FLEISS_1969), unlike) == pytest.approx(0.507, abs=0.0005)
    assert kappa_error(pairs(FLEISS_1969), unlike) ** 2 == pytest.approx(0.003248, abs=5e-7)


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
