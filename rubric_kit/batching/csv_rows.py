"""Essays in a .csv file, read row by row."""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

from rubric_kit.batching.rows import BatchError, Row, Source
from rubric_kit.reading.files import TEXT_LIMIT
from rubric_kit.reading.tables import DELIMITERS
from rubric_kit.reading.text_files import BYTE_ORDER_MARKS, WINDOWS_ERRORS

NEEDED, TAKEN = ("id", "text"), ("id", "text", "grade", "form")
EXAMPLE = "id,text,grade,form"
LONGEST_LINE = 1_000_000  # characters taken at once: a file without any line end is not held in memory
MARK = "\ufeff"
QUOTE_IT = "Put quotation marks around the text, and write a quotation mark inside it twice"


def csv_source(path: Path) -> Source:
    """A .csv file with columns id and text, and perhaps grade and form; other columns are passed over.

    Cells may be divided by commas, semicolons or tabs; the text is UTF-8, or UTF-16 with a byte-order mark, and
    what is no UTF-8 is read as Windows-1252. Raises BatchError where the columns are not there.
    """
    return Source(lambda: digest(path), lambda: sum(1 for _ in _rows(path)), lambda: _rows(path))


def digest(path: Path) -> str:
    """SHA-256 of a file. Raises BatchError where it cannot be read."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise not_opened(path, error) from error


def not_opened(path: Path, error: OSError) -> BatchError:
    return BatchError(f"{path}: cannot be read ({error.strerror}). Check its name, its place and who may read it.")


def places(names: Sequence[str], path: Path) -> dict[str, int]:
    """The place of each column that is taken. Raises BatchError where one is missing, or is there twice."""
    known = [name.strip().lower() for name in names]
    for name in TAKEN:
        if known.count(name) > 1:
            raise BatchError(f"{path}: there are {known.count(name)} columns called {name}. Rename all but one.")
    for name in NEEDED:
        if name not in known:
            raise BatchError(f"{path}: there is no column called {name}. The first line must name them: {EXAMPLE}")
    return {name: known.index(name) for name in TAKEN if name in known}


def _rows(path: Path) -> Iterator[Row]:
    before = csv.field_size_limit(TEXT_LIMIT)
    try:
        with _opened(path) as file:
            yield from _read(file, path)
    except OSError as error:
        raise not_opened(path, error) from error
    finally:
        csv.field_size_limit(before)


@contextmanager
def _opened(path: Path) -> Iterator[TextIO]:
    with path.open("rb") as file:
        beginning = file.read(4)
    encoding = next((name for mark, name in BYTE_ORDER_MARKS if beginning.startswith(mark)), "utf-8")
    errors = WINDOWS_ERRORS if encoding == "utf-8" else "replace"
    with path.open(encoding=encoding, errors=errors, newline="") as text:
        if text.read(1) != MARK:
            text.seek(0)
        yield text


def _read(file: TextIO, path: Path) -> Iterator[Row]:
    header = file.readline(LONGEST_LINE)
    delimiter = max(DELIMITERS, key=header.count)
    names = _cells(header, delimiter)
    columns = places(names, path)
    # Strict, so that a broken quotation mark is told of, and costs the rows that it swallows but not those below.
    reader = csv.reader(iter(lambda: file.readline(LONGEST_LINE), ""), delimiter=delimiter, strict=True)
    number = 1
    while True:
        number += 1
        line = reader.line_num + 2
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            where = f"line {line}" if reader.line_num + 1 == line else f"lines {line} to {reader.line_num + 1}"
            yield Row(number, "", wrong=f"{where}: this is no row of a table ({error}). {QUOTE_IT}")
            continue
        if any(cell.strip() for cell in cells):
            yield _row(number, cells, columns, len(names))


def _cells(header: str, delimiter: str) -> list[str]:
    try:
        return next(csv.reader([header], delimiter=delimiter), [])
    except csv.Error:
        return []


def _row(number: int, cells: Sequence[str], columns: dict[str, int], width: int) -> Row:
    found = {name: cells[place] if place < len(cells) else "" for name, place in columns.items()}
    if any(cell.strip() for cell in cells[width:]):
        return Row(number, found["id"].strip(), wrong=f"it has {len(cells)} cells under {width} names. {QUOTE_IT}")
    return row_of(number, found)


def row_of(number: int, cells: Mapping[str, str]) -> Row:
    """The row whose cells, by the names of their columns, are these."""
    text, given = cells["text"], {name: cells.get(name, "").strip() for name in ("id", "grade", "form")}
    return Row(number, given["id"], text, size=len(text), grade=given["grade"], form=given["form"])
