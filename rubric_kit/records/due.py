"""What is due: every child's open tasks by date, and how far each one has come."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rubric_kit.records.family import Family
from rubric_kit.records.rows import Assignment, Student, Task

# How far a task has come, in the order that it goes.
SET, HANDED_IN, MARKED, EXCUSED = "set", "handed in", "marked", "excused"


@dataclass(frozen=True, slots=True)
class Due:
    """One child's task. ``days`` from today until it is due, below zero when late; none without a date.

    drafts  how many were handed in; unanswered  how many short answers have no points yet
    """

    student: Student
    task: Task
    assignment: Assignment
    status: str
    days: int | None
    drafts: int
    unanswered: int


def due(family: Family, today: date, *, everything: bool = False) -> list[Due]:
    """Open tasks, marked ones with answers still open too, those due first at the top; with ``everything`` all."""
    rows = [_due(family, assignment, today) for assignment in family.tasks.assignments()]
    wanted = [row for row in rows if everything or _is_open(row)]
    return sorted(wanted, key=lambda row: (row.assignment.due or date.max, row.student.name, row.task.id))


def _is_open(row: Due) -> bool:
    return row.status in {SET, HANDED_IN} or (row.status == MARKED and row.unanswered > 0)


def status_of(family: Family, assignment: Assignment) -> str:
    """How far a child's task has come: its last draft decides."""
    if assignment.excused:
        return EXCUSED
    drafts = family.drafts.of(assignment.id)
    if not drafts:
        return SET
    return MARKED if family.marks.latest(drafts[-1].id) else HANDED_IN


def _due(family: Family, assignment: Assignment, today: date) -> Due:
    task = family.tasks.get(assignment.task_id)
    asked = len(family.tasks.questions_of(assignment))
    return Due(
        student=family.students.get(assignment.student_id),
        task=task,
        assignment=assignment,
        status=status_of(family, assignment),
        days=(assignment.due - today).days if assignment.due else None,
        drafts=len(family.drafts.of(assignment.id)),
        unanswered=asked - len(family.answers.of(assignment.id)),
    )
