"""Grades against examples worked out by hand; the arithmetic stands above each figure."""

import sys
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.records.grades import book_grade, every_grade, term_grade, year_grade
from rubric_kit.records.piece_grades import piece_grade
from rubric_kit.records.pieces import piece
from rubric_kit.records.rows import OldMark
from rubric_kit.records.task_grades import task_grades
from rubric_kit.records.worked import exact, figure, letter_for, rounded, shown
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
    family.settings.set("answers_weight", 1)
    family.settings.set("writing_weight", 3)
    # (1 x 87.5 + 3 x 85.4) / 4 = (87.5 + 256.2) / 4 = 343.7 / 4 = 85.925
    assert only(family, ann).exact == Fraction(85925, 1000)


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


@pytest.mark.parametrize(("rule", "percent"), [("latest", 73.0), ("best", 75.0), ("mean", 74.0)])
def test_each_draft_loses_its_own_late_points_before_the_redo_rule(family, ann, rule, percent):
    family.settings.set("late_points_a_day", 2.0)
    family.settings.set("late_points_at_most", 15.0)
    family.settings.set("redo_rule", rule)
    call = give(family, ann, "Call", due=date(2025, 9, 10))
    hand_in(family, call, date(2025, 9, 10), own=levels(2))  # 75, in time
    hand_in(family, call, date(2025, 9, 20), own=levels(3))  # 88, 10 days x 2 = 20, at most 15: 73
    # latest 73; best 75; mean (75 + 73) / 2 = 74
    assert only(family, ann).percent == percent


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


@pytest.mark.parametrize(("today", "missing"), [(10, []), (11, ["due 2025-09-10: nothing handed in"])])
def test_missing_from_the_day_after_it_was_due_and_never_a_silent_zero(family, ann, today, missing):
    give(family, ann, "Call", points=(2, 2), due=date(2025, 9, 10))
    hand_in(family, give(family, ann, "Oz"), own=levels(3))
    grade = year_grade(family, ann.id, YEAR, date(2025, 9, today))
    assert (grade.percent, grade.pieces) == (88.0, 1)
    assert [each.what for each in grade.missing] == missing
    assert grade.provisional == bool(missing)


def test_what_lacks_in_part_is_listed_and_the_rest_graded(family, ann):
    call = give(family, ann, "Call", points=(2, 2, 1), due=date(2025, 9, 10))
    family.answers.give(call.id, {1: 2, 2: 1})
    # 100 x 3 / 4 = 75.0; the third answer and the writing are not there
    grade = only(family, ann)
    assert (grade.percent, grade.provisional) == (75.0, True)
    assert [m.what for m in grade.missing] == [
        "due 2025-09-10: 1 of 3 short answers without points and no draft handed in"
    ]


def test_excused_counts_nowhere(family, ann):
    call = give(family, ann, "Call", due=date(2025, 9, 10))
    hand_in(family, call, own=levels(1))
    give(family, ann, "Late one", due=date(2025, 9, 12))
    hand_in(family, give(family, ann, "Oz"), own=levels(3))
    # (62 + 88) / 2 = 75.0 and one missing; with both excused 88.0 and none
    before = year_grade(family, ann.id, YEAR, TODAY)
    for task in ("Call", "Late one"):
        family.tasks.excuse(family.tasks.find(task).id, ann.id)
    after = year_grade(family, ann.id, YEAR, TODAY)
    assert (before.percent, before.pieces, len(before.missing)) == (75.0, 2, 1)
    assert (after.percent, after.pieces, after.missing) == (88.0, 1, ())
    assert any("excused, counts nowhere" in text for text in texts(after.worked))


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


def test_a_book_is_the_mean_of_its_tasks_and_a_term_of_its_books(family, ann):
    term = family.terms.add("fall", date(2025, 9, 1), date(2025, 12, 20))
    call, oz = family.books.add("Call"), family.books.add("Oz")
    hand_in(family, give(family, ann, "Call 1", book=call), own=levels(3))  # 88
    hand_in(family, give(family, ann, "Call 2", book=call), own=levels(2))  # 75
    hand_in(family, give(family, ann, "Oz 1", book=oz), own=levels(4))  # 98
    hand_in(family, give(family, ann, "Free"), own=levels(1))  # 62, of no book
    # Call (88 + 75) / 2 = 81.5; the term (81.5 + 98 + 62) / 3 = 241.5 / 3 = 80.5
    assert book_grade(family, ann.id, call.id, TODAY).percent == 81.5
    grade = term_grade(family, ann.id, term.id, TODAY)
    assert (grade.percent, grade.letter, grade.pieces) == (80.5, "B-", 4)
    assert grade.worked.text == "fall: (81.5 + 98.0 + 62.0) / 3 = 80.5"


