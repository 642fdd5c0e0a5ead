from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric_kit.growth.many import holm, together
from rubric_kit.growth.trend import Trend, trend

RISING, LEVEL = [1, 1.5, 2, 2, 2.5, 3, 3, 3.5], [2, 3, 2, 3, 2, 3, 2, 3]


def of(values: list[float]) -> Trend:
    return trend([date(2025, 9, 1) + timedelta(21 * i) for i in range(len(values))], values)


def test_holm_by_hand() -> None:
    """Of four: 4 x .005, 3 x .01, then 2 x .03 = .06, which the last (.04 x 1) may not undercut."""
    assert holm([0.01, 0.04, 0.03, 0.005]) == pytest.approx((0.03, 0.06, 0.06, 0.02))
    assert holm([]) == ()
    assert holm([0.9, 0.8]) == (1.0, 1.0)


@given(st.lists(st.floats(0, 1), max_size=12))
def test_holm_keeps_the_order_and_never_makes_a_p_smaller(ps: list[float]) -> None:
    adjusted = holm(ps)
    assert all(p <= q <= 1 for p, q in zip(ps, adjusted, strict=True))
    by_p = [q for _, q in sorted(zip(ps, adjusted, strict=True))]
    assert by_p == sorted(by_p)


def test_the_headline_stands_alone_and_the_others_share() -> None:
    page = together({"overall": of(RISING), "focus": of(RISING), "evidence": of(LEVEL), "sentences": of([2, 3])})
    assert (page["overall"].p_of_many, page["overall"].among) == (None, 1)
    assert page["focus"].p_of_many == pytest.approx(2 * page["focus"].p)
    assert {name: found.among for name, found in page.items()} == {
        "overall": 1,
        "focus": 2,
        "evidence": 2,
        "sentences": 1,
    }
    assert page["sentences"].p_of_many is None


def test_what_is_beyond_chance_alone_may_not_be_among_many() -> None:
    weak = of([1, 2, 1.5, 2, 2.5, 2.25, 3])
    assert weak.beyond_chance
    page = together({"overall": of(LEVEL)} | {name: weak if name == "a" else of(LEVEL) for name in "abcdef"})
    assert not page["a"].beyond_chance
    assert not together(page, headline=None)["a"].beyond_chance
