"""Which piece lies on the desk: the child, the task, the draft."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from ipywidgets import Checkbox, Dropdown, Widget

from rubric_kit.records.due import HANDED_IN, status_of
from rubric_kit.records.family import Family
from rubric_kit.records.pieces import Piece
from rubric_kit.records.rows import Assignment
from rubric_kit.showing.desk.boxes import row, shows
from rubric_kit.showing.due_view import STATUS
from rubric_kit.showing.inert import short

NAME = 40  # characters of a name or title in a list
JUST_A_FILE = "only look at a file"
NONE_YET = "nothing handed in yet"


class Choosing:
    """Three lists, each made of what was chosen in the one before; ``chosen`` is called when a person chose."""

    def __init__(self, chosen: Callable[[], None], *beside: Widget) -> None:
        self._chosen, self._by_hand = chosen, True
        self.child = Dropdown(description="Child", tooltip="")
        self.task = Dropdown(description="Task", tooltip="")
        self.draft = Dropdown(description="Draft", tooltip="")
        self.blind = Checkbox(description="Mark first, see the proposal afterwards", indent=False, tooltip="")
        for widget in (self.child, self.task, self.draft):
            widget.observe(self._observed, "value")
        self.widget = row(self.child, self.task, self.draft, self.blind, *beside)

    def fill(self, family: Family, wanted: Piece | None = None) -> None:
        """Lists as the records are now; what is chosen stays so, or becomes the wanted piece."""
        child, task, draft = (w.value for w in (self.child, self.task, self.draft))
        if wanted:
            child, task, draft = wanted.student.id, wanted.assignment.id, wanted.draft.id
        students = family.students.all()
        with self._quietly():
            _offer(self.child, [(short(s.name, NAME), s.id) for s in students] + [(JUST_A_FILE, None)], child)
            given = [a for a in family.tasks.assignments(self.child.value) if not a.excused] if self.child.value else []
            _offer(
                self.task,
                [(_task(family, a), a.id) for a in given] or [("no task yet", None)],
                task,
                _next(family, given),
            )
            drafts = family.drafts.of(self.task.value) if self.task.value else []
            marked = {d.id: family.marks.latest(d.id) is not None for d in drafts}
            named = [(f"{d.number}, {d.received_on}{', marked' if marked[d.id] else ''}", d.id) for d in drafts]
            _offer(self.draft, named or [(NONE_YET, None)], draft, drafts[-1].id if drafts else None)
            for widget in (self.task, self.draft):
                shows(widget, when=bool(self.child.value))

    def without_records(self) -> None:
        """No lists, where there are no records."""
        for widget in (self.child, self.task, self.draft):
            shows(widget, when=False)

    @contextmanager
    def _quietly(self) -> Iterator[None]:
        self._by_hand = False
        try:
            yield
        finally:
            self._by_hand = True

    def _observed(self, _: Any) -> None:
        if self._by_hand:
            self._chosen()


def _offer(widget: Dropdown, options: list[tuple[str, Any]], chosen: Any, otherwise: Any = None) -> None:
    """Options, of which the chosen one stays chosen where it is still there."""
    values = [value for _, value in options]
    widget.options = options
    widget.value = next(value for value in (chosen, otherwise, values[0]) if value in values)


def _task(family: Family, assignment: Assignment) -> str:
    title = short(family.tasks.get(assignment.task_id).title, NAME)
    return f"{title} ({STATUS[status_of(family, assignment)]})"


def _next(family: Family, given: list[Assignment]) -> int | None:
    """The child's task that waits to be marked, else the last that was set."""
    waiting = [a.id for a in given if status_of(family, a) == HANDED_IN]
    return waiting[0] if waiting else given[-1].id if given else None