@pytest.fixture
def two_terms(family, ann):
    """Fall has two tasks (88, 75), spring one (98) and one in the summer is in neither (62)."""
    fall = family.terms.add("fall", date(2025, 9, 1), date(2025, 12, 20))
    family.terms.add("spring", date(2026, 1, 10), date(2026, 6, 10))
    hand_in(family, give(family, ann, "A", due=date(2025, 9, 1)), own=levels(3))
    hand_in(family, give(family, ann, "B", due=date(2025, 12, 20)), own=levels(2))
    hand_in(family, give(family, ann, "C", set_on=date(2025, 12, 1), due=date(2026, 1, 10)), own=levels(4))
    return fall


def test_a_year_of_terms_that_count_the_same(family, ann, two_terms):
    # fall (88 + 75) / 2 = 81.5; spring 98; (81.5 + 98) / 2 = 89.75, half up 89.8
    grade = year_grade(family, ann.id, YEAR, TODAY)
    assert (grade.exact, grade.percent, grade.letter) == (Fraction(8975, 100), 89.8, "B+")
    assert grade.worked.text == ("2025-26: each term the same, (81.5 + 98.0) / 2 = 89.75, which rounds to 89.8")


def test_a_year_of_terms_that_count_by_their_tasks(family, ann, two_terms):
    family.settings.set("year_counts", "pieces")
    # (2 x 81.5 + 1 x 98) / 3 = 261 / 3 = 87.0
    assert year_grade(family, ann.id, YEAR, TODAY).percent == 87.0


def test_work_outside_every_term_is_listed_and_counts_only_by_tasks(family, ann, two_terms):
    hand_in(family, give(family, ann, "D", due=date(2025, 12, 28)), own=levels(1))  # 62, between the terms
    grade = year_grade(family, ann.id, YEAR, TODAY)
    assert grade.percent == 89.8
    assert any("outside every term, so not counted" in text for text in texts(grade.worked))
    family.settings.set("year_counts", "pieces")
    # (2 x 81.5 + 1 x 98 + 1 x 62) / 4 = 323 / 4 = 80.75, half up 80.8
    assert year_grade(family, ann.id, YEAR, TODAY).percent == 80.8


def test_a_term_without_grades_does_not_pull_the_year_down(family, ann):
    family.terms.add("fall", date(2025, 9, 1), date(2025, 12, 20))
    family.terms.add("spring", date(2026, 1, 10), date(2026, 6, 10))
    hand_in(family, give(family, ann, "A", due=date(2025, 9, 1)), own=levels(3))
    assert year_grade(family, ann.id, YEAR, date(2025, 12, 1)).percent == 88.0


def test_the_explanation_goes_from_the_year_down_to_the_sentences(family, ann, two_terms):
    book = family.books.add("Oz")
    oz = give(family, ann, "Z", due=date(2026, 3, 1), book=book)
    hand_in(family, oz, proposed=levels(2), own=levels(3), comment="Clear and brave.")
    step = year_grade(family, ann.id, YEAR, TODAY).worked
    way = ["spring", "Oz", "Z: the writing alone", "writing: 88.0, of draft 1", "draft 1, handed in 2025-09-10"]
    for begins in [*way, "focus and thesis, weight 20: your level 3 (at grade) is worth 88.0; proposed was 2"]:
        step = next(part for part in step.parts if part.text.startswith(begins))
    (sheet,) = step.parts
    assert sheet.text == "the sheet proposed level 2: A reason for focus."
    assert [part.text for part in sheet.parts] == [
        "“Buck is strong.” (paragraph 1): states the point of the whole essay"
    ]
    assert "your comment: Clear and brave." in texts(year_grade(family, ann.id, YEAR, TODAY).worked)


def test_an_old_mark_counts_with_its_book_in_the_term_of_its_day(family, ann, two_terms):
    oz = family.books.add("Oz")
    hand_in(family, give(family, ann, "Z", due=date(2025, 10, 1), book=oz), own=levels(3))
    with family.database.write("old mark") as write:
        write.add(OldMark, student_id=ann.id, title="oz", marked_on=date(2025, 10, 2), percent=71.5, note="On paper.")
    # Oz (88 + 71.5) / 2 = 79.75; fall (88 + 75 + 79.75) / 3 = 242.75 / 3 = 80.9166..., shown 80.9
    grade = term_grade(family, ann.id, two_terms.id, TODAY)
    assert (grade.exact, grade.percent, grade.pieces) == (Fraction(24275, 300), 80.9, 4)
    assert "your note: On paper." in texts(grade.worked)


