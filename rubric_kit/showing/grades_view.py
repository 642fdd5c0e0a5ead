"""Grades with their explanation: on a terminal, as a page, as plain data, as a tidy table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING, Any

from rubric_kit.records.family import Family
from rubric_kit.records.grades import every_grade
from rubric_kit.records.worked import Grade, Missing, Worked
from rubric_kit.showing.html import filled, filled_page, style_of
from rubric_kit.showing.inert import inert, short
from rubric_kit.showing.lines import Lines

if TYPE_CHECKING:
    import pandas as pd

STYLES = ("sheet.css", "grades.css")
HEADS = ("of", "name", "percent", "letter", "graded tasks", "")
NAME = 34  # characters of a title in the table
STEP = 2  # columns that a step of an explanation stands in
HOW_ROUNDED = "Worked out exactly; rounded once, half up to one decimal, where a grade is shown or given a letter."
CAUTION = (
    "A grade is yours to give: a provisional one rests on proposed levels, or on work that is not all there. What an "
    "official record of grades must show is decided by the law of your state or country, or by the school that asks "
    "for it."
)
MISSING = "Missing: counts nowhere until you give points, hand it in or excuse it"
COLUMNS = ("student", "school_year", "kind", "name", "percent", "letter", "provisional", "excused", "tasks", "missing")


@dataclass(frozen=True, slots=True)
class _Child:
    """What a page shows of one child: the grades, what is missing, and the grades whose explanation is shown."""

    name: str
    grades: Sequence[Grade]
    missing: Sequence[Missing]
    explained: Sequence[Grade]


@dataclass(frozen=True, slots=True)
class _View:
    title: str
    children: Sequence[_Child]


def print_grades(grades: Sequence[Grade], *, explain: bool = False) -> None:
    """A table for each child and what is missing; with ``explain`` every step down to the sentences.

    A book with one task stands for both.
    """
    out = Lines()
    for child in _children(grades):
        out.say(child.name, "bold")
        out.table(HEADS, map(_row, child.grades))
        if child.missing:
            out.heading(MISSING)
            for each in child.missing:
                out.say(f"{each.task}: {each.what}", indent=STEP)
        for grade in child.explained if explain else ():
            out.blank()
            _print_worked(grade.worked, out, 0)
        out.blank()
    out.say(HOW_ROUNDED, "dim")
    out.say(CAUTION, "dim")


def grades_html(grades: Sequence[Grade]) -> str:
    """A whole page: the tables, and the explanations to open step by step."""
    return filled_page("grades_page.html.j2", STYLES, **_values(grades))


def grades_part(grades: Sequence[Grade]) -> str:
    """The same as a fragment with its style, for a notebook or a larger page."""
    return f"<style>{style_of(STYLES)}</style>\n{filled('grades.html.j2', **_values(grades))}"


def grades_as_json(grades: Sequence[Grade], *, explain: bool = False) -> list[dict[str, Any]]:
    """Every grade as plain data, ``exact`` as a fraction in writing; with ``explain`` the steps too."""
    return [_plain(grade) | ({"worked": _steps(grade.worked)} if explain else {}) for grade in grades]


def grades_frame(family: Family, today: date | None = None) -> pd.DataFrame:
    """Every child's grades, one a row.

    Columns: student, school_year, kind (year, term, book, task), name, percent (not a number where there is none),
    letter, provisional, excused, tasks (how many graded ones it rests on), missing (how many are past their date).
    """
    import pandas as pd

    found = [g for s in family.students.all() for g in every_grade(family, s.id, today or date.today())]
    rows = [
        (
            g.student,
            g.school_year,
            g.kind,
            g.name,
            g.percent,
            g.letter,
            g.provisional,
            g.excused,
            g.pieces,
            len(g.missing),
        )
        for g in found
    ]
    frame = pd.DataFrame(rows, columns=list(COLUMNS))
    return frame.astype({"percent": float, "provisional": bool, "excused": bool, "tasks": int, "missing": int})


def _children(grades: Sequence[Grade]) -> Iterator[_Child]:
    """Grades by child; the widest ones are explained, since they hold the others."""
    for name, group in groupby(grades, key=lambda grade: grade.student):
        own = list(group)
        missing = dict.fromkeys(each for grade in own for each in grade.missing)
        lone = {id(grade.worked.parts[0]) for grade in own if grade.kind == "book" and len(grade.worked.parts) == 1}
        listed = [grade for grade in own if id(grade.worked) not in lone]
        yield _Child(name, listed, list(missing), [grade for grade in own if grade.kind == own[0].kind])


def _values(grades: Sequence[Grade]) -> dict[str, Any]:
    children = list(_children(grades))
    title = f"Grades of {children[0].name}" if len(children) == 1 else "Grades"
    return {
        "view": _View(inert(title), children),
        "inert": inert,
        "missing": MISSING,
        "note_of": _note,
        "percent_of": _percent,
        "notes": (HOW_ROUNDED, CAUTION),
    }


def _row(grade: Grade) -> tuple[str, ...]:
    return grade.kind, short(grade.name, NAME), _percent(grade), grade.letter, str(grade.pieces), _note(grade)


def _percent(grade: Grade) -> str:
    if grade.percent is None:
        return "excused" if grade.excused else "no grade yet"
    return f"{grade.percent:.1f}"


def _note(grade: Grade) -> str:
    if grade.percent is None:
        return "missing" if grade.missing else ""
    return "provisional" if grade.provisional else ""


def _print_worked(step: Worked, out: Lines, depth: int) -> None:
    out.say(step.text, "bold" if not depth else "", indent=depth * STEP)
    for part in step.parts:
        _print_worked(part, out, depth + 1)


def _plain(grade: Grade) -> dict[str, Any]:
    return {
        "student": grade.student,
        "kind": grade.kind,
        "name": grade.name,
        "school_year": grade.school_year or None,
        "percent": grade.percent,
        "exact": None if grade.exact is None else str(grade.exact),
        "letter": grade.letter or None,
        "provisional": grade.provisional,
        "excused": grade.excused,
        "tasks": grade.pieces,
        "missing": [asdict(each) for each in grade.missing],
    }


def _steps(step: Worked) -> dict[str, Any]:
    value = None if step.value is None else float(step.value)
    return {"text": step.text, "value": value, "parts": [_steps(part) for part in step.parts]}
