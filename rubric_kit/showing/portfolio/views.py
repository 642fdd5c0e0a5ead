"""What a portfolio and a term report say, in words and in the order of reading; the page and the PDF are drawn from it.

All text is inert (showing/inert.py) and, where that was asked for, without names; lengths are not limited. Days are in
words. A field of a part that was left out is empty.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TaskView:
    """A task as the child got it. ``answers``: the points for short answers; ``drafts``: when each was handed in."""

    title: str
    prompt: str
    form: str
    dates: str
    answers: str
    drafts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BookView:
    """A book with its tasks; ``title`` "" for tasks that belong to none."""

    title: str
    author: str
    dates: str
    tasks: tuple[TaskView, ...]


@dataclass(frozen=True, slots=True)
class UnitView:
    """Books that belong together; ``name`` "" for those of no unit."""

    name: str
    books: tuple[BookView, ...]


@dataclass(frozen=True, slots=True)
class Block:
    """A part of an essay: "heading", "title", "paragraph" or "not counted", line by line."""

    kind: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LevelView:
    """The level of one criterion; ``whose`` "" where it is the parent's, else "proposed"."""

    criterion: str
    level: int
    level_name: str
    descriptor: str
    whose: str


@dataclass(frozen=True, slots=True)
class PieceView:
    """A piece in full; ``talk``: what the parent said of it in talks, ``told``: what only the program suggests."""

    why: str
    title: str
    about: str
    text: tuple[Block, ...]
    levels_note: str
    levels: tuple[LevelView, ...]
    grade: str
    comment: str
    talk: tuple[tuple[str, str], ...]
    told: tuple[str, ...]
    told_note: str


@dataclass(frozen=True, slots=True)
class FigureView:
    """A chart, drawn; ``alt`` is the same in words, ``reading`` what it says."""

    title: str
    alt: str
    svg: str
    reading: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ConferenceView:
    day: str
    about: str
    said: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class GradeRow:
    kind: str
    name: str
    percent: str
    letter: str
    note: str


@dataclass(frozen=True, slots=True)
class GradesView:
    """``worked``: how the year's grade came about, step by step, each with its depth from 0."""

    rows: tuple[GradeRow, ...]
    worked: tuple[tuple[int, str], ...]
    missing: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CriterionRow:
    """A criterion with its descriptors, from level 4 down to 1."""

    name: str
    weight: str
    descriptors: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RubricView:
    """``heads``: the levels from 4 down to 1, with what each is worth."""

    name: str
    version: str
    heads: tuple[str, ...]
    criteria: tuple[CriterionRow, ...]
    letters: str


@dataclass(frozen=True, slots=True)
class Portfolio:
    """A child's year. ``parts``: name and heading of what it holds, in order; ``note``: that names were replaced."""

    title: str
    child: str
    grade: str
    school_year: str
    kept_by: str
    made_on: str
    note: str
    parts: tuple[tuple[str, str], ...]
    units: tuple[UnitView, ...]
    pieces: tuple[PieceView, ...]
    growth_note: str
    figures: tuple[FigureView, ...]
    conferences: tuple[ConferenceView, ...]
    grades: GradesView
    rubrics: tuple[RubricView, ...]
    method: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WrittenRow:
    """A line of the report's list: the book and the task, when it came, and its percent or what it still is."""

    what: str
    form: str
    day: str
    result: str


@dataclass(frozen=True, slots=True)
class MoveRow:
    """A criterion through the term: the first level, the last, and the mean of all."""

    criterion: str
    first: str
    last: str
    mean: str
    change: str


@dataclass(frozen=True, slots=True)
class TermReport:
    """A child's term on one page; ``strength`` and ``goal`` come with where each is from, "" where there is none."""

    title: str
    byline: str
    note: str
    written: tuple[WrittenRow, ...]
    more: str
    moves_of: str
    moves: tuple[MoveRow, ...]
    moves_note: str
    strength: tuple[str, str]
    goal: tuple[str, str]
    grade: str
    grade_note: str
    figure: FigureView | None
    care: str
