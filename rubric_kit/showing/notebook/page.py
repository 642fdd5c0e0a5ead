"""What the pages for notebooks share: the records, the list of children, the line that says what was done, one look.

Every act opens the records for itself: a notebook may run it in another thread than the one before, and SQLite's
connections belong to one thread.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from ipywidgets import HTML, Dropdown, HBox, VBox, Widget

from rubric_kit.errors import RecordsError
from rubric_kit.records.family import Family, open_family
from rubric_kit.records.pieces import Piece
from rubric_kit.showing.desk.message import Message
from rubric_kit.showing.html import style_of
from rubric_kit.showing.inert import short

NAME = 40  # characters of a name or title in a list
NO_RECORDS = "There are no records yet. Begin some in a terminal: rubric-kit begin"
NO_CHILDREN = "There is no child in these records yet. Add one in a terminal: rubric-kit student add NAME --grade 5"
STYLES = ("sheet.css", "desk.css", "notebook.css")


class NotebookPage:
    """A page about one child, chosen from a list. What a page adds: ``_another_child``, ``__repr__``, and what is seen:
    ``body`` above the line that says what was done, so that it is near the buttons; ``rest`` below it.
    """

    styles: tuple[str, ...] = ()

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder
        self._by_hand = True
        self.message = Message()
        self.child = Dropdown(description="Child")
        self.choices = row(self.child)
        self.body, self.rest = VBox(), VBox()
        style = HTML(f"<style>{style_of((*STYLES, *self.styles))}</style>")
        self.box = VBox([style, self.choices, self.body, self.message.widget, self.rest])
        self.box.add_class("rkd")
        self.box.add_class("rkn")

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        return {**self.box._repr_mimebundle_(**options), "text/plain": repr(self)}

    def _begin(self) -> None:
        """Fill the list and show the first child; without any say how to begin."""
        self.message.calm(self._first_child)()

    def _first_child(self) -> None:
        if self._folder is None:
            self._empty(NO_RECORDS)
            return
        with self._records() as family:
            children = [(short(s.name, NAME), s.id) for s in family.students.all()]
        if not children:
            self._empty(NO_CHILDREN)
            return
        self._offer(self.child, children)
        self.child.observe(self.message.calm(lambda _: self._another_child()), "value")
        self._another_child()

    def _empty(self, why: str) -> None:
        self.choices.layout.display = "none"
        self._display(False)
        self.message.say(why)

    def _display(self, shown: bool) -> None:
        """Whether there is more to see than the lists and the message."""
        for widget in (self.body, self.rest):
            widget.layout.display = None if shown else "none"

    def _another_child(self) -> None:
        """Called when a child was chosen."""
        raise NotImplementedError

    @contextmanager
    def _records(self) -> Iterator[Family]:
        if self._folder is None:
            raise RecordsError(NO_RECORDS)
        with open_family(self._folder) as family:
            yield family

    def _offer(self, widget: Dropdown, options: Sequence[tuple[str, Any]], chosen: Any = None) -> None:
        """Options, of which one is chosen, the first if that one is not among them; nobody is told of it."""
        values = [value for _, value in options]
        self._by_hand = False
        try:
            widget.options = options
            widget.value = chosen if chosen in values else values[0] if values else None
        finally:
            self._by_hand = True

    def _when_chosen(self, widget: Widget, act: Any) -> None:
        """Do this when a person chose something else there."""
        calm = self.message.calm(lambda _: act())
        widget.observe(lambda change: calm(change) if self._by_hand else None, "value")

    @property
    def _sheets(self) -> Path:
        """Where what is made goes, unless another folder is named."""
        return (self._folder or Path.cwd()) / "sheets"


def row(*widgets: Widget) -> HBox:
    """Widgets beside one another, below where there is no room."""
    box = HBox(widgets)
    box.add_class("rkd-row")
    return box


def called(piece: Piece) -> str:
    """A piece in a list; the first draft of a task is not named as one."""
    draft = f", draft {piece.draft.number}" if piece.draft.number > 1 else ""
    return f"{piece.date} {short(piece.task.title, NAME)}{draft}"
