"""Grades of pieces and tasks against examples worked out by hand; the arithmetic stands above each figure."""

import sys
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from rubric_kit.records.piece_grades import piece_grade
from rubric_kit.records.pieces import piece
from rubric_kit.records.task_grades import task_grades
from rubric_kit.records.worked import shown
from rubric_kit.scoring.rubric_file import shipped

sys.path.insert(0, str(Path(__file__).parent))
from grading import give, hand_in, levels, propose

TODAY = date(2026, 6, 15)
YEAR = "2025-26"


@pytest.fixture
def ann(family):
    return family.students.add("Ann", grade=8, school_year=YEAR)


def only(family, student, today=TODAY):
    """The grade of the student's one task."""
    (graded,) = task_grades(family, student.id, today)
    return graded.grade


def texts(worked):
    return [worked.text, *(text for part in worked.parts for text in texts(part))]


def test_levels_all_at_grade_are_worth_88(family, ann):
    hand_in(family, give(family, ann, "Call"), own=levels(3))
    # (20 + 20 + 25 + 15 + 20) x 88 / 100 = 88.0; the family's letters: B+ from 87
    grade = only(family, ann)
    assert (grade.percent, grade.letter, grade.provisional, grade.pieces) == (88.0, "B+", False, 1)


def test_one_level_lower_costs_its_weight(family, ann):
    hand_in(family, give(family, ann, "Call"), own=levels(3, 3, 3, 3, 2))
    # 80 x 88 + 20 x 75 = 7040 + 1500 = 8540; / 100 = 85.4
    assert only(family, ann).percent == 85.4
    assert any(
        "(20 x 88.0 + 20 x 88.0 + 25 x 88.0 + 15 x 88.0 + 20 x 75.0) / 100 = 85.4" in t
        for t in texts(only(family, ann).worked)
    )


def test_answers_and_writing_by_their_weights(family, ann):
    call = give(family, ann, "Call", points=(2, 2, 4))
    family.answers.give(call.id, {1: 2, 2: 1.5, 3: 3.5})
    hand_in(family, call, own=levels(3, 3, 3, 3, 2))
    # answers 100 x 7 / 8 = 87.5; writing 85.4; (40 x 87.5 + 60 x 85.4) / 100 = (3500 + 5124) / 100 = 86.24, shown 86.2
    grade = only(family, ann)
    assert (grade.percent, grade.exact, grade.letter) == (86.2, Fraction(8624, 100), "B")
    assert "(40 x 87.5 + 60 x 85.4) / 100 = 86.24, which rounds to 86.2" in grade.worked.text
    assert "100 x 7 / 8 points = 87.5" in grade.worked.parts[0].text
    family.settings.set("answers_weight", 30)
    # (30 x 87.5 + 70 x 85.4) / 100 = (2625 + 5978) / 100 = 86.03: 30 is 30 percent, and the writing has the rest
    assert only(family, ann).exact == Fraction(8603, 100)


def test_without_questions_the_writing_alone_counts(family, ann):
    hand_in(family, give(family, ann, "Call"), own=levels(4, 4, 3, 3, 3))
    # 40 x 98 + 60 x 88 = 3920 + 5280 = 9200; / 100 = 92.0
    assert only(family, ann).percent == 92.0
    assert "the writing alone" in only(family, ann).worked.text


def test_a_task_without_a_prompt_asks_for_no_writing(family, ann):
    call = give(family, ann, "Quiz", points=(3,), prompt="", due=date(2025, 9, 10))
    family.answers.give(call.id, {1: 2})
    # 100 x 2 / 3 = 66.666..., shown 66.7; D from 60
    grade = only(family, ann)
    assert (grade.exact, grade.percent, grade.letter) == (Fraction(200, 3), 66.7, "D")
    assert (grade.provisional, grade.missing) == (False, ())
    assert "66.666…, which rounds to 66.7" in grade.worked.text


