import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric_kit.measures.norms import NORMED, norms, place, standard_error
from rubric_kit.measures.syntax import SYNTAX, Opening, SyntaxCounts, TUnit


def made(*units: tuple[int, int]) -> SyntaxCounts:
    words = tuple(w for w, _ in units)
    return SyntaxCounts(tuple(TUnit(0, w, c) for w, c in units), words, tuple(Opening("a", "") for _ in units), 0, 0, 0)


def test_a_steady_child_at_hunts_grade_8_average_is_placed_near_grade_8() -> None:
    placement = place("words_per_t_unit", made(*[(11, 1), (12, 2)] * 20), grade=8)
    assert placement.value == 11.5
    assert placement.margin < 0.2
    assert (placement.low_grade, placement.high_grade) == (8, 8)
    assert "For grade 8 they are" in placement.words


def test_a_short_uneven_piece_gets_a_wide_interval() -> None:
    placement = place("words_per_t_unit", made((5, 1), (14, 2), (7, 1), (12, 2), (9, 1), (8, 1)))
    assert placement.low_grade is None
    assert placement.high_grade >= 10
    assert "or below" in placement.words


def test_a_value_above_all_norms_is_open_upwards() -> None:
    placement = place("words_per_t_unit", made(*[(25, 3), (26, 3)] * 10))
    assert (placement.low_grade, placement.high_grade) == (12, None)
    assert "grade 12 or above" in placement.words


def test_a_value_between_norms_gets_the_nearest() -> None:
    placement = place("words_per_clause", made(*[(75, 10)] * 8))
    assert [norm.value for norm in placement.nearest] == [8.1]


def test_too_few_t_units_are_not_placed_and_the_words_say_why() -> None:
    placement = place("words_per_t_unit", made((5, 1), (14, 2)))
    assert placement.value is None
    assert "wants 5 main clauses, and has 2" in placement.words


def test_the_standard_error_of_a_mean_is_spread_over_root_n() -> None:
    """Of 4 and 8: spread 2.83, over root 2 is 2."""
    assert standard_error([4, 8], [1, 1]) == pytest.approx(2)


@given(st.lists(st.tuples(st.integers(1, 60), st.integers(1, 6)), min_size=5, max_size=40))
def test_the_interval_always_holds_the_value_and_grades_are_in_order(units: list[tuple[int, int]]) -> None:
    for measure in NORMED:
        placement = place(measure, made(*units), grade=5)
        assert placement.nearest
        assert placement.margin >= 0
        if placement.low_grade is not None and placement.high_grade is not None:
            assert placement.low_grade <= placement.high_grade


@pytest.mark.parametrize("measure", list(NORMED))
def test_every_measure_with_norms_is_in_the_catalogue_and_every_norm_has_its_status(measure: str) -> None:
    assert measure in SYNTAX
    assert len(norms(measure)) >= 3
    assert {norm.status for norm in norms(measure)} <= {"verified", "memory"}


def test_hunts_three_averages_are_one_product() -> None:
    """Words per T-unit = clauses per T-unit x words per clause, within the rounding of the published figures."""
    by_grade = {name: {n.grade: n.value for n in norms(name) if n.source == "Hunt 1965"} for name in NORMED}
    for grade in (4, 8, 12):
        product = by_grade["clauses_per_t_unit"][grade] * by_grade["words_per_clause"][grade]
        assert product == pytest.approx(by_grade["words_per_t_unit"][grade], abs=0.2)


def test_the_words_for_a_parent_are_whole() -> None:
    placement = place("words_per_t_unit", made(*[(11, 1), (12, 2)] * 20), grade=8)
    assert placement.words == (
        "11.5 words for each main clause and all it carries, give or take 0.2. "
        f"Published averages like that come from grade 8. For grade 8 they are {averages('words_per_t_unit', 8, 1)}. "
        "Kinds of writing differ, and so do children of one grade: this says where, not how good."
    )
    placement = place("clauses_per_t_unit", made(*[(20, 9), (20, 8)] * 5), grade=3)
    assert placement.words.startswith("8.50 clauses for each main clause, itself too, give or take 0.33. ")
    placement = place("words_per_clause", made(*[(3, 1), (4, 1)] * 5))
    assert placement.words.startswith("3.5 words for each clause, give or take 0.3. Published averages like that come")


def averages(measure: str, grade: int, digits: int) -> str:
    return ", ".join(f"{n.value:.{digits}f} ({n.source})" for n in norms(measure) if n.grade == grade)


def test_an_interval_wider_than_all_norms_is_open_on_both_sides() -> None:
    placement = place("words_per_t_unit", made((1, 1), (40, 1), (2, 1), (3, 1), (30, 1)))
    assert (placement.low_grade, placement.high_grade) == (None, None)
    assert placement.nearest == norms("words_per_t_unit")
    assert "and it may be lower or higher than any of them" in placement.words


def test_the_margin_is_1_96_standard_errors() -> None:
    """Of 10, 12, 10, 12, 10, 12: spread 1.2, so its error is the root of 0.2."""
    assert place("words_per_t_unit", made(*[(10, 1), (12, 1)] * 3)).margin == pytest.approx(1.96 * 0.2**0.5)
