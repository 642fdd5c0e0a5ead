"""Books, tasks with a version for each child, and what is due."""

from datetime import date

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.records.due import EXCUSED, HANDED_IN, MARKED, SET, due
from rubric_kit.records.rows import Assignment, Question, Task
from rubric_kit.records.tasks import Version, usual_form
from rubric_kit.showing.due_view import how_far, summary, when

LEVELS = {"focus": 3, "organization": 2, "evidence": 3, "sentences": 3, "conventions": 2}


def row_of(family, name, today, **options):
    return next(row for row in due(family, today, **options) if row.student.name == name)


@pytest.mark.parametrize(
    ("grade", "form"), [(0, "paragraph"), (4, "paragraph"), (5, "three-paragraph"), (6, "three-paragraph")]
)
def test_younger_children_write_a_paragraph_or_three(grade, form):
    assert usual_form(grade) == form


def test_one_task_is_fitted_to_each_child(busy):
    task = busy.tasks.find("The wild")
    ann, ben = (busy.tasks.assignment(task.id, busy.students.find(name).id) for name in ("Ann", "Ben"))
    assert (ann.form, ben.form) == ("five-paragraph", "three-paragraph")
    assert [q.text for q in busy.tasks.questions_of(ben)] == ["Who is Buck?", "Where is he taken?"]
    assert len(busy.tasks.questions_of(ann)) == 3


def test_a_task_and_all_its_versions_are_one_write(busy):
    busy.tasks.add("More", "Why?", set_on=date(2026, 5, 20), questions=[("Who?", 1)], versions={1: Version()})
    busy.undo()
    assert [t.title for t in busy.tasks.all()] == ["The wild"]
    assert len(busy.database.rows(Question)) == 3
    assert len(busy.database.rows(Assignment)) == 2


@pytest.mark.parametrize("version", [Version(questions=4), Version(questions=-1), Version(form="sonnet")])
def test_a_version_that_cannot_be_leaves_no_task(busy, version):
    with pytest.raises(RecordsError):
        busy.tasks.add("More", "Why?", set_on=date(2026, 5, 20), questions=[("Who?", 1)], versions={1: version})
    assert [t.title for t in busy.database.rows(Task)] == ["The wild"]


def test_giving_again_changes_the_version(busy):
    task, ben = busy.tasks.find("The wild"), busy.students.find("Ben")
    busy.tasks.give(task.id, ben.id, Version(form="paragraph", questions=1))
    assert len(busy.tasks.assignments(ben.id)) == 1
    assert busy.tasks.assignment(task.id, ben.id).form == "paragraph"


def test_a_new_day_holds_for_all_children_and_is_taken_back_at_once(busy):
    task = busy.tasks.find("The wild")
    busy.tasks.move_due(task.id, date(2026, 6, 1))
    assert {a.due for a in busy.tasks.assignments()} == {date(2026, 6, 1)}
    busy.undo()
    assert {a.due for a in busy.tasks.assignments()} == {date(2026, 5, 14), date(2026, 5, 20)}


def test_two_books_of_a_title_are_told_apart_by_author(family):
    family.books.add("Poems", "A. Hill")
    lake = family.books.add("Poems", "B. Lake")
    with pytest.raises(RecordsError, match=r"Poems by A\. Hill or Poems by B\. Lake"):
        family.books.find("poems")
    assert family.books.find("Poems by B. Lake") == lake
    with pytest.raises(RecordsError, match="in the list already"):
        family.books.add("Poems", "B. Lake")


def test_a_book_is_not_finished_before_it_is_started(family):
    with pytest.raises(RecordsError, match="started before"):
        family.books.add("Poems", started=date(2026, 2, 1), finished=date(2026, 1, 1))


def test_what_is_due_goes_from_set_to_marked(busy):
    today = date(2026, 5, 16)
    draft = busy.drafts.all()[0]
    assert [row.status for row in due(busy, today)] == [HANDED_IN, SET]
    assert row_of(busy, "Ben", today).days == 4
    busy.marks.add(draft.id, LEVELS, marked_on=today)
    assert [(row.student.name, row.unanswered) for row in due(busy, today)] == [("Ann", 3), ("Ben", 2)]
    busy.answers.give(draft.assignment_id, {1: 2, 2: 2, 3: 1})
    assert [row.student.name for row in due(busy, today)] == ["Ben"]
    assert row_of(busy, "Ann", today, everything=True).status == MARKED
    busy.tasks.excuse(busy.tasks.find("The wild").id, busy.students.find("Ben").id)
    assert due(busy, today) == []
    assert row_of(busy, "Ben", today, everything=True).status == EXCUSED


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2026, 5, 22), "2 days late"),
        (date(2026, 5, 21), "1 day late"),
        (date(2026, 5, 20), "today"),
        (date(2026, 5, 19), "tomorrow"),
        (date(2026, 5, 13), "in 7 days"),
        (date(2026, 5, 12), "on 2026-05-20"),
    ],
)
def test_days_are_told_in_words(busy, day, said):
    assert when(row_of(busy, "Ben", day)) == said


def test_how_far_and_the_sum_are_told_in_words(busy):
    rows = due(busy, date(2026, 5, 22))
    assert summary(rows) == "1 late, 1 to mark"
    assert [how_far(row) for row in rows] == ["to mark, 3 answers open", "not handed in, 2 answers open"]
    assert summary([]) == ""
