"""The grade of one child's task: its writing by the levels of a rubric, its short answers by their points."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from rubric_kit.records.family import Family
from rubric_kit.records.piece_grades import piece_grade
from rubric_kit.records.pieces import Piece, pieces
from rubric_kit.records.rows import Assignment, Book, OldMark, Question, Task
from rubric_kit.records.worked import (
    WHOLE,
    Grade,
    Letters,
    Missing,
    Worked,
    exact,
    figure,
    letter_for,
    mean,
    plain,
    result,
)

LATEST, BEST, MEAN = "latest", "best", "mean"  # the redo rules


@dataclass(frozen=True, slots=True)
class TaskGrade:
    """A child's task with its grade, or an old mark, which has no assignment.

    day  places it in a term and a year: when it is due, else when it was set; of an old mark, when it was marked
    """

    assignment: Assignment | None
    book: Book | None
    day: date
    grade: Grade


@dataclass(frozen=True, slots=True)
class _Part:
    """The answers or the writing of a task: what is there of it, and what is not."""

    worked: Worked
    provisional: bool = False
    missing: str = ""


def task_grades(family: Family, student_id: int, today: date) -> list[TaskGrade]:
    """The grade of each of a child's tasks and old marks, by day.

    Raises RecordsError for a student that is not there, RubricFileError for a kept rubric that this version cannot use.
    """
    student = family.students.get(student_id)
    by_task: dict[int, list[Piece]] = {}
    for piece in pieces(family, student_id):
        by_task.setdefault(piece.assignment.id, []).append(piece)
    settings = family.settings.all()
    graded = [
        _task_grade(family, settings, assignment, by_task.get(assignment.id, []), today)
        for assignment in family.tasks.assignments(student_id)
    ]
    graded += [_old_mark(family, settings, student.name, mark) for mark in family.old_marks.of(student_id)]
    return sorted(graded, key=lambda each: each.day)


def late(settings: Mapping[str, Any], value: Fraction, days: int) -> Fraction:
    """What is left of a percent that many days after the date; never below 0."""
    off = min(days * exact(settings["late_points_a_day"]), exact(settings["late_points_at_most"]))
    return max(value - max(off, Fraction(0)), Fraction(0))


def _task_grade(
    family: Family, settings: Mapping[str, Any], assignment: Assignment, drafts: Sequence[Piece], today: date
) -> TaskGrade:
    task, student = family.tasks.get(assignment.task_id), family.students.get(assignment.student_id)
    book = family.database.rows(Book, "id = ?", [task.book_id])
    if assignment.excused:
        worked, provisional, missing = Worked(f"{task.title}: excused, counts nowhere"), False, ""
    else:
        overdue = assignment.due is not None and assignment.due < today
        worked, provisional, missing = _both(
            task,
            assignment,
            settings,
            _answers(family, assignment),
            _writing(family, settings, task, assignment, drafts),
            overdue=overdue,
        )
    grade = Grade(
        kind="task",
        name=task.title,
        student=student.name,
        exact=worked.value,
        letter="" if worked.value is None else letter_for(letters_of(settings), worked.value),
        provisional=provisional,
        pieces=int(worked.value is not None),
        missing=(Missing(student.name, task.title, missing),) if missing else (),
        worked=worked,
        excused=assignment.excused,
    )
    return TaskGrade(assignment, book[0] if book else None, assignment.due or task.set_on, grade)


def _old_mark(family: Family, settings: Mapping[str, Any], student: str, mark: OldMark) -> TaskGrade:
    """A mark from before these records began; it belongs to the book that has its title, where there is just one."""
    value = exact(mark.percent)
    books = [book for book in family.books.all() if book.title.casefold() == mark.title.casefold()]
    levels = tuple(Worked(f"{key}: level {level}") for key, level in json.loads(mark.levels).items())
    note = (Worked(f"your note: {mark.note}"),) if mark.note else ()
    text = f"{mark.title}: {result(value)}, marked {mark.marked_on}, before these records began"
    worked = Worked(text, value, levels + note)
    letter = letter_for(letters_of(settings), value)
    grade = Grade("task", mark.title, student, value, letter, False, 1, (), worked)
    return TaskGrade(None, books[0] if len(books) == 1 else None, mark.marked_on, grade)


def letters_of(settings: Mapping[str, Any]) -> Letters:
    """The family's letters with the least percent for each."""
    return [(str(letter), float(least)) for letter, least in settings["letters"]]


