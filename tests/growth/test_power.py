from datetime import date, timedelta
from random import Random

import pytest

from rubric_kit.growth.many import together
from rubric_kit.growth.power import LIKELY, MOST, pieces_needed, power
from rubric_kit.growth.trend import DAYS_A_MONTH, Trend, trend

START = date(2025, 9, 1)


def of(values: list[float], days: int = 21) -> Trend:
    return trend([START + timedelta(days * i) for i in range(len(values))], values)


@pytest.mark.parametrize(("step", "scatter", "n"), [(0.1, 0.45, 15), (0.2, 0.45, 9), (0.05, 0.3, 18), (0.2, 0.6, 12)])
def test_power_is_near_that_of_simulated_series(step: float, scatter: float, n: int) -> None:
    draw, found = Random(7), 0
    for _ in range(400):
        found += of([step * i + draw.gauss(0, scatter) for i in range(n)]).beyond_chance
    assert power(n, step, scatter) == pytest.approx(found / 400, abs=0.1)


def test_without_a_slope_power_is_no_more_than_half_the_level() -> None:
    assert all(power(n, 0, 0.5) <= 0.03 for n in range(3, 30))


def test_power_grows_with_pieces_and_slope_and_shrinks_with_scatter() -> None:
    assert power(4, 1, 0.1) == 0
    assert power(8, 0.1, 0.4) < power(12, 0.1, 0.4) < power(12, 0.2, 0.4)
    assert power(12, 0.2, 0.4) > power(12, 0.2, 0.8)
    assert power(8, 0.1, 0) == 1


def test_the_pieces_needed_are_those_that_reach_eighty_percent() -> None:
    found = of([2, 2.5, 2, 2.5, 3, 2.5])
    more = pieces_needed(found)
    step = found.slope * 21 / DAYS_A_MONTH
    assert more is not None
    assert power(6 + more, step, found.scatter) >= LIKELY > power(6 + more - 1, step, found.scatter)


def test_what_is_beyond_chance_needs_none_and_what_has_no_slope_cannot_say() -> None:
    assert pieces_needed(of([1, 1.5, 2, 2.5, 3, 3.5])) == 0
    assert pieces_needed(of([2, 3, 2, 3, 2, 3, 2.5])) is None
    assert pieces_needed(of([2, 3])) is None


def test_a_rise_that_would_take_years_gives_no_number() -> None:
    faint = of([2, 4, 1, 3.1, 2.1, 3.2, 2.2, 4, 1.1, 3.3])
    assert faint.direction == "rising"
    assert pieces_needed(faint) is None
    assert MOST == 40


def test_among_many_more_are_needed() -> None:
    found = of([2, 2.5, 2, 2.5, 3, 2.5])
    page = together(dict.fromkeys(("overall", "a", "b", "c", "d", "e"), found))
    assert pieces_needed(page["a"]) > pieces_needed(page["overall"])
