"""Levels from values, percents from levels, letters from percents: all worked out by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric_kit.scoring.rubric import GRADES, LEVELS, LookFor, level_of
from rubric_kit.scoring.rubric_file import FORMS, load_form

RISING = (10.0, 20.0, 40.0, 80.0)
FALLING = (8.0, 4.0, 2.0, 0.0)


@pytest.mark.parametrize(
    ("value", "level"),
    [(-5, 1), (10, 1), (15, 1.5), (20, 2), (25, 2.25), (40, 3), (60, 3.5), (80, 4), (1000, 4)],
)
def test_a_value_between_two_levels_counts_in_proportion(value: float, level: float) -> None:
    assert level_of(value, RISING) == pytest.approx(level)


@pytest.mark.parametrize(("value", "level"), [(9, 1), (8, 1), (6, 1.5), (4, 2), (3, 2.5), (1, 3.5), (0, 4), (-1, 4)])
def test_where_less_is_better_a_smaller_value_has_a_higher_level(value: float, level: float) -> None:
    assert level_of(value, FALLING) == pytest.approx(level)


@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6))
def test_more_is_never_worse_on_a_rising_row(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert 1 <= level_of(low, RISING) <= level_of(high, RISING) <= 4


def test_rows_for_grades_between_and_beyond_are_in_proportion() -> None:
    look = LookFor("length", 1, {4: (0, 10, 20, 30), 8: (40, 50, 60, 70)})
    assert look.at_grade(4) == (0, 10, 20, 30)
    assert look.at_grade(6) == (20, 30, 40, 50)
    assert look.at_grade(9) == (50, 60, 70, 80)
    assert look.at_grade(3) == (-10, 0, 10, 20)
    assert look.level(45, 6) == pytest.approx(3.5)


def test_one_row_holds_for_every_grade() -> None:
    look = LookFor("length", 1, {5: (0, 10, 20, 30)})
    assert {look.at_grade(grade) for grade in GRADES} == {(0, 10, 20, 30)}


def test_the_percent_is_the_weighted_mean_of_what_the_levels_are_worth() -> None:
    rubric = load_form("five-paragraph")
    weights = {c.key: c.weight for c in rubric.criteria}
    levels = dict(zip(weights, (4, 3, 2, 1, 3), strict=True))
    assert list(weights.values()) == [20, 20, 25, 15, 20]
    # (20 x 98 + 20 x 88 + 25 x 75 + 15 x 62 + 20 x 88) / 100 = 82.85, and half goes up
    assert rubric.percent_for(levels) == 82.9
    assert rubric.percent_for(dict.fromkeys(weights, 4)) == 98
    assert rubric.percent_for(dict.fromkeys(weights, 1)) == 62


@pytest.mark.parametrize(
    ("percent", "letter"),
    [
        (100, "A"),
        (93, "A"),
        (92.9, "A-"),
        (88, "B+"),
        (83, "B"),
        (75, "C"),
        (62, "D"),
        (59.9, "F"),
        (0, "F"),
        (-1, "F"),
    ],
)
def test_the_letter_is_the_highest_whose_least_percent_is_reached(percent: float, letter: str) -> None:
    assert load_form("five-paragraph").letter_for(percent) == letter


@pytest.mark.parametrize("form", FORMS)
def test_a_shipped_rubric_is_whole(form: str) -> None:
    rubric = load_form(form)
    assert rubric.form == form
    assert sum(c.weight for c in rubric.criteria) == 100
    assert len({c.key for c in rubric.criteria}) == len(rubric.criteria)
    for criterion in rubric.criteria:
        assert set(criterion.descriptors) == set(LEVELS)
        assert all(criterion.descriptors.values())
        assert len(set(criterion.descriptors.values())) == len(LEVELS)
        assert criterion.not_judged
        assert criterion.look_for
