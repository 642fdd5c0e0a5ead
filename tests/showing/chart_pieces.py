"""Pieces as the records would give them, made without scoring anything; and what was drawn of them."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.colors import to_rgb
from matplotlib.lines import Line2D

from rubric_kit.records.pieces import Piece
from rubric_kit.records.rows import Assignment, Draft, Mark, Sheet, Student, Task
from rubric_kit.showing.charts.chart import PAPER, VERMILLION

CRITERIA = {"focus": ("focus and thesis", 40), "organization": ("organization", 60)}
FIRST = date(2025, 9, 5)
TERMS = pd.DataFrame(
    [("autumn", "2025-09-01", "2026-01-16"), ("spring", "2026-01-19", "2026-05-29")],
    columns=["name", "begins", "ends"],
).astype({"begins": "datetime64[s]", "ends": "datetime64[s]"})
HOSTILE = "$x^2$ \\frac{1}{2} $ <script>&'\" \x1b[31m\u202e \U0001f600 漢字 " + "W" * 300
ROLES = ("introduction", "body", "body", "body", "conclusion")
ALL_PARTS: Mapping[str, Any] = {
    "paragraphs": [
        {"number": n, "role": role, "topic_sentence": {}, "evidence": 1, "explanation": 1}
        for n, role in enumerate(ROLES, start=1)
    ],
    "hook": {},
    "thesis": {},
    "restated_thesis": {},
    "closing_thought": {},
    "transitions": [{"paragraph": n} for n in (2, 3, 4, 5)],
}


def made(
    number: int = 1,
    *,
    day: date | None = None,
    own: Sequence[int] | None = (3, 3),
    proposed: Sequence[int] | None = (3, 3),
    blind: bool = True,
    form: str = "five-paragraph",
    title: str | None = None,
    task: int | None = None,
    draft: int = 1,
    structure: Mapping[str, Any] = ALL_PARTS,
    slips: Mapping[str, int] | None = None,
    measures: Mapping[str, float | None] | None = None,
    excused: bool = False,
    criteria: Mapping[str, tuple[str, float]] = CRITERIA,
) -> Piece:
    """One draft of 100 words; ``number`` is its number in the records and, without another ``task``, the task's. It
    comes 20 days times ``number`` after FIRST.
    """
    of_task = task or number
    on = day or FIRST + timedelta(20 * number)
    rows = [
        {"key": key, "name": name, "weight": weight, "level": level}
        for (key, (name, weight)), level in zip(criteria.items(), proposed or (), strict=bool(proposed))
    ]
    body = {
        "criteria": rows,
        "structure": structure,
        "mechanics": {kind: [{}] * n for kind, n in (slips or {}).items()},
        "counts": {"words": 100},
        "measures": dict(measures or {}),
        "readability": {},
    }
    return Piece(
        student=Student(1, "Ann"),
        grade=7,
        book=None,
        task=Task(of_task, None, title or f"Book {of_task}", "", FIRST),
        assignment=Assignment(of_task, of_task, 1, form, "", 0, None, excused, None),
        draft=Draft(number, of_task, draft, "essay.txt", "0", 1, on),
        sheet=Sheet(number, number, datetime(2026, 1, 1, tzinfo=UTC), "rubric_kit", 1, 7, form, json.dumps(body))
        if proposed
        else None,
        kept_rubric=None,
        mark=Mark(number, number, number, on, "first", not blind, "") if own else None,
        own=dict(zip(criteria, own or (), strict=bool(own))),
    )


T_UNIT = "words_per_t_unit"
SLIPS = {"spelling": 2, "run_ons": 1, "end_marks": 1}
FULL: Mapping[str, Any] = {"slips": SLIPS, "measures": {T_UNIT: 9.5, "length": 100, "errors_per_100_words": 4}}
RISING = [(2, 1), (2, 2), (3, 2), (3, 3), (4, 3), (4, 4)]  # overall 1.4, 2, 2.4, 3, 3.4, 4


def rising() -> list[Piece]:
    return [made(n, own=own) for n, own in enumerate(RISING, start=1)]


def dots(ax: Axes, shape: str | None = None) -> list[tuple[float, bool]]:
    """Single points as (y, filled), in the order drawn."""
    lines = [line for line in ax.lines if len(line.get_xdata()) == 1 and line.get_marker() not in ("None", ".")]
    chosen = [line for line in lines if shape in (None, line.get_marker())]
    return [(float(line.get_ydata()[0]), to_rgb(line.get_markerfacecolor()) != to_rgb(PAPER)) for line in chosen]


def dashed(ax: Axes) -> list[Line2D]:
    """The lines of trends."""
    return [line for line in ax.lines if line.get_color() == VERMILLION]
