"""A table of double-marked essays: a .csv file with a row for each essay and a column for each marker."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from rubric_kit.reading.tables import Table, TableError, number, read_table

LARGEST = 10_000_000  # bytes: 500,000 essays with an id and two scores; larger is some other file
FURTHEST = 1_000_000.0  # from zero; no scale of marks goes so far, and squares stay exact
BLANK = frozenset({"", "-", "–", "na", "n/a", "nan"})  # what people and statistics programs put for "no mark"
MOSTLY = 0.5  # of a column's filled cells; above, a cell that is no number is a slip and no sign of another column
SHOWN = 40  # characters of a cell in a message


class MarksFileError(TableError):
    """A table of marks cannot be used as it stands."""


class UnknownColumnError(MarksFileError):
    """A column was asked for that the table does not have, or twice the same."""


@dataclass(frozen=True, slots=True)
class Marks:
    """Two markers' scores of the same essays, row by row; None where a marker gave none."""

    first_name: str
    second_name: str
    first: tuple[float | None, ...]
    second: tuple[float | None, ...]


def read_marks(path: Path, first: str | None = None, second: str | None = None) -> Marks:
    """Read the columns called ``first`` and ``second``; by default the first two columns that are mostly numbers.

    A column that only numbers the rows (1, 2, 3, ...) is no default where two others are there. Cells may be divided by
    commas, semicolons or tabs, the text be UTF-8, UTF-16 or Windows-1252. A blank cell, "-" and "NA" are no score.

    Raises UnknownColumnError for a column that is not there, TableError for a file that cannot be used.
    """
    table = read_table(path, largest=LARGEST, example="essay,first,second")
    named = [None if name is None else _column(table, name) for name in (first, second)]
    if named[0] is not None and named[0] == named[1]:
        raise UnknownColumnError(f"{table.file}: “{first}” was asked for as both columns. Name two different ones.")
    spare = iter(_defaults(table, besides=named, wanted=named.count(None)))
    one, other = (next(spare) if column is None else column for column in named)
    return Marks(table.names[one], table.names[other], tuple(_scores(table, one)), tuple(_scores(table, other)))


def _column(table: Table, name: str) -> int:
    places = [place for place, other in enumerate(table.names) if other.casefold() == name.strip().casefold()]
    if not places:
        raise UnknownColumnError(f"{table.file}: no column is called “{name}”. There are: {', '.join(table.names)}")
    if len(places) > 1:
        raise UnknownColumnError(f"{table.file}: {len(places)} columns are called “{name}”. Give them different names.")
    return places[0]


def _defaults(table: Table, besides: Sequence[int | None], wanted: int) -> list[int]:
    """The columns that are mostly numbers, in order, those asked for by name left out; at least ``wanted`` of them."""
    columns = [column for column in range(len(table.names)) if column not in besides]
    numeric = [column for column in columns if _is_mostly_numbers([cell for _, cell in table.cells(column)])]
    scores = [column for column in numeric if not _numbers_the_rows(table, column)]
    found = scores if len(scores) >= wanted else numeric
    if len(found) < wanted:
        has = f"only “{table.names[found[0]]}” has" if found else "no other column has"
        raise MarksFileError(
            f"{table.file}: two columns of scores are needed, and {has} numbers. Put each marker's in a column."
        )
    return found


def _is_mostly_numbers(cells: Sequence[str]) -> bool:
    filled = [number(cell) is not None for cell in cells if cell.lower() not in BLANK]
    return sum(filled) > MOSTLY * len(filled)


def _numbers_the_rows(table: Table, column: int) -> bool:
    values = [number(cell) for _, cell in table.cells(column)]
    return values == [n + (values[0] or 0) for n in range(len(values))]


def _scores(table: Table, column: int) -> Iterator[float | None]:
    name = table.names[column]
    for line, cell in table.cells(column):
        value = number(cell)
        if value is None and cell.lower() not in BLANK:
            shown = cell if len(cell) <= SHOWN else f"{cell[:SHOWN]}…"
            raise MarksFileError(
                f"{table.file}, line {line}: “{shown}” in column “{name}” is no number. "
                "Write a number there, or leave it blank for no score."
            )
        if value is not None and abs(value) > FURTHEST:
            raise MarksFileError(f"{table.file}, line {line}: {value:g} in column “{name}” is too large for a score.")
        yield value
