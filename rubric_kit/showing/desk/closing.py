"""The end of a marking: the comment, saving, the sheet for the child, the draft before."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from html import escape
from pathlib import Path

from ipywidgets import HTML, Button, Text, Textarea, ToggleButton

from rubric_kit.showing.child_sheet import child_html, child_pdf, child_sheet
from rubric_kit.showing.desk.boxes import column, row, shows
from rubric_kit.showing.desk.opened import Opened
from rubric_kit.showing.inert import inert
from rubric_kit.showing.pages import write_whole

Calm = Callable[[Callable[..., None]], Callable[..., None]]


class Closing:
    """Buttons and boxes under the levels; the desk says what they do."""

    def __init__(self, sheets: Path) -> None:
        self.worth = HTML(tooltip="")
        self.take = Button(
            description="Take the proposal where I chose none", tooltip="The levels stay yours to change"
        )
        self.comment = Textarea(placeholder="Your comment, also for the child", rows=3, tooltip="")
        self.save = Button(description="Save my levels", tooltip="Keep them in the records")
        self.save.add_class("rkd-main")
        self.undo = Button(description="Take the saving back", tooltip="As if it had not been saved")
        self.sheet = Button(description="Make the sheet for the child", tooltip="As a web page and as a PDF")
        self.folder = Text(description="Into folder", value=str(sheets), tooltip="")
        self.made = HTML(tooltip="")
        self.compare = ToggleButton(tooltip="Both drafts side by side")
        saving, making = row(self.save, self.undo, self.take), row(self.sheet, self.folder)
        self.widget = column(self.worth, self.comment, saving, making, self.made, self.compare)

    def fill(self, opened: Opened, comment: str) -> None:
        """As befits what was opened."""
        number = opened.piece.draft.number if opened.piece else 1
        self.comment.value = comment
        self.made.value = ""
        self.compare.value = False
        self.compare.description = f"Compare with draft {number - 1}"
        shows(self.compare, when=number > 1 and not opened.again)
        shows(self.save, when=opened.piece is not None)
        self.save.description = "Save my second reading" if opened.again else "Save my levels"
        shows(self.undo, when=False)
        for widget in (self.comment, self.sheet, self.folder):
            shows(widget, when=not opened.again)

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
        shows(self.take, when=not hidden and len(own) < len(rubric.criteria))


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