def test_every_grade_lists_the_year_its_terms_its_books_its_tasks(family, ann, two_terms):
    hand_in(family, give(family, ann, "Z", due=date(2026, 3, 1), book=family.books.add("Oz")), own=levels(3))
    grades = every_grade(family, ann.id, TODAY)
    assert [(g.kind, g.name) for g in grades] == [
        ("year", "2025-26"),
        ("term", "fall"),
        ("term", "spring"),
        ("book", "Oz"),
        *(("task", name) for name in "ABCZ"),
    ]


def test_what_is_not_there_is_said(family, ann):
    for ask in (
        lambda: year_grade(family, 99, YEAR, TODAY),
        lambda: year_grade(family, ann.id, "2025", TODAY),
        lambda: term_grade(family, ann.id, 99, TODAY),
        lambda: book_grade(family, ann.id, 99, TODAY),
    ):
        with pytest.raises(RecordsError):
            ask()
    assert year_grade(family, ann.id, YEAR, TODAY).percent is None
    assert every_grade(family, ann.id, TODAY) == []


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("letters", []),
        ("letters", [["A", 90], ["B", 90]]),
        ("letters", [["A", 80], ["B", 90]]),
        ("letters", [["A", 90], ["A", 80]]),
        ("letters", [["A", 120]]),
        ("letters", [["A", "90"]]),
        ("letters", [["A", True]]),
        ("letters", [["", 90]]),
        ("letters", [["A"]]),
        ("letters", ["A-"]),
        ("answers_weight", -1),
        ("redo_rule", "worst"),
        ("year_counts", "moons"),
        ("late_points_a_day", -1.0),
        ("late_points_a_day", float("nan")),
        ("late_points_at_most", 101.0),
    ],
)
def test_settings_that_no_grade_can_be_worked_out_with_are_refused(family, name, value):
    before = family.settings.all()
    with pytest.raises(RecordsError, match=name):
        family.settings.set(name, value)
    assert family.settings.all() == before


def test_not_both_weights_are_zero(family, ann):
    family.settings.set("answers_weight", 0)
    with pytest.raises(RecordsError, match="not both 0"):
        family.settings.set("writing_weight", 0)
    call = give(family, ann, "Call", points=(4,))
    family.answers.give(call.id, {1: 1})
    assert only(family, ann).percent == 25.0  # all that there is, though answers weigh nothing beside writing
    hand_in(family, call, own=levels(3))
    assert only(family, ann).percent == 88.0  # (0 x 25 + 60 x 88) / 60


@pytest.mark.parametrize(
    ("value", "inside", "outside"),
    [
        ("84", "84.0", "84.0"),
        ("83.125", "83.125", "83.1"),
        ("250/3", "83.333…", "83.3"),
        ("89.9499", "89.949…", "89.9"),
    ],
)
def test_a_figure_is_never_written_as_more_than_it_is(value, inside, outside):
    assert (figure(Fraction(value)), shown(Fraction(value))) == (inside, outside)


def test_the_one_rounding_is_half_up_of_what_was_written():
    # 0.05 -> 0.1 and 89.95 -> 90.0, though the nearest binary numbers are below or the even digit is nearer
    assert [shown(exact(x)) for x in (0.05, 0.15, 0.25, 89.95, 99.95)] == ["0.1", "0.2", "0.3", "90.0", "100.0"]
    assert rounded(Fraction(8995, 100)) == 90
    assert letter_for([("A", 89.5), ("B", 0)], Fraction("89.45")) == "A"
    assert letter_for([("A", 89.5), ("B", 60)], Fraction(0)) == "B"
    with pytest.raises(RecordsError):
        exact(float("inf"))


def test_odd_points_days_and_names_give_a_grade_or_a_reason(family, ann):
    tiny = give(family, ann, "tiny", points=(1e-9, 1e12))
    family.answers.give(tiny.id, {1: 1e-9, 2: 3.3333333})
    hand_in(family, give(family, ann, "nul\x00" + "x" * 300, set_on=date(1, 1, 1)), date(9999, 12, 31), own=levels(3))
    draft = hand_in(family, give(family, ann, "words only"))
    family.marks.add(draft.id, {}, marked_on=date(2025, 9, 9), comment="No levels.")
    grades = {g.name[:5]: g.percent for g in every_grade(family, ann.id, TODAY) if g.kind == "task"}
    assert grades == {"tiny": 0.0, "nul\x00x": 88.0, "words": None}
    endless = give(family, ann, "endless", points=(float("inf"),))
    family.answers.give(endless.id, {1: 1})
    with pytest.raises(RecordsError, match="inf"):
        every_grade(family, ann.id, TODAY)