@pytest.mark.parametrize(
    ("came", "left"),
    [
        (10, "88.0"),  # on the day: nothing off
        (11, "86.0"),  # 1 day x 2 = 2; 88 - 2
        (13, "82.0"),  # 3 days x 2 = 6; 88 - 6
        (20, "80.0"),  # 10 days x 2 = 20, at most 8; 88 - 8
        (1, "88.0"),  # early: nothing added
    ],
)
def test_late_points_by_the_day_and_at_most(family, ann, came, left):
    family.settings.set("late_points_a_day", 2.0)
    family.settings.set("late_points_at_most", 8.0)
    hand_in(family, give(family, ann, "Call", due=date(2025, 9, 10)), date(2025, 9, came), own=levels(3))
    assert shown(only(family, ann).exact) == left


def test_late_points_come_off_the_writing_not_off_the_answers(family, ann):
    family.settings.set("late_points_a_day", 1.5)
    call = give(family, ann, "Call", points=(4,), due=date(2025, 9, 10))
    family.answers.give(call.id, {1: 3})
    hand_in(family, call, date(2025, 9, 12), own=levels(3))
    # writing 88 - 2 x 1.5 = 85; answers 75; (40 x 75 + 60 x 85) / 100 = (3000 + 5100) / 100 = 81.0
    assert only(family, ann).percent == 81.0
    said = "2 days late; 1.5 points a day, at most 10: 88.0 - 3 = 85.0"
    assert any(said in text for text in texts(only(family, ann).worked))


def test_late_points_never_take_more_than_there_is(family, ann):
    family.settings.set("late_points_a_day", 50.0)
    family.settings.set("late_points_at_most", 100.0)
    hand_in(family, give(family, ann, "Call", due=date(2025, 9, 1)), date(2025, 9, 9), own=levels(1))
    # 62 - min(8 x 50, 100) is below 0, so 0.0
    assert (only(family, ann).percent, only(family, ann).letter) == (0.0, "F")


@pytest.mark.parametrize(("rule", "percent"), [("latest", 75.0), ("best", 88.0), ("mean", 81.5)])
def test_a_piece_done_over_by_each_rule(family, ann, rule, percent):
    call = give(family, ann, "Call")
    hand_in(family, call, date(2025, 9, 10), own=levels(3))  # 88
    hand_in(family, call, date(2025, 9, 20), own=levels(2))  # 75
    family.settings.set("redo_rule", rule)
    # latest 75; best 88; mean (88 + 75) / 2 = 81.5
    assert only(family, ann).percent == percent


@pytest.mark.parametrize(("rule", "percent"), [("latest", 84.0), ("best", 84.0), ("mean", 77.5)])
def test_the_first_draft_decides_how_late_a_piece_is_for_every_draft_of_it(family, ann, rule, percent):
    family.settings.set("late_points_a_day", 2.0)
    family.settings.set("redo_rule", rule)
    call = give(family, ann, "Call", due=date(2025, 9, 10))
    hand_in(family, call, date(2025, 9, 12), own=levels(2))  # 75, 2 days x 2 = 4: 71
    hand_in(family, call, date(2025, 9, 20), own=levels(3))  # 88 - 4 = 84
    # latest 84; best 84; mean (71 + 84) / 2 = 77.5
    assert only(family, ann).percent == percent


def test_revising_after_the_date_makes_no_piece_late(family, ann):
    family.settings.set("late_points_a_day", 2.0)
    call = give(family, ann, "Call", due=date(2025, 9, 10))
    hand_in(family, call, date(2025, 9, 10), own=levels(2))
    hand_in(family, call, date(2025, 9, 20), own=levels(3))
    assert only(family, ann).percent == 88.0


def test_a_later_draft_that_is_not_marked_waits(family, ann):
    call = give(family, ann, "Call")
    hand_in(family, call, own=levels(3))
    hand_in(family, call, date(2025, 9, 20), proposed=levels(4))
    grade = only(family, ann)
    assert (grade.percent, grade.provisional) == (88.0, False)  # the first draft's, as marked
    assert "draft 2 is not marked yet" in grade.worked.parts[0].text


def test_what_rests_on_a_proposal_is_provisional_and_says_so(family, ann):
    hand_in(family, give(family, ann, "Call"), proposed=levels(3, 2, 2, 2, 2))
    # 20 x 88 + 80 x 75 = 1760 + 6000 = 7760; / 100 = 77.6
    grade = only(family, ann)
    assert (grade.percent, grade.provisional) == (77.6, True)
    assert any("provisional, from the proposal" in text for text in texts(grade.worked))


