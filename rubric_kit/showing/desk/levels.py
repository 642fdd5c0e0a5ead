"""The criteria of a rubric: the proposed level, what stands behind it, and the reader's own."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from ipywidgets import HTML, Button, RadioButtons

from rubric_kit.scoring.rubric import LEVEL_NAMES
from rubric_kit.showing.desk.boxes import column, shows
from rubric_kit.showing.desk.opened import Opened
from rubric_kit.showing.desk.panes import Panes

Calm = Callable[[Callable[..., None]], Callable[..., None]]
OPTIONS = [(f"{level} {name}", level) for level, name in LEVEL_NAMES.items()]
CLOSED, OPEN = "caret-right", "caret-down"


class Row:
    """One criterion: a button that opens what stands behind its level, and the reader's choice."""

    def __init__(self, key: str, name: str, level: int | None) -> None:
        self.key, self.name = key, name
        self.button = Button(icon=CLOSED)
        self.button.add_class("rkd-criterion")
        self.choice = RadioButtons(
            options=OPTIONS, value=level, orientation="horizontal", tooltip=f"Your level for {name}"
        )
        self.why = HTML(tooltip="")
        self.widget = column(self.button, self.choice, self.why, name="rkd-level")

    def show(self, panes: Panes, as_mark: Mapping[str, int], *, chosen: bool, hidden: bool) -> None:
        proposed = next(c for c in panes.view.criteria if c.key == self.key)
        said = f"{self.name[:1].upper()}{self.name[1:]}"
        if not hidden:
            said += f": proposed {proposed.level} {proposed.level_name}"
            if self.key in as_mark:
                said += f", as you mark {as_mark[self.key]} {LEVEL_NAMES[as_mark[self.key]]}"
        self.button.description = said
        self.button.tooltip = "What the levels mean" if hidden else "The sentences behind the level"
        self.button.icon = OPEN if chosen else CLOSED
        self.why.value = panes.why(self.key, hidden=hidden) if chosen else ""
        shows(self.why, when=chosen)


class Levels:
    """All rows. ``chosen`` is the key of the criterion that is open, or none.

    looked   called when another criterion was opened
    changed  called when the reader chose a level
    """

    def __init__(self, calm: Calm, looked: Callable[[], None], changed: Callable[[], None]) -> None:
        self._calm, self._looked, self._changed = calm, looked, changed
        self._rows: list[Row] = []
        self.chosen: str | None = None
        self.widget = column()

    @property
    def own(self) -> dict[str, int]:
        """The reader's levels so far, by criterion key."""
        return {row.key: row.choice.value for row in self._rows if row.choice.value is not None}

    @property
    def missing(self) -> list[str]:
        """The names of the criteria that have no level of the reader's yet."""
        return [row.name for row in self._rows if row.choice.value is None]

    def fill(self, opened: Opened, own: Mapping[str, int]) -> None:
        """Rows for the criteria of what was opened, with these levels of the reader's."""
        self.chosen = None
        self._rows = [Row(c.key, c.name, own.get(c.key)) for c in opened.sheet.criteria]
        for row in self._rows:
            row.button.on_click(self._calm(self._looking(row.key)))
            row.choice.observe(self._calm(lambda _: self._changed()), "value")
        self.widget.children = [row.widget for row in self._rows]

    def show(self, panes: Panes, as_mark: Mapping[str, int], *, hidden: bool) -> None:
        for row in self._rows:
            row.show(panes, as_mark, chosen=row.key == self.chosen, hidden=hidden)

    def take(self, proposed: Mapping[str, int]) -> None:
        """The proposed level wherever the reader chose none."""
        for row in self._rows:
            if row.choice.value is None:
                row.choice.value = proposed[row.key]

    def _looking(self, key: str) -> Callable[[Any], None]:
        def look(_: Any) -> None:
            self.chosen = None if self.chosen == key else key
            self._looked()

        return look