def _both(
    task: Task,
    assignment: Assignment,
    settings: Mapping[str, Any],
    answers: _Part | None,
    writing: _Part | None,
    *,
    overdue: bool,
) -> tuple[Worked, bool, str]:
    """Answers and writing by their weights; where only one of them has a figure, that one alone."""
    there = [part for part in (answers, writing) if part]
    share = exact(settings["answers_weight"])
    weights = {"answers": share, "writing": WHOLE - share}
    named = {"answers": answers, "writing": writing}
    valued = {name: p.worked.value for name, p in named.items() if p and p.worked.value is not None}
    lacking = [part.missing for part in there if part.missing]
    what = " and ".join(lacking) if valued or len(lacking) < len(there) else "nothing handed in"
    missing = f"due {assignment.due}: {what}" if overdue and lacking else ""
    said = f"; {missing}, which counts nowhere until you decide" if missing else ""
    parts = tuple(part.worked for part in there)
    provisional = any(part.provisional for part in there) or bool(lacking and (overdue or valued))
    if not valued:
        waits = f" (due {assignment.due})" if assignment.due and not missing else ""
        return Worked(f"{task.title}: no grade yet{waits}{said}", None, parts), provisional, missing
    by = [(weights[name], value) for name, value in valued.items()] if len(valued) > 1 else []
    value, sum_ = mean(by or [(Fraction(1), each) for each in valued.values()])
    which = "answers and writing" if by else f"the {next(iter(valued))} alone"
    return Worked(f"{task.title}: {which}, {sum_}{said}", value, parts), provisional, missing


def _answers(family: Family, assignment: Assignment) -> _Part | None:
    """The points given by the points asked for; a question without points counts nowhere until it has some."""
    asked = family.tasks.questions_of(assignment)
    if not asked:
        return None
    given = {answer.question_id: exact(answer.points) for answer in family.answers.of(assignment.id)}
    parts = tuple(_answer(question, given.get(question.id)) for question in asked)
    answered = [question for question in asked if question.id in given]
    without = len(asked) - len(answered)
    missing = f"{without} of {len(asked)} short answers without points" if without else ""
    if not answered:
        return _Part(Worked("answers: no points yet", None, parts), missing=missing)
    got = sum((given[question.id] for question in answered), Fraction(0))
    worth = sum((exact(question.points) for question in answered), Fraction(0))
    value = WHOLE * got / worth
    said = f"; {missing}, left out" if missing else ""
    text = f"answers: 100 x {plain(got)} / {plain(worth)} points = {result(value)}{said}"
    return _Part(Worked(text, value, parts), bool(missing), missing)


def _answer(question: Question, points: Fraction | None) -> Worked:
    got = "no points yet" if points is None else f"{plain(points)} of {plain(exact(question.points))} points"
    return Worked(f"question {question.number}, “{question.text}”: {got}")


def _writing(
    family: Family, settings: Mapping[str, Any], task: Task, assignment: Assignment, drafts: Sequence[Piece]
) -> _Part | None:
    """The draft that counts by the redo rule, among the marked ones; where none is marked, among the scored ones.

    A task with an empty prompt asks for no writing.
    """
    if not drafts:
        return _Part(Worked("writing: no draft yet"), missing="no draft handed in") if task.prompt else None
    drafts = sorted(drafts, key=lambda piece: piece.draft.number)
    marked = [piece for piece in drafts if piece.own]
    tried = [(piece, piece_grade(family, piece)) for piece in marked or drafts]
    graded = [(piece, grade) for piece, grade in tried if grade.exact is not None]
    if not graded:
        levels = tuple(grade.worked for _, grade in tried)
        return _Part(Worked("writing: no draft has a level for every criterion yet", None, levels), provisional=True)
    parts = tuple(_after_late(settings, assignment.due, drafts[0], grade.worked) for _, grade in graded)
    values = [part.value for part in parts if part.value is not None]
    kind = "marked" if marked else "scored"
    later = drafts[-1] if marked and drafts[-1] is not marked[-1] else None
    said = f"; draft {later.draft.number} is not marked yet" if later else ""
    rule = settings["redo_rule"] if len(parts) > 1 else LATEST
    if rule == MEAN:
        value, sum_ = mean([(Fraction(1), each) for each in values])
        text, at = f"writing: the mean of {len(parts)} {kind} drafts, {sum_}{said}", None
    else:
        at = values.index(max(values)) if rule == BEST else len(values) - 1
        value = values[at]
        among = f", the {rule} of {len(parts)} {kind} drafts" if len(parts) > 1 else ""
        text = f"writing: {result(value)}, of draft {graded[at][0].draft.number}{among}{said}"
    counted = graded if at is None else [graded[at]]
    return _Part(Worked(text, value, parts), any(grade.provisional for _, grade in counted))


def _after_late(settings: Mapping[str, Any], due: date | None, first: Piece, worked: Worked) -> Worked:
    """A draft's percent with the points for late work taken off. The first draft decides: revising makes none late."""
    days = (first.date - due).days if due else 0
    if worked.value is None or days <= 0:
        return worked
    value = late(settings, worked.value, days)
    if value == worked.value:
        return worked
    rule = f"{plain(exact(settings['late_points_a_day']))} points a day"
    most = f"at most {plain(exact(settings['late_points_at_most']))}"
    text = (
        f"draft {first.draft.number} came {first.date}, {days} {'day' if days == 1 else 'days'} late; {rule}, {most}: "
        f"{figure(worked.value)} - {plain(worked.value - value)} = {result(value)}"
    )
    return Worked(text, value, (worked,))
