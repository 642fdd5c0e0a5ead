import subprocess
import sys
from datetime import date, datetime, timedelta
from math import inf, nan
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.stats import theilslopes

from rubric_kit.errors import RubricKitError
from rubric_kit.growth.trend import DAYS_A_MONTH, Trend, fewest, trend

START = date(2025, 9, 1)
LEVELS = st.integers(2, 8).map(lambda half: half / 2)
SERIES = st.lists(st.tuples(st.integers(0, 270), LEVELS), min_size=0, max_size=14)


def of(pairs: list[tuple[int, float]]) -> Trend:
    return trend([START + timedelta(day) for day, _ in pairs], [value for _, value in pairs])


def every(days: int, values: list[float]) -> Trend:
    return of([(days * i, value) for i, value in enumerate(values)])


@pytest.mark.parametrize("seed", range(30))
def test_slope_and_line_are_those_of_scipy(seed: int) -> None:
    draw = Random(seed)
    pairs = [(draw.randrange(270), draw.choice([1.5, 2, 2.5, 3, 3.5])) for _ in range(draw.randint(6, 14))]
    ours = of(pairs)
    theirs = theilslopes([v for _, v in pairs], [day / DAYS_A_MONTH for day, _ in pairs], method="joint")
    assert ours.slope == pytest.approx(theirs.slope, abs=1e-9)
    assert ours.at(START) == pytest.approx(theirs.intercept, abs=1e-9)


@pytest.mark.parametrize("n", range(11, 31))
def test_the_interval_is_that_of_scipy_above_ten_pieces_without_ties(n: int) -> None:
    draw = Random(n)
    days = sorted(draw.sample(range(270), n))
    values = [draw.gauss(0, 1) for _ in days]
    theirs = theilslopes(values, [day / DAYS_A_MONTH for day in days])
    ours = of(list(zip(days, values, strict=True)))
    assert ours.interval == pytest.approx((theirs.low_slope, theirs.high_slope), abs=1e-9)


def test_the_interval_of_five_pieces_reaches_from_the_flattest_to_the_steepest_pair() -> None:
    """A normal curve would leave one pair out on each side; counted, that holds the slope in 92% only."""
    found = every(30, [1, 2, 2.5, 3.9, 4])
    per_month = DAYS_A_MONTH / 30
    assert found.interval == pytest.approx((0.1 * per_month, 1.4 * per_month))


def test_a_steady_rise_of_eight_pieces() -> None:
    found = every(30, [1, 1.5, 2, 2, 2.5, 3, 3, 3.5])
    assert (found.direction, found.beyond_chance, found.n, found.s) == ("rising", True, 8, 26)
    assert (found.first, found.last) == (START, START + timedelta(210))
    assert found.at(START + timedelta(105)) == pytest.approx(2.3, abs=0.15)
    assert found.scatter == pytest.approx(0.2, abs=0.1)


@pytest.mark.parametrize("n", range(5))
def test_fewer_than_five_pieces_are_too_few_to_say(n: int) -> None:
    found = every(30, [1.0 + i / 2 for i in range(n)])
    assert found.direction == "too few to say"
    assert f"there {'is' if n == 1 else 'are'} {n} piece" in found.why_not
    assert (found.slope, found.p, found.at(START), found.beyond_chance) == (None, None, None, False)
    assert fewest() == 5


def test_pieces_of_one_day_are_too_few_however_many() -> None:
    found = every(0, [1, 2, 3, 4, 3, 2, 1])
    assert "7 pieces on 1 day." in found.why_not


def test_one_odd_piece_does_not_move_the_line() -> None:
    steady = [2, 2.2, 2.4, 2.6, 2.8, 3.0, 3.2]
    odd = [*steady[:3], 1.0, *steady[4:]]
    assert every(30, odd).slope == pytest.approx(every(30, steady).slope)


def test_all_levels_alike_are_steady_without_an_interval() -> None:
    found = every(30, [3.0] * 8)
    assert (found.direction, found.beyond_chance, found.p, found.interval, found.tau) == (
        "steady",
        False,
        1,
        None,
        None,
    )


