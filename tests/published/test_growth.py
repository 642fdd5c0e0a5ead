"""Trend and change against published worked examples.

US EPA (2006). Data Quality Assessment: Statistical Methods for Practitioners, EPA QA/G-9S (public domain). Page 109:
the series, tie groups, S = 22, variance 155.33 and Z = 1.685. The five-point series with S = 6 and one-sided p = .117
from memory, confirmed by arithmetic. Slopes by arithmetic.
Kendall, M. G. (1975). Rank Correlation Methods, 4th ed., the exact table of S; also Gilbert 1987, table A18: values by
enumeration, as printed there.
Jacobson, N. S., & Truax, P. (1991). Journal of Consulting and Clinical Psychology 59(1), 12-19: a client who goes from
47.5 to 32.5, SD 7.5, reliability .80; from memory, confirmed by arithmetic.
"""

from datetime import date, timedelta
from math import sqrt
from statistics import NormalDist

import pytest

from rubric_kit.growth.kendall import critical, mann_kendall, ties, variance
from rubric_kit.growth.reliable import reliable_change, sem
from rubric_kit.growth.trend import DAYS_A_MONTH, trend

EPA_109 = [10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15]
EPA_5 = [5, 6, 11, 8, 10]
KENDALL = {  # n: {S: one-sided p}
    4: {6: 0.0417, 4: 0.1667, 2: 0.3750},
    5: {10: 0.0083, 8: 0.0417, 6: 0.1167, 4: 0.2417, 2: 0.4083},
    6: {15: 0.0014, 13: 0.0083, 11: 0.0278, 9: 0.0681, 7: 0.1361, 5: 0.2347},
    7: {21: 0.0002, 19: 0.0014, 17: 0.0054, 15: 0.0151, 13: 0.0345, 11: 0.0681, 9: 0.1194},
}


def daily(values: list[int]) -> list[date]:
    return [date(2026, 1, 1) + timedelta(day) for day in range(len(values))]


def test_epa_page_109_has_s_22_and_z_1_685() -> None:
    assert [n for n in ties(EPA_109) if n > 1] == [4, 2]
    found = trend(daily(EPA_109), EPA_109)
    spread = variance((1,) * 11, ties(EPA_109))
    assert (found.s, found.exact) == (22, False)
    assert spread == pytest.approx(155.33, abs=0.005)
    assert (22 - 1) / sqrt(spread) == pytest.approx(1.685, abs=0.0005)
    assert found.p == pytest.approx(2 * (1 - NormalDist().cdf(1.685)), abs=0.0002)
    assert found.slope == pytest.approx(1.0 * DAYS_A_MONTH)
    assert not found.beyond_chance


def test_epa_five_points_have_s_6_and_a_one_sided_p_of_117() -> None:
    found = trend(daily(EPA_5), EPA_5)
    assert (found.s, found.exact) == (6, True)
    assert found.p == pytest.approx(2 * 0.1167, abs=0.0001)
    assert found.slope == pytest.approx(1.125 * DAYS_A_MONTH)


@pytest.mark.parametrize(("n", "s", "p"), [(n, s, p) for n, row in KENDALL.items() for s, p in row.items()])
def test_the_exact_table_of_s(n: int, s: int, p: float) -> None:
    values = list(range(n))
    while mann_kendall(range(n), values).s > s:  # one swap of neighbours in order takes 2 from s
        at = next(i for i in range(n - 1) if values[i] < values[i + 1])
        values[at], values[at + 1] = values[at + 1], values[at]
    found = mann_kendall(range(n), values)
    assert found.s == s
    assert found.p / 2 == pytest.approx(p, abs=0.00005)


def test_five_is_the_first_number_of_pieces_that_can_differ_from_chance() -> None:
    assert [critical((1,) * n) for n in (3, 4, 5, 6, 7)] == [None, None, 10, 13, 15]


def test_jacobson_and_truax_1991_index_is_3_16() -> None:
    error = sem(7.5, 0.80)
    change = reliable_change(47.5, 32.5, error)
    assert (error, change.error) == pytest.approx((3.354, 4.743), abs=0.0005)
    assert change.index == pytest.approx(-3.162, abs=0.0005)
    assert change.smallest == pytest.approx(9.30, abs=0.005)
    assert change.reliable
