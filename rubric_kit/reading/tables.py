"""A table from a spreadsheet program: a .csv file with the names of its columns in the first line."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO
from math import isfinite
from pathlib import Path
from typing import NamedTuple

from rubric_kit.errors import RubricKitError, UnreadableFileError
from rubric_kit.reading.text_files import decode

DELIMITERS = ",;\t"


class TableError(RubricKitError):
    """A table cannot be used as it stands."""


class Row(NamedTuple):
    line: int
    cells: list[str]


@dataclass(frozen=True, slots=True)
class Table:
    """The name of the file, what the first line calls the columns, and the filled rows below it."""

    file: str
    names: list[str]
    rows: list[Row]

    def cells(self, column: int) -> Iterator[tuple[int, str]]:
        """Line and content of each cell of a column, short rows being blank at their ends."""
        return ((row.line, row.cells[column].strip() if column < len(row.cells) else "") for row in self.rows)


def read_table(path: Path, *, largest: int, example: str) -> Table:
    """Cells may be divided by commas, semicolons or tabs, the text be UTF-8, UTF-16 or Windows-1252.

    largest  bytes; more is some other file
    example  a first line as it should be, for the messages

    Raises TableError, with the line where there is one.
    """
    text = _text(path, largest)
    header = text.lstrip().partition("\n")[0]
    reader = csv.reader(StringIO(text, newline=""), delimiter=max(DELIMITERS, key=header.count))
    try:
        rows = [Row(reader.line_num, cells) for cells in reader if any(cell.strip() for cell in cells)]
    except csv.Error as error:
        raise TableError(f"{path.name}, line {reader.line_num}: this is no row of a table ({error}).") from error
    if not rows:
        raise TableError(f"{path.name}: the file is empty. It needs a line with names of columns, then rows.")
    names = [name.strip() for name in rows[0].cells]
    if all(number(name) is not None for name in names if name):
        raise TableError(
            f"{path.name}, line {rows[0].line}: the first line has only numbers. "
            f"Put the names of the columns there, such as: {example}"
        )
    for row in rows[1:]:
        if any(cell.strip() for cell in row.cells[len(names) :]):
            raise TableError(
                f"{path.name}, line {row.line}: {len(row.cells)} cells under {len(names)} names. "
                "Put quotation marks around a cell that has a comma in it."
            )
    if len(rows) == 1:
        raise TableError(f"{path.name}: there is nothing below the names of the columns. Add a row for each.")
    return Table(path.name, names, rows[1:])


def number(cell: str) -> float | None:
    """A number with a decimal point or, where a comma does not divide cells, a decimal comma."""
    try:
        value = float(cell.strip().replace(",", "."))
    except ValueError:
        return None
    return value if isfinite(value) and "_" not in cell else None


def _text(path: Path, largest: int) -> str:
    try:
        with path.open("rb") as file:
            data = file.read(largest + 1)
    except OSError as error:
        raise TableError(f"{path.name}: cannot be opened ({error.strerror}). Check its name and place.") from error
    if len(data) > largest:
        raise TableError(f"{path.name}: over {largest // 1_000_000} MB. Keep only the columns that are needed.")
    try:
        return decode(data)
    except UnreadableFileError as error:
        raise TableError(f"{path.name}: this is no text. Save the table as CSV and use that file.") from error
