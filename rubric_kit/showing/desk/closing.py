"""The end of a marking: the comment, saving, the sheet for the child, the draft before."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from html import escape
from pathlib import Path

from ipywidgets import HTML, Button, HBox, Text, Textarea, ToggleButton, VBox

from rubric_kit.showing.child_sheet import child_html, child_pdf, child_sheet
from rubric_kit.showing.desk.opened import Opened
from rubric_kit.showing.inert import inert
from rubric_kit.showing.pages import write_whole

Calm = Callable[[Callable[..., None]], Callable[..., None]]


class Closing:
    """Buttons and boxes under the levels; the desk says what they do."""

    def __init__(self, sheets: Path) -> None:
        self.worth = HTML()
        self.take = Button(description="Take the proposal where I chose none")
        self.comment = Textarea(placeholder="Your comment, also for the child", rows=3)
        self.save = Button(description="Save my levels", button_style="")
        self.save.add_class("rkd-main")
        self.undo = Button(description="Take the saving back")
        self.sheet = Button(description="Make the sheet for the child")
        self.folder = Text(description="Into folder", value=str(sheets))
        self.made = HTML()
        self.compare = ToggleButton()
        saving, making = HBox([self.save, self.undo, self.take]), HBox([self.sheet, self.folder])
        for row in (saving, making):
            row.add_class("rkd-row")
        self.widget = VBox([self.worth, self.comment, saving, making, self.made, self.compare])

    def fill(self, opened: Opened, comment: str) -> None:
        """As befits what was opened."""
        number = opened.piece.draft.number if opened.piece else 1
        self.comment.value = comment
        self.made.value = ""
        self.compare.value = False
        self.compare.description = f"Compare with draft {number - 1}"
        self.compare.layout.display = None if number > 1 and not opened.again else "none"
        self.save.layout.display = None if opened.piece else "none"
        self.save.description = "Save my second reading" if opened.again else "Save my levels"
        self.undo.layout.display = "none"
        self.comment.layout.display = "none" if opened.again else None
        for widget in (self.sheet, self.folder):
            widget.layout.display = "none" if opened.again else None

    def show_worth(self, opened: Opened, own: dict[str, int], *, hidden: bool) -> None:
        """What the levels are worth: the proposed ones and, once all are chosen, the reader's."""
        rubric, parts = opened.sheet.rubric, []
        if not hidden:
            parts.append(f"Proposed: {opened.sheet.percent:g} out of 100, {opened.sheet.letter}.")
        if len(own) == len(rubric.criteria):
            percent = rubric.percent_for(own)
            parts.append(f"Yours: {percent:g} out of 100, {rubric.letter_for(percent)}.")
        else:
            parts.append(f"Yours: {len(own)} of {len(rubric.criteria)} levels chosen.")
        self.worth.value = f'<p class="rkd-worth">{escape(inert(" ".join(parts)))}</p>'
        self.take.layout.display = "none" if hidden or len(own) == len(rubric.criteria) else None


def write_sheet(opened: Opened, own: dict[str, int], comment: str, folder: Path) -> tuple[Path, Path]:
    """The sheet for the child as a web page and a PDF. Raises PageNotWrittenError, PageNotSetError."""
    child = opened.piece.student.name if opened.piece else ""
    told = child_sheet(opened.sheet, child=child, comment=comment, own=own)
    name = _file_name(opened)
    page, paper = folder / f"{name}.html", folder / f"{name}.pdf"
    write_whole(child_html(told).encode(), page)
    write_whole(child_pdf(told), paper)
    return page, paper


def _file_name(opened: Opened) -> str:
    """The day, the child, the task and the draft; of a file that is only looked at, its own name."""
    piece = opened.piece
    if piece is None:
        words = f"{date.today()} {Path(opened.sheet.measures.essay.source).stem}"
    else:
        words = f"{piece.date} {piece.student.name} {piece.task.title} draft {piece.draft.number}"
    return re.sub(r"[^\w-]+", "-", words).strip("-")[:100]
