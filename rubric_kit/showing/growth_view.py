"""How a child's writing goes over a year, in words and charts, for a notebook, the terminal and as plain data."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from rubric_kit.records.family import Family
from rubric_kit.records.people import school_year_of
from rubric_kit.records.pieces import pieces
from rubric_kit.records.rows import Student
from rubric_kit.showing.charts import Chart
from rubric_kit.showing.charts.tables import levels_table, overall_table
from rubric_kit.showing.charts.trends import by_form, day
from rubric_kit.showing.charts.trends import pieces as pieces_in_words
from rubric_kit.showing.charts.year import charts, pieces_of
from rubric_kit.showing.inert import short
from rubric_kit.showing.lines import Lines

if TYPE_CHECKING:
    import pandas as pd

NAMED = 60  # characters of a title
COUNTED = (
    "Of each task the last draft counts; excused tasks are left out. Only pieces of the same form stand on one line, "
    "and a child is compared with no other."
)


@dataclass(frozen=True, slots=True)
class Section:
    """One chart with its heading and what it is about; ``chart.reading`` is what it says."""

    name: str
    heading: str
    about: str
    chart: Chart


@dataclass(frozen=True, slots=True)
class ComparedPiece:
    """A piece as it was compared: its level as a whole, 1 to 4, and whether the reader marked it."""

    day: date
    title: str
    grade: int
    level: float
    marked: bool


@dataclass(frozen=True, slots=True)
class Compared:
    """The pieces of one form. ``enough``: whether they are enough for a line of their own."""

    form: str
    pieces: tuple[ComparedPiece, ...]
    enough: bool


@dataclass(frozen=True, slots=True)
class Growth:
    """A child's writing in one school year, or in all (``school_year`` "")."""

    child: str
    school_year: str
    sections: tuple[Section, ...]
    compared: tuple[Compared, ...]

    @property
    def title(self) -> str:
        return f"{self.child}: writing in {self.school_year}" if self.school_year else f"{self.child}: writing so far"


def growth(family: Family, student: Student, school_year: str | None = None) -> Growth:
    """What the records say of a child's writing. Raises RecordsError for a school year that is none."""
    made = charts(family, student, school_year=school_year)
    sections = tuple(Section(name, **words()[name], chart=chart) for name, chart in made.items())
    table = overall_table(levels_table(pieces_of(family, student, school_year)))
    return Growth(short(student.name, NAMED), school_year or "", sections, _compared(table))


def school_years(family: Family, student: Student) -> list[str]:
    """The school years in which the child handed something in, first to last."""
    return sorted({school_year_of(piece.date) for piece in pieces(family, student.id)})


def compared_in_words(compared: Compared) -> str:
    """As in "five-paragraph: 10 pieces on one line"."""
    count = pieces_in_words(len(compared.pieces))
    return f"{compared.form}: {count} {'on one line' if compared.enough else 'and so too few for a line'}"


def growth_words(found: Growth) -> str:
    """The same as plain text: what each chart says, and which pieces were compared."""
    lines = [found.title]
    for section in found.sections:
        lines += ["", section.heading, *section.chart.reading]
    lines += ["", "Which pieces were compared", COUNTED]
    for compared in found.compared:
        lines += [compared_in_words(compared), *(f"  {_row(piece)}" for piece in compared.pieces)]
    return "\n".join(lines)


def print_growth(found: Growth) -> None:
    """The same in a terminal."""
    out = Lines()
    out.say(found.title, "bold")
    for section in found.sections:
        out.heading(section.heading)
        for words in section.chart.reading:
            out.say(words)
    out.heading("Which pieces were compared")
    out.say(COUNTED)
    for compared in found.compared:
        out.blank()
        out.say(compared_in_words(compared))
        out.table(
            ("Date", "Piece", "Grade", "Level", ""),
            [
                (p.day.isoformat(), p.title, str(p.grade), f"{p.level:.2f}", "" if p.marked else "as proposed")
                for p in compared.pieces
            ],
        )


def growth_as_json(found: Growth) -> dict[str, Any]:
    """The same as plain data: each chart's words by its name, and the pieces of each form."""
    return {
        "child": found.child,
        "school_year": found.school_year or None,
        "readings": {section.name: section.chart.reading for section in found.sections},
        "compared": found.compared,
    }


def _compared(table: pd.DataFrame) -> tuple[Compared, ...]:
    """The forms with the most pieces first."""
    enough = by_form(table).groups
    groups = sorted(table.groupby("form", sort=False), key=lambda group: -len(group[1]))
    return tuple(Compared(str(form), tuple(map(_piece, rows.itertuples())), form in enough) for form, rows in groups)


def _piece(row: Any) -> ComparedPiece:
    return ComparedPiece(row.date.date(), short(row.title, NAMED), row.grade, round(row.value, 2), bool(row.marked))


def _row(piece: ComparedPiece) -> str:
    import pandas as pd

    level = f"{piece.level:.2f}{'' if piece.marked else ', as proposed'}"
    return f"{day(pd.Timestamp(piece.day))}, {piece.title}: {level}"


@cache
def words() -> Mapping[str, Mapping[str, str]]:
    return tomllib.loads((files("rubric_kit.showing") / "data" / "year.toml").read_text("utf-8"))
