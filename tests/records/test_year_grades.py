"""Grades of books, terms and years against examples worked out by hand, and their explanation."""

import sys
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.records.grades import book_grade, every_grade, term_grade, year_grade
from rubric_kit.records.rows import OldMark

sys.path.insert(0, str(Path(__file__).parent))
from grading import give, hand_in, levels

TODAY = date(2026, 6, 15)
YEAR = "2025-26"


@pytest.fixture
def ann(family):
    return family.students.add("Ann", grade=8, school_year=YEAR)


def texts(worked):
    return [worked.text, *(text for part in worked.parts for text in texts(part))]


@pytest.mark.parametrize(("today", "missing"), [(10, []), (11, ["due 2025-09-10: nothing handed in"])])
def test_missing_from_the_day_after_it_was_due_and_never_a_silent_zero(family, ann, today, missing):
    give(family, ann, "Call", points=(2, 2), due=date(2025, 9, 10))
    hand_in(family, give(family, ann, "Oz"), own=levels(3))
    grade = year_grade(family, ann.id, YEAR, date(2025, 9, today))
    assert (grade.percent, grade.pieces) == (88.0, 1)
    assert [each.what for each in grade.missing] == missing
    assert grade.provisional == bool(missing)


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


def test_odd_points_days_and_names_give_a_grade_or_a_reason(family, ann):
    tiny = give(family, ann, "tiny", points=(1e-9, 1e6))
    family.answers.give(tiny.id, {1: 1e-9, 2: 3.3333333})
    hand_in(family, give(family, ann, "nul\x00" + "x" * 300, set_on=date(1, 1, 1)), date(9999, 12, 31), own=levels(3))
    hand_in(family, give(family, ann, "unmarked"))
    grades = {g.name[:5]: g.percent for g in every_grade(family, ann.id, TODAY) if g.kind == "task"}
    assert grades == {"tiny": 0.0, "nul\x00x": 88.0, "unmar": None}
    with pytest.raises(RecordsError, match="to a million"):
        give(family, ann, "endless", points=(float("inf"),))
