"""Charts from the family's records, by name."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from rubric_kit.errors import RubricKitError
from rubric_kit.records.family import Family
from rubric_kit.records.people import days_of
from rubric_kit.records.pieces import Piece, pieces
from rubric_kit.records.rows import Student
from rubric_kit.showing.charts import tables
from rubric_kit.showing.charts.chart import Chart
from rubric_kit.showing.charts.criteria import criteria_over_time
from rubric_kit.showing.charts.level import writing_level
from rubric_kit.showing.charts.measure import measure_over_time
from rubric_kit.showing.charts.parts import parts_in_place
from rubric_kit.showing.charts.proposals import proposal_against_parent
from rubric_kit.showing.charts.revision import MEASURES, before_after
from rubric_kit.showing.charts.slips import slips_per_100_words


class UnknownChartError(RubricKitError, ValueError):
    """A chart, measure or task that there is not."""


def _level(family: Family, found: list[Piece], who: str) -> Chart:
    reader = tables.reader_steadiness(family)
    return writing_level(tables.levels_table(found), terms=tables.terms_table(family), reader=reader, who=who)


def _criteria(family: Family, found: list[Piece], who: str) -> Chart:
    return criteria_over_time(tables.levels_table(found), terms=tables.terms_table(family), who=who)


def _parts(_: Family, found: list[Piece], who: str) -> Chart:
    return parts_in_place(tables.parts_table(found), who=who)


def _slips(family: Family, found: list[Piece], who: str) -> Chart:
    return slips_per_100_words(tables.slips_table(found), terms=tables.terms_table(family), who=who)


def _proposals(_: Family, found: list[Piece], who: str) -> Chart:
    return proposal_against_parent(tables.levels_table(found), who=who)


# The charts of a year in the order in which they are best looked at.
YEAR: Mapping[str, Callable[[Family, list[Piece], str], Chart]] = {
    "level": _level,
    "criteria": _criteria,
    "parts": _parts,
    "slips": _slips,
    "proposals": _proposals,
}


def charts(
    family: Family, student: Student, who: str | None = None, school_year: str | None = None
) -> dict[str, Chart]:
    """Every chart of a child's year by name: level, criteria, parts, slips, proposals.

    who          the name in the titles, such as initials; else the student's
    school_year  such as "2025-26"; else all years. Raises RecordsError where it is none.
    """
    found = pieces_of(family, student, school_year)
    return {name: make(family, found, student.name if who is None else who) for name, make in YEAR.items()}


def chart(kind: str, family: Family, student: Student, who: str | None = None, school_year: str | None = None) -> Chart:
    """One of them. Raises UnknownChartError for another name, RecordsError for no school year."""
    if kind not in YEAR:
        raise UnknownChartError(f"There is no chart {kind}. There are: {', '.join(YEAR)}.")
    return YEAR[kind](family, pieces_of(family, student, school_year), student.name if who is None else who)


def measure_chart(
    measure: str, family: Family, student: Student, who: str | None = None, school_year: str | None = None
) -> Chart:
    """One measure over time. Raises UnknownChartError for a measure that there is not; else as above."""
    from rubric_kit.measures.measured import FAMILIES

    if not any(measure in rows for rows in FAMILIES.values()):
        raise UnknownChartError(f"There is no measure {measure}. List them with: rubric-kit rubric measures")
    table = tables.measures_table(pieces_of(family, student, school_year), [measure])
    name = student.name if who is None else who
    return measure_over_time(table, measure, terms=tables.terms_table(family), who=name)


def revision_chart(family: Family, student: Student, task_id: int, who: str | None = None) -> Chart:
    """The first and last draft of a task."""
    found = [piece for piece in pieces(family, student.id) if piece.task.id == task_id]
    name = student.name if who is None else who
    levels, measures = tables.levels_table(found), tables.measures_table(found, MEASURES)
    return before_after(levels, measures, reader=tables.reader_steadiness(family), who=name)


def pieces_of(family: Family, student: Student, school_year: str | None = None) -> list[Piece]:
    """A child's pieces of a school year, or of all years."""
    found = pieces(family, student.id)
    if school_year is None:
        return found
    first, last = days_of(school_year)
    return [piece for piece in found if first <= piece.date <= last]
