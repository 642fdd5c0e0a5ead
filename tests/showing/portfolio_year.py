"""An invented child's year for the tests of the portfolio and the term report, and what they look at in a document."""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from pypdf import PdfReader

from rubric_kit.records import Family, begin
from rubric_kit.records.tasks import Version
from rubric_kit.showing.portfolio import Paper, page_pdf
from rubric_kit.showing.portfolio.views import Portfolio, TermReport

YEAR, TODAY = "2025-26", date(2026, 6, 5)
CRITERIA = ("focus", "organization", "evidence", "sentences", "conventions")
HOSTILE = (
    '<script>alert(1)</script> #import "@preview/x:1.0.0" $x^2$ \\u{1f} @ref *star* <b onclick="x">bold</b> \U0001f989'
)
NAMES = ("Tamsin", "Odalys", "Quillfeather", "Marigold", "Anne-Marie", "Ottoline")
ESSAY = """Tamsin Quillfeather
September {day}, 2025
Literature, Grade 8

{title}

Buck is strong because he learns. Tamsin and Odalys say so too, and TAMSIN's book proves it. {more}

First, Buck learns to steal food from the sled. For example, he takes a piece of bacon on his second day in the snow. \
This shows that he is quick to learn.

In the end, Buck is strong because he learns. The Quillfeathers agree.
"""


def hand_in(family: Family, student: int, n: int, *, title: str = "", more: str = "", **also: Any) -> int:
    """A task of its own with one draft of it; the draft's number. ``own``: its levels, ``scored``: whether it is."""
    day = date(2025, 9, 8) + timedelta(days=14 * n)
    name = title or f"Task {n}"
    task = family.tasks.add(
        name,
        also.get("prompt", "Why is Buck strong?"),
        set_on=day - timedelta(days=7),
        book_id=also.get("book"),
        questions=[("Who is Buck?", 2)],
        versions={student: Version(form="three-paragraph", due=day)},
    )
    assignment = family.tasks.assignment(task.id, student)
    family.answers.give(assignment.id, {1: 1.5})
    text = ESSAY.format(day=n + 1, title=f"The Strength of Buck {n}", more=more)
    draft = family.drafts.hand_in_bytes(assignment.id, text.encode(), "Tamsin Quillfeather.txt", received_on=day)
    if also.get("scored"):
        family.sheets.make(draft.id)
    if also.get("own"):
        levels = dict.fromkeys(CRITERIA, also["own"])
        family.marks.add(draft.id, levels, marked_on=day + timedelta(days=2), comment=also.get("comment", ""))
    return draft.id


def make_empty(folder: Path) -> Iterator[Family]:
    """One child, two terms, no tasks."""
    with begin(folder / "family") as made:
        made.students.add("Tamsin", grade=8, school_year=YEAR)
        made.terms.add("autumn", date(2025, 9, 1), date(2026, 1, 16))
        made.terms.add("spring", date(2026, 1, 19), date(2026, 5, 29))
        yield made


def make_busy(folder: Path) -> Iterator[Family]:
    """Five scored pieces, four of them marked; names and hostile text wherever the family can write."""
    with begin(folder / "family") as made:
        child = made.students.add("Tamsin", grade=8, school_year=YEAR).id
        made.students.add("Odalys", grade=5, school_year=YEAR)
        made.students.add("Anne-Marie", grade=3, school_year=YEAR)
        made.terms.add("autumn", date(2025, 9, 1), date(2026, 1, 16))
        book = made.books.add(
            "The Call of the Wild", "Jack London", unit="Odalys's choice", started=date(2025, 9, 1), finished=None
        )
        for n in range(5):
            draft = hand_in(
                made,
                child,
                n,
                title=f"Buck and Tamsin {n} {HOSTILE}",
                prompt=f"What did Tamsin and Odalys find? {HOSTILE}",
                more=HOSTILE,
                book=book.id if n else None,
                scored=True,
                own=n and min(n + 1, 4),
                comment=f"Well done, Tamsin. {HOSTILE}",
            )
        made.conferences.add(
            draft,
            held_on=date(2025, 11, 10),
            worked=f"Tamsin found bacon. {HOSTILE}",
            next_step="Ask Odalys Quillfeather to read it.",
            goal="One scene a paragraph, Tamsin.",
        )
        yield made


def pdf_text(view: Portfolio | TermReport, paper: Paper = Paper.letter) -> str:
    pages = PdfReader(io.BytesIO(page_pdf(view, paper))).pages
    return " ".join(" ".join(page.extract_text() for page in pages).replace("\u200b", "").split())


def pages_of(view: Portfolio | TermReport, paper: Paper = Paper.letter) -> int:
    return len(PdfReader(io.BytesIO(page_pdf(view, paper))).pages)


def drawings(html: str) -> list[str]:
    """The drawings inside a page, as text."""
    return [base64.b64decode(found).decode() for found in re.findall(r"data:image/svg\+xml;base64,([\w+/=]+)", html)]


def alts_of_pdf(content: bytes) -> list[str]:
    """The alternative texts of the tagged figures of a PDF."""
    found, todo = [], [PdfReader(io.BytesIO(content)).trailer["/Root"]["/StructTreeRoot"]]
    while todo:
        node = todo.pop().get_object()
        if isinstance(node, list):
            todo += [child for child in node if not isinstance(child, int)]
        elif isinstance(node, dict):
            found += [str(node["/Alt"])] if "/Alt" in node else []
            todo += [node["/K"]] if "/K" in node and not isinstance(node["/K"], int) else []
    return found
