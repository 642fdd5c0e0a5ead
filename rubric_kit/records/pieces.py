"""Every draft with all that belongs to it, for grades, growth, charts and the portfolio."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any

from rubric_kit.records.family import Family
from rubric_kit.records.rows import Assignment, Book, Draft, KeptRubric, Mark, Sheet, Student, Task

if TYPE_CHECKING:
    from rubric_kit.scoring.rubric import Rubric


@dataclass(frozen=True)
class Piece:
    """A draft, whose it is, and what was said of it.

    sheet     the latest proposal, or none
    mark      the reader's own marking that counts, or none
    proposed  levels by criterion key, of the proposal; {} where there is none
    own       the reader's levels; {} where the piece is not marked
    levels    the levels that count: the reader's, where there are none the proposed ones
    """

    student: Student
    grade: int
    book: Book | None
    task: Task
    assignment: Assignment
    draft: Draft
    sheet: Sheet | None
    kept_rubric: KeptRubric | None
    mark: Mark | None
    own: Mapping[str, int]

    @property
    def date(self) -> date:
        return self.draft.received_on

    @property
    def form(self) -> str:
        return self.assignment.form

    @property
    def is_marked(self) -> bool:
        return self.mark is not None

    @cached_property
    def body(self) -> Mapping[str, Any]:
        """The proposal as plain data (scoring/as_json.py); {} where there is none."""
        body: Mapping[str, Any] = json.loads(self.sheet.body) if self.sheet else {}
        return body

    @cached_property
    def proposed(self) -> Mapping[str, int]:
        return {c["key"]: c["level"] for c in self.body.get("criteria", ())}

    @property
    def levels(self) -> Mapping[str, int]:
        return self.own or self.proposed

    @cached_property
    def rubric(self) -> Rubric | None:
        """The rubric that the piece was scored on, as it was then."""
        from rubric_kit.scoring.rubric_file import parse_rubric

        return parse_rubric(self.kept_rubric.text, self.kept_rubric.name) if self.kept_rubric else None

    @property
    def percent(self) -> float | None:
        """What the levels that count are worth; none where a criterion has no level."""
        if self.rubric is None or any(c.key not in self.levels for c in self.rubric.criteria):
            return None
        return self.rubric.percent_for(self.levels)

    def measure(self, name: str) -> float | None:
        """A measure or a readability formula of the proposal; none where it could not be said."""
        value = self.body.get("measures", {}).get(name, self.body.get("readability", {}).get(name))
        return None if value is None else float(value)


def pieces(family: Family, student_id: int | None = None, *, last_drafts: bool = False) -> list[Piece]:
    """All pieces, or one child's, by date. ``last_drafts``: only the last draft of each task."""
    every = (_pieces_of(family, a) for a in family.tasks.assignments(student_id))
    found = [piece for of_task in every for piece in (of_task[-1:] if last_drafts else of_task)]
    return sorted(found, key=lambda p: (p.date, p.student.name, p.draft.number, p.draft.id))


def piece(family: Family, draft_id: int) -> Piece:
    """One draft with all that belongs to it.

    Raises RecordsError where there is no such draft.
    """
    draft = family.drafts.get(draft_id)
    assignment = family.database.row(Assignment, draft.assignment_id)
    return next(p for p in _pieces_of(family, assignment) if p.draft.id == draft_id)


def _pieces_of(family: Family, assignment: Assignment) -> list[Piece]:
    drafts = family.drafts.of(assignment.id)
    if not drafts:
        return []
    task = family.tasks.get(assignment.task_id)
    book = family.database.rows(Book, "id = ?", [task.book_id])
    student = family.students.get(assignment.student_id)
    return [_piece(family, student, book[0] if book else None, task, assignment, draft) for draft in drafts]


def _piece(
    family: Family, student: Student, book: Book | None, task: Task, assignment: Assignment, draft: Draft
) -> Piece:
    sheet = family.sheets.latest(draft.id)
    mark = family.marks.latest(draft.id)
    return Piece(
        student=student,
        grade=family.students.grade_on(student.id, draft.received_on),
        book=book,
        task=task,
        assignment=assignment,
        draft=draft,
        sheet=sheet,
        kept_rubric=family.sheets.rubric(sheet) if sheet else None,
        mark=mark,
        own=family.marks.levels(mark.id) if mark else {},
    )
