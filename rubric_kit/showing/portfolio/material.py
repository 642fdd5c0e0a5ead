"""What the records hold of one child's school year or term, gathered once for all the parts of a document."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from rubric_kit.records.family import Family
from rubric_kit.records.people import school_year_of
from rubric_kit.records.pieces import Piece, pieces
from rubric_kit.records.rows import Assignment, Student, Task
from rubric_kit.showing.portfolio.names import Names


@dataclass(frozen=True, slots=True)
class Material:
    """assignments  the child's tasks, by day; excused ones too
    drafts       every draft of those that were not excused, by date
    """

    family: Family
    student: Student
    names: Names
    assignments: tuple[tuple[Task, Assignment], ...]
    drafts: tuple[Piece, ...]

    @property
    def who(self) -> str:
        return self.names.person(self.student.name)

    @property
    def last_drafts(self) -> tuple[Piece, ...]:
        """The last draft of each task, by date."""
        last = {piece.assignment.id: piece for piece in sorted(self.drafts, key=lambda p: p.draft.number)}
        return tuple(piece for piece in self.drafts if last[piece.assignment.id] is piece)


def day_of(task: Task, assignment: Assignment) -> date:
    """The day by which a task belongs to a term and a year, as grades have it: when it is due, else when it was set."""
    return assignment.due or task.set_on


def of_year(family: Family, student: Student, school_year: str, initials: bool, also: Sequence[str]) -> Material:
    """The tasks of a school year with their drafts. ``also``: other people's names to replace."""
    return _gathered(family, student, lambda day: school_year_of(day) == school_year, initials, also)


def of_days(family: Family, student: Student, begins: date, ends: date, initials: bool) -> Material:
    """The same from one day to another."""
    return _gathered(family, student, lambda day: begins <= day <= ends, initials, ())


def last_year(family: Family, student_id: int, today: date) -> str:
    """The last school year in which the child had a task by that day; without any, the one of that day."""
    tasks = {task.id: task for task in family.tasks.all()}
    days = [day_of(tasks[a.task_id], a) for a in family.tasks.assignments(student_id)]
    return school_year_of(max((day for day in days if day <= today), default=today))


def _gathered(
    family: Family, student: Student, wanted: Callable[[date], bool], initials: bool, also: Sequence[str]
) -> Material:
    tasks = {task.id: task for task in family.tasks.all()}
    found = [(tasks[a.task_id], a) for a in family.tasks.assignments(student.id)]
    within = sorted(((t, a) for t, a in found if wanted(day_of(t, a))), key=lambda pair: (day_of(*pair), pair[1].id))
    counted = {a.id for _, a in within if not a.excused}
    every = pieces(family) if initials else pieces(family, student.id)
    people = [*(child.name for child in family.students.all()), *also]
    names = Names(people, _blocks(every, "heading"), _blocks(every, "title"), initials=initials)
    drafts = [_told(p, names) for p in every if p.assignment.id in counted]
    return Material(family, student, names, tuple(within), tuple(drafts))


def _blocks(every: Sequence[Piece], kind: str) -> list[str]:
    """The headings or titles of the pieces that were scored."""
    return [text for piece in every if (text := piece.body.get(kind))]


def _told(piece: Piece, names: Names) -> Piece:
    """A piece whose title may stand in a chart."""
    return replace(piece, task=replace(piece.task, title=names(piece.task.title)))
