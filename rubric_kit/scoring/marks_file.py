"""A table of double-marked essays: a .csv file with a row for each essay and a column for each marker."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import StringIO
from math import isfinite
from pathlib import Path
from typing import NamedTuple

from rubric_kit.errors import RubricKitError, UnreadableFileError
from rubric_kit.reading.text_files import decode

LARGEST = 10_000_000  # bytes: 500,000 essays with an id and two scores; larger is some other file
FURTHEST = 1_000_000.0  # from zero; no scale of marks goes so far, and squares stay exact
DELIMITERS = ",;\t"
BLANK = frozenset({"", "-", "–", "na", "n/a", "nan"})  # what people and statistics programs put for "no mark"
MOSTLY = 0.5  # of a column's filled cells; above, a cell that is no number is a slip and no sign of another column
SHOWN = 40  # characters of a cell in a message


class MarksFileError(RubricKitError):
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


class _Row(NamedTuple):
    line: int
    cells: list[str]


@dataclass(frozen=True, slots=True)
class _Table:
    """The name of the file, what the first line calls the columns, and the filled rows below it."""

    file: str
    names: list[str]
    rows: list[_Row]

    def cells(self, column: int) -> Iterator[tuple[int, str]]:
        """Line and content of each cell of a column, short rows being blank at their ends."""
        return ((row.line, row.cells[column].strip() if column < len(row.cells) else "") for row in self.rows)


def read_marks(path: Path, first: str | None = None, second: str | None = None) -> Marks:
    """Read the columns called ``first`` and ``second``; by default the first two columns that are mostly numbers.

    A column that only numbers the rows (1, 2, 3, ...) is no default where two others are there. Cells may be divided by
    commas, semicolons or tabs, the text be UTF-8, UTF-16 or Windows-1252. A blank cell, "-" and "NA" are no score.

    Raises UnknownColumnError for a column that is not there, MarksFileError for a file that cannot be used.
    """
    table = _table(path)
    named = [None if name is None else _column(table, name) for name in (first, second)]
    if named[0] is not None and named[0] == named[1]:
        raise UnknownColumnError(f"{table.file}: “{first}” was asked for as both columns. Name two different ones.")
    spare = iter(_defaults(table, besides=named, wanted=named.count(None)))
    one, other = (next(spare) if column is None else column for column in named)
    return Marks(table.names[one], table.names[other], tuple(_scores(table, one)), tuple(_scores(table, other)))


def _table(path: Path) -> _Table:
    text = _text(path)
    header = text.lstrip().partition("\n")[0]
    reader = csv.reader(StringIO(text, newline=""), delimiter=max(DELIMITERS, key=header.count))
    try:
        rows = [_Row(reader.line_num, cells) for cells in reader if any(cell.strip() for cell in cells)]
    except csv.Error as error:
        raise MarksFileError(f"{path.name}, line {reader.line_num}: this is no row of a table ({error}).") from error
    if not rows:
        raise MarksFileError(f"{path.name}: the file is empty. It needs a line with names of columns, then scores.")
    names = [name.strip() for name in rows[0].cells]
    if all(_number(name) is not None for name in names if name):
        raise MarksFileError(
            f"{path.name}, line {rows[0].line}: the first line has only numbers. "
            "Put the names of the columns there, such as: essay,first,second"
        )
    for row in rows[1:]:
        if any(cell.strip() for cell in row.cells[len(names) :]):
            raise MarksFileError(
                f"{path.name}, line {row.line}: {len(row.cells)} cells under {len(names)} names. "
                "Put quotation marks around a cell that has a comma in it."
            )
    if len(rows) == 1:
        raise MarksFileError(f"{path.name}: there is nothing below the names of the columns. Add a row for each essay.")
    return _Table(path.name, names, rows[1:])


def _text(path: Path) -> str:
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except OSError as error:
        raise MarksFileError(f"{path.name}: cannot be opened ({error.strerror}). Check its name and place.") from error
    if len(data) > LARGEST:
        raise MarksFileError(f"{path.name}: over {LARGEST // 1_000_000} MB. Keep only the two columns of scores.")
    try:
        return decode(data)
    except UnreadableFileError as error:
        raise MarksFileError(f"{path.name}: this is no text. Save the table as CSV and use that file.") from error


def _column(table: _Table, name: str) -> int:
    places = [place for place, other in enumerate(table.names) if other.casefold() == name.strip().casefold()]
    if not places:
        raise UnknownColumnError(f"{table.file}: no column is called “{name}”. There are: {', '.join(table.names)}")
    if len(places) > 1:
        raise UnknownColumnError(f"{table.file}: {len(places)} columns are called “{name}”. Give them different names.")
    return places[0]


def _defaults(table: _Table, besides: Sequence[int | None], wanted: int) -> list[int]:
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
    filled = [_number(cell) is not None for cell in cells if cell.lower() not in BLANK]
    return sum(filled) > MOSTLY * len(filled)


def _numbers_the_rows(table: _Table, column: int) -> bool:
    values = [_number(cell) for _, cell in table.cells(column)]
    return values == [n + (values[0] or 0) for n in range(len(values))]


def _scores(table: _Table, column: int) -> Iterator[float | None]:
    name = table.names[column]
    for line, cell in table.cells(column):
        value = _number(cell)
        if value is None and cell.lower() not in BLANK:
            shown = cell if len(cell) <= SHOWN else f"{cell[:SHOWN]}…"
            raise MarksFileError(
                f"{table.file}, line {line}: “{shown}” in column “{name}” is no number. "
                "Write a number there, or leave it blank for no score."
            )
        if value is not None and abs(value) > FURTHEST:
            raise MarksFileError(f"{table.file}, line {line}: {value:g} in column “{name}” is too large for a score.")
        yield value


def _number(cell: str) -> float | None:
    """A number with a decimal point or, where a comma does not divide cells, a decimal comma."""
    try:
        value = float(cell.strip().replace(",", "."))
    except ValueError:
        return None
    return value if isfinite(value) and "_" not in cell else None