def test_a_level_line_is_no_growth_even_where_the_order_is_unlikely() -> None:
    found = every(30, [2.0] * 8 + [3.0] * 2)
    assert found.p < 0.05
    assert (found.direction, found.beyond_chance) == ("steady", False)


@pytest.mark.parametrize("odd", [nan, inf, -inf])
def test_a_value_that_is_no_number_is_refused_with_its_date(odd: float) -> None:
    with pytest.raises(ValueError, match="2025-10-01 is not a number") as refused:
        every(30, [2, odd, 3, 3, 3])
    assert isinstance(refused.value, RubricKitError)


def test_a_value_without_a_date_is_refused() -> None:
    with pytest.raises(ValueError, match="1 dates and 2 values"):
        trend([START], [1, 2])


def test_times_of_day_do_not_matter() -> None:
    noon = [datetime(2025, 9, 1 + i, 12 - i) for i in range(6)]
    assert trend(noon, [1, 2, 3, 4, 5, 6]).slope == trend([t.date() for t in noon], [1, 2, 3, 4, 5, 6]).slope


@settings(max_examples=150, deadline=None)
@given(SERIES, st.randoms(use_true_random=False))
def test_the_order_of_input_does_not_matter(pairs: list[tuple[int, float]], draw: Random) -> None:
    shuffled = pairs[:]
    draw.shuffle(shuffled)
    assert of(shuffled) == of(pairs)


@settings(max_examples=150, deadline=None)
@given(SERIES, st.integers(-4, 4), st.sampled_from([0.5, 2.0, 4.0]), st.integers(0, 400))
def test_shifts_and_scales_carry_through(pairs: list[tuple[int, float]], up: int, by: float, later: int) -> None:
    one, other = of(pairs), of([(day + later, by * value + up) for day, value in pairs])
    assert (other.s, other.tau, other.p, other.beyond_chance) == (one.s, one.tau, one.p, one.beyond_chance)
    if one.slope is not None:
        assert other.slope == pytest.approx(by * one.slope, abs=1e-9)
        assert other.scatter == pytest.approx(by * one.scatter, abs=1e-9)
        assert other.at(other.last) == pytest.approx(by * one.at(one.last) + up, abs=1e-9)


@settings(max_examples=150, deadline=None)
@given(SERIES)
def test_turned_round_in_time_every_sign_turns(pairs: list[tuple[int, float]]) -> None:
    one, other = of(pairs), of([(300 - day, value) for day, value in pairs])
    assert (other.p, other.beyond_chance) == (pytest.approx(one.p), one.beyond_chance)
    if one.slope is not None:
        assert (other.s, other.slope) == (-one.s, pytest.approx(-one.slope, abs=1e-9))
    if one.interval:
        low, high = one.interval
        assert other.interval == pytest.approx((-high, -low), abs=1e-9)


@settings(max_examples=300, deadline=None)
@given(SERIES)
def test_an_interval_without_0_is_always_beyond_chance(pairs: list[tuple[int, float]]) -> None:
    found = of(pairs)
    assume(found.interval is not None)
    low, high = found.interval
    assert low <= found.slope <= high
    assert found.beyond_chance or low <= 0 <= high


def test_scipy_is_not_loaded_for_a_trend_or_a_reading() -> None:
    program = (
        "import sys, datetime, rubric_kit.growth.readings as r, rubric_kit.growth.trend as t\n"
        "days = [datetime.date(2025, 9, 1 + i) for i in range(8)]\n"
        "r.reading(t.trend(days, [1, 2, 3, 2, 3, 4, 3, 4]), 'level')\n"
        "assert 'scipy' not in sys.modules and 'numpy' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", program], check=True)


@settings(max_examples=150, deadline=None)
@given(SERIES, st.integers(-30, 400))
def test_the_band_is_around_the_line(pairs: list[tuple[int, float]], day: int) -> None:
    found, when = of(pairs), START + timedelta(day)
    assert (found.band(when) is None) == (found.interval is None)
    if found.interval:
        low, high = found.band(when)
        assert low <= found.at(when) <= high
