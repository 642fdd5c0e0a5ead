import re
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric_kit.growth.many import together
from rubric_kit.growth.power import pieces_needed
from rubric_kit.growth.readings import change_words, norm_words, norms_near, reading, words
from rubric_kit.growth.reliable import reliable_change
from rubric_kit.growth.trend import Trend, trend

RISING, FALLING = [1, 1.5, 2, 2, 2.5, 3, 3, 3.5], [3.5, 3, 3, 2.5, 2, 2, 1.5, 1]
MAYBE = [2, 2.5, 2, 2.5, 3, 2.5]


def of(values: list[float]) -> Trend:
    return trend([date(2025, 9, 1) + timedelta(21 * i) for i in range(len(values))], values)


def test_a_clear_rise_is_more_than_chance_with_its_slope_and_limits() -> None:
    found = reading(of(RISING), "overall writing level")
    assert found.short == "More than chance: yes."
    assert re.match(
        r"Overall writing level: a rise of about 0\.4\d levels a month over 8 pieces \(between", found.words
    )


def test_a_rise_within_chance_says_about_how_many_more_pieces() -> None:
    found = reading(of(MAYBE), "focus")
    assert found.short.startswith(f"More than chance: not yet. About {pieces_needed(of(MAYBE))} more pieces like these")
    assert "ups and downs alone can do that" in found.words


def test_a_fall_is_worded_with_care_and_is_no_diagnosis() -> None:
    found = reading(of(FALLING), "focus").words
    assert all(word in found for word in ("harder books", "longer tasks", "tiredness", "no diagnosis"))
    assert "nothing to read into it" in reading(of(MAYBE[::-1]), "focus").words


def test_fewer_slips_are_welcome_and_more_are_worded_with_care() -> None:
    assert "diagnosis" not in reading(of(FALLING), "slips", "per 100 words", wanted="falling").words
    assert "diagnosis" in reading(of(RISING), "slips", "per 100 words", wanted="falling").words


@pytest.mark.parametrize("values", [RISING, FALLING])
def test_a_measure_without_a_better_side_has_no_care(values: list[float]) -> None:
    assert "diagnosis" not in reading(of(values), "words a sentence", "words", wanted=None).words


def test_a_level_line_and_too_few_pieces_say_so() -> None:
    assert reading(of([3.0] * 6), "focus").words == "Focus: about where it was, over 6 pieces."
    few = reading(of([3, 2]), "focus")
    assert few.short == "Too few to say."
    assert "there are 2 pieces" in few.words


def test_a_limit_on_the_other_side_of_0_keeps_its_sign() -> None:
    found = reading(
        Trend(8, date(2025, 9, 1), date(2026, 5, 1), date(2026, 1, 1), -0.2, (-0.4, 0.03), 3.0, 0.3, -16, -0.6, 0.03),
        "focus",
    )
    assert "a fall of about 0.20 levels a month over 8 pieces (between -0.03 and 0.40)" in found.words


def test_looked_at_among_many_is_said() -> None:
    page = together({"overall": of(RISING), "focus": of(MAYBE), "evidence": of(RISING)})
    assert "together with 1 other" in reading(page["focus"], "focus").words
    assert "together" not in reading(page["overall"], "overall").words


def test_a_change_beside_the_readers_error() -> None:
    small, large = reliable_change(2, 2.5, 0.3), reliable_change(2, 3.5, 0.3)
    assert change_words(small, 2) == (
        "From 2 to 2.5: this reader, marking the same piece twice, could differ by as much "
        "(only a change of 0.8 or more says something)."
    )
    assert change_words(large, 2).startswith("From 2 to 3.5: more than")


def test_norms_are_of_the_grade_or_the_nearest_on_both_sides() -> None:
    assert {norm.grade for norm in norms_near("words_per_t_unit", 6)} == {6}
    assert {norm.grade for norm in norms_near("words_per_clause", 6)} == {4, 8}
    assert {norm.grade for norm in norms_near("words_per_clause", 3)} == {4}
    assert norm_words("words_per_t_unit", 6).startswith("Published averages for grade 6: 9.0 (Loban 1976).")
    assert "no published average for grade 6" in norm_words("words_per_clause", 6)
    assert "where, not how good" in norm_words("words_per_clause", 6)
    assert norm_words("focus", 6) == ""


def test_no_reading_names_a_condition() -> None:
    text = str(words()).lower()
    assert not re.search(r"dyslex|dysgraph|disorder|disabil|adhd|behind|below average|other children's", text)


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 270), st.integers(2, 8)), max_size=13),
    st.sampled_from(["rising", "falling", None]),
)
def test_every_series_has_a_reading_without_a_gap(pairs: list[tuple[int, int]], wanted: str) -> None:
    series = trend([date(2025, 9, 1) + timedelta(day) for day, _ in pairs], [half / 2 for _, half in pairs])
    found = reading(series, "focus", wanted=wanted)
    assert not re.search(r"[{}]|nan|inf|None", found.short + found.words)
    assert ("yes" in found.short) == series.beyond_chance
