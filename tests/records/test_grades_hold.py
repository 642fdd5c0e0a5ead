"""What holds for every grade, whatever the levels, weights and points."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from rubric_kit.records.grades import of_parts
from rubric_kit.records.piece_grades import of_levels
from rubric_kit.records.settings import usual
from rubric_kit.records.task_grades import late
from rubric_kit.records.worked import Grade, Worked, figure, letter_for, mean, rounded
from rubric_kit.scoring.rubric_file import FORMS, load_form

RUBRICS = {form: load_form(form) for form in FORMS}
LETTERS = [(letter, float(least)) for letter, least in usual()["letters"]]
PERCENTS = st.fractions(0, 100, max_denominator=1000)
WEIGHTS = st.fractions(Fraction(1, 100), 100, max_denominator=100)


@st.composite
def marked(draw):
    rubric = RUBRICS[draw(st.sampled_from(FORMS))]
    return rubric, {c.key: draw(st.integers(1, 4)) for c in rubric.criteria}


def graded(value):
    return Grade("task", "t", "Ann", value, "", False, int(value is not None), (), Worked("t", value))


@given(marked())
def test_a_piece_is_between_what_its_lowest_and_its_highest_level_are_worth(piece):
    rubric, levels = piece
    worth = [Fraction(rubric.percent[level]) for level in levels.values()]
    assert min(worth) <= of_levels(rubric, levels)[0] <= max(worth)


@given(marked(), st.data())
def test_a_higher_level_never_gives_a_lower_grade_nor_a_lower_letter(piece, data):
    rubric, levels = piece
    key = data.draw(st.sampled_from(sorted(levels)))
    higher = levels | {key: min(levels[key] + 1, 4)}
    before, after = of_levels(rubric, levels)[0], of_levels(rubric, higher)[0]
    order = [letter for letter, _ in LETTERS]
    assert before <= after
    assert order.index(letter_for(LETTERS, after)) <= order.index(letter_for(LETTERS, before))


@given(marked())
def test_a_piece_differs_from_the_percent_of_its_sheet_by_rounding_alone(piece):
    rubric, levels = piece
    assert abs(of_levels(rubric, levels)[0] - Fraction(rubric.percent_for(levels))) <= Fraction(51, 1000)


@given(st.lists(st.tuples(WEIGHTS, PERCENTS), min_size=1))
def test_a_mean_is_between_its_least_and_its_greatest_part_and_so_is_its_rounding(parts):
    value, _ = mean(parts)
    least, greatest = min(v for _, v in parts), max(v for _, v in parts)
    assert least <= value <= greatest
    assert rounded(least) <= rounded(value) <= rounded(greatest)


@given(st.lists(st.tuples(WEIGHTS, st.none() | PERCENTS)))
def test_what_has_no_grade_changes_no_grade(parts):
    whole = of_parts("term", "t", [(w, graded(v)) for w, v in parts], "Ann", usual())
    there = of_parts("term", "t", [(w, graded(v)) for w, v in parts if v is not None], "Ann", usual())
    assert (whole.exact, whole.letter, whole.pieces) == (there.exact, there.letter, there.pieces)
    assert (whole.exact is None) == all(v is None for _, v in parts)


@given(PERCENTS, st.integers(-400, 400), st.floats(0, 100), st.floats(0, 100))
def test_a_day_more_never_gives_a_better_grade_and_never_less_than_nothing(value, days, a_day, at_most):
    rule = {"late_points_a_day": a_day, "late_points_at_most": at_most}
    assert 0 <= late(rule, value, days + 1) <= late(rule, value, days) <= value


@given(PERCENTS)
def test_a_figure_reads_back_as_itself_or_as_its_first_three_decimals(value):
    text = figure(value)
    written = Fraction(text.removesuffix("…"))
    assert written == value if not text.endswith("…") else 0 < value - written < Fraction(1, 1000)
