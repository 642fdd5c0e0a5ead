"""What every input becomes: numbered rows, and chunks of them that are the same each time the input is read."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from typing import NamedTuple

from rubric_kit.errors import RubricKitError, UnreadableFileError
from rubric_kit.reading.files import bytes_of

ROWS = 20  # of a chunk: about what the parser takes at once, a second of one core, and all that a kill costs
BYTES = 8_000_000  # of a chunk's essays, beside its last one: all of them are in memory
LONGEST_ID = 200  # characters; a longer one is a piece of an essay behind a broken quotation mark


class BatchError(RubricKitError):
    """A batch cannot be begun, or cannot go on."""


@dataclass(frozen=True, slots=True)
class Row:
    """One essay of the input, or what is wrong with it.

    number  as the input counts: a .csv file as spreadsheets do (the names of the columns are row 1), others from 1
    text    the essay, where it stands in a table; else ``file`` is where it is, and ``data`` what was read there
    size    of the essay, in characters or bytes
    grade, form  as they were written; blank where nothing was
    wrong   what is wrong and what to do, in two sentences; blank where nothing is
    """

    number: int
    id: str
    text: str = ""
    file: str = ""
    data: bytes = b""
    size: int = 0
    grade: str = ""
    form: str = ""
    wrong: str = ""


class Chunk(NamedTuple):
    """Some rows in a row, and how many chunks are before them."""

    number: int
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Source:
    """An input, to be read any number of times.

    identity  a digest that is another where the input is
    count     how many rows it has
    """

    identity: Callable[[], str]
    count: Callable[[], int]
    rows: Callable[[], Iterator[Row]]


def chunks(rows: Iterable[Row]) -> Iterator[Chunk]:
    """Rows in chunks, those marked as wrong that have no id or one that was met before."""
    number, gathered, size = 0, list[Row](), 0
    with closing(_Ids()) as ids:
        for row in rows:
            gathered.append(_checked(row, ids))
            size += row.size
            if len(gathered) == ROWS or size >= BYTES:
                yield Chunk(number, tuple(gathered))
                number, gathered, size = number + 1, [], 0
        if gathered:
            yield Chunk(number, tuple(gathered))


def loaded(chunk: Chunk) -> Chunk:
    """The chunk with what is in its files."""
    return Chunk(chunk.number, tuple(map(_loaded, chunk.rows)))


def _loaded(row: Row) -> Row:
    if not row.file or row.wrong:
        return row
    try:
        return replace(row, file="", data=bytes_of(row.file))
    except UnreadableFileError as error:
        return replace(row, file="", wrong=str(error).rpartition(": ")[2])


def _checked(row: Row, ids: _Ids) -> Row:
    if row.wrong:
        return row
    if not row.id:
        return replace(row, text="", wrong="it has no id. Give every essay an id of its own")
    if len(row.id) > LONGEST_ID:
        wrong = f"its id is longer than {LONGEST_ID} characters. Look for a missing quotation mark in this row or above"
        return replace(row, id=row.id[:LONGEST_ID], text="", wrong=wrong)
    before = ids.before(row)
    if before:
        wrong = f"row {before} has the same id. Give every essay an id of its own; if it is there twice, take one out"
        return replace(row, text="", wrong=wrong)
    return row


class _Ids:
    """The ids met so far; on disk beyond a few megabytes, so that memory does not grow with the rows."""

    def __init__(self) -> None:
        # A temporary file, which goes when it is closed.
        self._met = sqlite3.connect("", isolation_level=None, check_same_thread=False)
        self._met.execute("PRAGMA journal_mode = OFF")
        self._met.execute("CREATE TABLE met (id BLOB PRIMARY KEY, row INTEGER) WITHOUT ROWID")
        self._met.execute("BEGIN")

    def before(self, row: Row) -> int:
        """The row that had the id before; 0 where none had."""
        key = row.id.encode("utf-8", "surrogatepass")
        try:
            self._met.execute("INSERT INTO met VALUES (?, ?)", [key, row.number])
        except sqlite3.IntegrityError:
            return int(self._met.execute("SELECT row FROM met WHERE id = ?", [key]).fetchone()[0])
        return 0

    def close(self) -> None:
        self._met.close()