def test_a_level_that_the_parent_left_out_is_the_proposed_one(family, ann):
    own = {"focus": 4, "organization": 4, "evidence": 4, "sentences": 4}
    hand_in(family, give(family, ann, "Call"), proposed=levels(2), own=own)
    # 80 x 98 + 20 x 75 = 7840 + 1500 = 9340; / 100 = 93.4
    grade = only(family, ann)
    assert (grade.percent, grade.provisional) == (93.4, True)
    assert any("conventions: provisional" in text for text in texts(grade.worked))


def test_a_mark_goes_by_the_rubric_that_it_was_made_on(family, ann):
    """The rubric was changed after the marking: its levels keep what they were worth."""
    draft = hand_in(family, give(family, ann, "Call"), proposed=levels(3), own=levels(3))
    propose(family, draft, levels(4), shipped("five-paragraph").replace("3 = 88", "3 = 80"))
    assert only(family, ann).percent == 88.0
    family.marks.add(draft.id, levels(3), marked_on=date(2025, 9, 20))
    assert only(family, ann).percent == 80.0  # marked anew on the new rubric: 100 x 80 / 100


def test_a_piece_has_the_letter_of_its_rubric(family, ann):
    draft = hand_in(family, give(family, ann, "Call"), own=levels(3))
    family.settings.set("letters", [["pass", 50], ["not yet", 0]])
    assert piece_grade(family, piece(family, draft.id)).letter == "B+"
    assert only(family, ann).letter == "pass"


def test_neither_marked_nor_scored_has_no_grade(family, ann):
    hand_in(family, give(family, ann, "Call", due=date(2025, 9, 10)))
    grade = only(family, ann)
    assert (grade.percent, grade.letter, grade.missing, grade.provisional) == (None, "", (), True)


def test_half_a_marking_without_a_proposal_has_no_grade_and_says_what_lacks(family, ann):
    hand_in(family, give(family, ann, "Call"), own={"focus": 3, "evidence": 4})
    grade = only(family, ann)
    assert grade.percent is None
    assert {"organization: no level yet", "sentences and word choice: no level yet"} <= set(texts(grade.worked))


def test_what_lacks_in_part_is_listed_and_the_rest_graded(family, ann):
    call = give(family, ann, "Call", points=(2, 2, 1), due=date(2025, 9, 10))
    family.answers.give(call.id, {1: 2, 2: 1})
    # 100 x 3 / 4 = 75.0; the third answer and the writing are not there
    grade = only(family, ann)
    assert (grade.percent, grade.provisional) == (75.0, True)
    assert [m.what for m in grade.missing] == [
        "due 2025-09-10: 1 of 3 short answers without points and no draft handed in"
    ]


@pytest.mark.parametrize(
    ("points", "percent", "letter"),
    [
        (17.99, 90.0, "A-"),  # 100 x 17.99 / 20 = 89.95, half up: 90.0
        (17.989, 89.9, "B+"),  # 89.945
        (18.59, 93.0, "A"),  # 92.95
        (18.58, 92.9, "A-"),  # 92.9
        (0, 0.0, "F"),
        (20, 100.0, "A"),
    ],
)
def test_letters_at_their_borders_go_by_the_percent_as_shown(family, ann, points, percent, letter):
    call = give(family, ann, "Quiz", points=(20,), prompt="")
    family.answers.give(call.id, {1: points})
    grade = only(family, ann)
    assert (grade.percent, grade.letter) == (percent, letter)


def test_answers_that_count_nothing_beside_writing_or_everything(family, ann):
    family.settings.set("answers_weight", 0)
    call = give(family, ann, "Call", points=(4,))
    family.answers.give(call.id, {1: 1})
    assert only(family, ann).percent == 25.0  # all that there is, though answers weigh nothing beside writing
    hand_in(family, call, own=levels(3))
    assert only(family, ann).percent == 88.0  # (0 x 25 + 100 x 88) / 100
    family.settings.set("answers_weight", 100)
    assert only(family, ann).percent == 25.0  # (100 x 25 + 0 x 88) / 100
