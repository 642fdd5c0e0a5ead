"""The sheet that the child gets: what worked, what to try, the reader's comment, and lines to write on. No numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass

from rubric_kit.scoring.feedback import feedback
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.counting import judged
from rubric_kit.showing.html import filled_page
from rubric_kit.showing.inert import inert
from rubric_kit.showing.pdf import set_pdf

LINES = 6  # to write on: room for a sentence tried two or three times


@dataclass(frozen=True, slots=True)
class ChildSheet:
    """All text is inert (showing/inert.py); ``told`` and ``comment`` are paragraphs."""

    title: str
    child: str
    told: tuple[str, ...]
    comment: tuple[str, ...]


def child_sheet(sheet: ScoreSheet, *, child: str = "", comment: str = "", own: Mapping[str, int] = {}) -> ChildSheet:
    """What is said to the child. The reader's own levels, by criterion key, decide what to try first."""
    title = sheet.measures.essay.title
    return ChildSheet(
        title=" ".join(inert(title.text if title else sheet.measures.essay.source).split()),
        child=inert(child),
        told=tuple(inert(line) for line in feedback(judged(sheet, own)).child),
        comment=tuple(inert(line) for line in comment.splitlines() if line.strip()),
    )


def child_html(told: ChildSheet) -> str:
    """The sheet as a web page that needs nothing else."""
    return filled_page("child.html.j2", ("sheet.css", "child.css"), view=told, lines=LINES)


def child_pdf(told: ChildSheet) -> bytes:
    """The sheet as a PDF to print. Raises PageNotSetError."""
    return set_pdf("child.typ", {"view": asdict(told), "lines": LINES}, told.title)
