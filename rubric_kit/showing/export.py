"""Tables of grades and of pieces for a spreadsheet: CSV or .xlsx, in which no text is ever a formula."""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from io import BytesIO, StringIO
from pathlib import Path

from rubric_kit.errors import RubricKitError
from rubric_kit.records.family import Family
from rubric_kit.records.grades import every_grade
from rubric_kit.records.piece_grades import piece_grade
from rubric_kit.records.pieces import Piece, pieces
from rubric_kit.showing.cells import Cell, harmless
from rubric_kit.showing.pages import write_whole

LONGEST = 32_767  # characters of a cell in .xlsx
CUT = "…"
FIRST_YEAR = 1900  # of the days that .xlsx knows; an earlier one is a slip, and stands as text
WIDTH = 16  # columns of a sheet, in characters
DATES = "yyyy-mm-dd"
GRADE_COLUMNS = (
    "student",
    "school year",
    "of",
    "name",
    "percent",
    "letter",
    "provisional",
    "excused",
    "graded tasks",
    "missing",
)
PIECE_COLUMNS = ("student", "book", "task", "form", "draft", "date", "percent", "letter", "provisional", "comment")


class ExportError(RubricKitError):
    """A table cannot be made as asked."""


@dataclass(frozen=True, slots=True)
class Table:
    """Names of columns, and rows of text, numbers, days or nothing."""

    name: str
    columns: Sequence[str]
    rows: Sequence[Sequence[Cell]]


def export(family: Family, path: Path, what: str = "grades", today: date | None = None) -> int:
    """Write a table of "grades" or of "pieces" as the ending of the path says; how many rows it has.

    Raises ExportError for another ending or table, PageNotWrittenError where it cannot be written; an earlier file
    there is then as it was.
    """
    written = WRITERS.get(path.suffix.lower())
    if written is None:
        raise ExportError(f"{path}: tables are written as {' or '.join(WRITERS)}. Choose such an ending.")
    if what not in TABLES:
        raise ExportError(f"There is no table of {what}. There are: {', '.join(TABLES)}.")
    table = TABLES[what](family, today or date.today())
    write_whole(written(table), path)
    return len(table.rows)


def grades_table(family: Family, today: date) -> Table:
    """Every child's grades: the years, terms, books and tasks."""
    found = [grade for student in family.students.all() for grade in every_grade(family, student.id, today)]
    rows = [
        (
            g.student,
            g.school_year,
            g.kind,
            g.name,
            g.percent,
            g.letter,
            "yes" if g.provisional else "",
            "yes" if g.excused else "",
            g.pieces,
            "; ".join(f"{each.task}: {each.what}" for each in g.missing),
        )
        for g in found
    ]
    return Table("grades", GRADE_COLUMNS, rows)


def pieces_table(family: Family) -> Table:
    """Every draft with the parent's own and the proposed level of each criterion; its percent has nothing taken off."""
    found = pieces(family)
    criteria = list(dict.fromkeys(key for piece in found for key in (*piece.proposed, *piece.own)))
    columns = (*PIECE_COLUMNS, *(f"{key} {whose}" for key in criteria for whose in ("own", "proposed")))
    return Table("pieces", columns, [_piece_row(family, piece, criteria) for piece in found])


def as_csv(table: Table) -> bytes:
    """UTF-8 with a byte order mark, without which some spreadsheets take it for another encoding."""
    text = StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow([harmless(name) for name in table.columns])
    writer.writerows([[harmless(cell) for cell in row] for row in table.rows])
    return text.getvalue().encode("utf-8-sig", errors="replace")


def as_xlsx(table: Table) -> bytes:
    """One sheet; text stands as text whatever it begins with, numbers and days as such."""
    import xlsxwriter

    content = BytesIO()
    book = xlsxwriter.Workbook(content, {"in_memory": True})
    sheet = book.add_worksheet(table.name)
    bold, day = book.add_format({"bold": True}), book.add_format({"num_format": DATES})
    for column, name in enumerate(table.columns):
        sheet.write_string(0, column, _fitting(name), bold)
    for number, row in enumerate(table.rows, start=1):
        for column, cell in enumerate(row):
            if isinstance(cell, str):
                sheet.write_string(number, column, _fitting(cell))
            elif isinstance(cell, date) and cell.year < FIRST_YEAR:
                sheet.write_string(number, column, cell.isoformat())
            elif isinstance(cell, date):
                sheet.write_datetime(number, column, cell, day)
            elif cell is not None:
                sheet.write_number(number, column, cell)
    sheet.freeze_panes(1, 1)
    sheet.set_column(0, len(table.columns) - 1, WIDTH)
    book.close()
    return content.getvalue()


def _piece_row(family: Family, piece: Piece, criteria: Sequence[str]) -> tuple[Cell, ...]:
    grade = piece_grade(family, piece)
    levels = [levels.get(key) for key in criteria for levels in (piece.own, piece.proposed)]
    return (
        piece.student.name,
        piece.book.title if piece.book else "",
        piece.task.title,
        piece.form,
        piece.draft.number,
        piece.date,
        grade.percent,
        grade.letter,
        "yes" if grade.provisional else "",
        piece.mark.comment if piece.mark else "",
        *levels,
    )


def _fitting(text: str) -> str:
    return text if len(text) <= LONGEST else text[: LONGEST - len(CUT)] + CUT


TABLES: Mapping[str, Callable[[Family, date], Table]] = {
    "grades": grades_table,
    "pieces": lambda family, _: pieces_table(family),
}
WRITERS: Mapping[str, Callable[[Table], bytes]] = {".csv": as_csv, ".xlsx": as_xlsx}
