"""What stands in the records: one frozen dataclass a table, fields named and ordered as its columns."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from datetime import date, datetime
from typing import Any, Protocol, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Student:
    id: int
    name: str


@dataclass(frozen=True, slots=True)
class Enrolment:
    """A student's grade (0 is kindergarten) in a school year such as "2025-26"."""

    id: int
    student_id: int
    school_year: str
    grade: int


@dataclass(frozen=True, slots=True)
class Term:
    id: int
    name: str
    begins: date
    ends: date


@dataclass(frozen=True, slots=True)
class Book:
    """A book of the shared list, or another unit of study; ``unit`` groups several."""

    id: int
    title: str
    author: str
    unit: str
    started: date | None
    finished: date | None


@dataclass(frozen=True, slots=True)
class Task:
    """One shared prompt."""

    id: int
    book_id: int | None
    title: str
    prompt: str
    set_on: date


@dataclass(frozen=True, slots=True)
class Question:
    """A short-answer question of a task, with the points it is worth."""

    id: int
    task_id: int
    number: int
    text: str
    points: float


@dataclass(frozen=True, slots=True)
class Assignment:
    """A task as one child gets it: the form, how many of the questions, by when."""

    id: int
    task_id: int
    student_id: int
    form: str
    instructions: str
    questions: int
    due: date | None
    excused: bool
    rubric_id: int | None


@dataclass(frozen=True, slots=True)
class Answer:
    """The points given for one short answer."""

    id: int
    assignment_id: int
    question_id: int
    points: float


@dataclass(frozen=True, slots=True)
class Draft:
    """A draft as handed in; the file stands in the folder ``originals`` under its hash."""

    id: int
    assignment_id: int
    number: int
    file_name: str
    sha256: str
    bytes: int
    received_on: date


@dataclass(frozen=True, slots=True)
class KeptRubric:
    """A rubric as it was used, word for word."""

    id: int
    sha256: str
    name: str
    version: int
    text: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """A proposal with the program and rubric that made it; ``body`` is the whole sheet as JSON."""

    id: int
    draft_id: int
    made_at: datetime
    program: str
    rubric_id: int
    grade: int
    form: str
    body: str


@dataclass(frozen=True, slots=True)
class Mark:
    """The reader's own marking of a draft. ``occasion``: "first" counts, "again" tells how steady the reader is."""

    id: int
    draft_id: int
    sheet_id: int | None
    marked_on: date
    occasion: str
    seen_proposal: bool
    comment: str


@dataclass(frozen=True, slots=True)
class MarkLevel:
    id: int
    mark_id: int
    criterion: str
    level: int


@dataclass(frozen=True, slots=True)
class Conference:
    """A talk about a piece: what worked, one next step, the goal agreed on, what became of it."""

    id: int
    draft_id: int
    held_on: date
    worked: str
    next_step: str
    goal: str
    outcome: str


@dataclass(frozen=True, slots=True)
class OldMark:
    """A mark from before these records began; ``levels`` by criterion as JSON, {} where only the percent is known."""

    id: int
    student_id: int
    title: str
    marked_on: date
    percent: float
    levels: str
    note: str


@dataclass(frozen=True, slots=True)
class Setting:
    """What the family decided, as JSON."""

    id: int
    name: str
    value: str


@dataclass(frozen=True, slots=True)
class Written:
    """One write in words; ``undoes`` is the write that it took back."""

    id: int
    made_at: datetime
    what: str
    undoes: int | None


class Row(Protocol):
    """A row of any table."""

    @property
    def id(self) -> int: ...


TABLES: dict[type[Any], str] = {
    Student: "students",
    Enrolment: "enrolments",
    Term: "terms",
    Book: "books",
    Task: "tasks",
    Question: "questions",
    Assignment: "assignments",
    Answer: "answers",
    Draft: "drafts",
    KeptRubric: "rubrics",
    Sheet: "sheets",
    Mark: "marks",
    MarkLevel: "mark_levels",
    Conference: "conferences",
    OldMark: "old_marks",
    Setting: "settings",
}

# From what SQLite keeps to what Python has, by the field's annotation; all others are the same in both.
_FROM_STORED: dict[str, Callable[[Any], Any]] = {
    "date": date.fromisoformat,
    "date | None": lambda text: None if text is None else date.fromisoformat(text),
    "datetime": datetime.fromisoformat,
    "bool": bool,
}


def as_rows(kind: type[T], cursor: Iterable[sqlite3.Row]) -> list[T]:
    """Rows of a cursor that gives the columns of ``kind``."""
    convert = _converters(kind)
    return [kind(**{name: how(row[name]) if how else row[name] for name, how in convert}) for row in cursor]


def columns(kind: type[Any]) -> str:
    """The columns of a table, for a SELECT."""
    return ", ".join(name for name, _ in _converters(kind))


def stored(value: Any) -> Any:
    """A value as SQLite keeps it."""
    return value.isoformat() if isinstance(value, date | datetime) else int(value) if isinstance(value, bool) else value


def _converters(kind: type[Any]) -> tuple[tuple[str, Callable[[Any], Any] | None], ...]:
    return tuple((f.name, _FROM_STORED.get(str(f.type))) for f in fields(kind))
