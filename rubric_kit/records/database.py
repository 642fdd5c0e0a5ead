"""One SQLite file: opened with foreign keys and write-ahead logging, written in whole transactions with a journal."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar

from rubric_kit.errors import RecordsError
from rubric_kit.records.migrations import APPLICATION, bring_up_to_date, version_of
from rubric_kit.records.rows import TABLES, Written, as_rows, columns, stored

T = TypeVar("T")
# Undos that were not themselves taken back (by a redo), and the writes that they took back.
_STANDING = "undoes IS NOT NULL AND id NOT IN (SELECT undoes FROM writes WHERE undoes IS NOT NULL)"
_UNDOING = f"SELECT id FROM writes WHERE {_STANDING} AND undoes IN (SELECT id FROM writes WHERE undoes IS NULL)"
_UNDONE = f"SELECT undoes FROM writes WHERE id IN ({_UNDOING})"
WAIT = 10.0  # seconds for another program's write to end; ours take milliseconds
LARGEST_ID = 2**63 - 1  # of SQLite; a larger number is no row


class Database:
    """The records' file. Reading sees finished writes only; a write is all there or not at all.

    Raises RecordsError from every method where the file is busy, damaged, full or may not be written.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._open: Write | None = None
        with self._in_words():
            # autocommit: transactions begin and end where `write` says, and nowhere else
            self._connection = sqlite3.connect(path, timeout=WAIT, isolation_level=None)
        try:
            self._prepare()
        except BaseException:
            self._connection.close()
            raise

    def close(self) -> None:
        self._connection.close()

    @property
    def connection(self) -> sqlite3.Connection:
        """For checks and backups of the whole file."""
        return self._connection

    def rows(self, kind: type[T], where: str = "", values: Sequence[Any] = ()) -> list[T]:
        """Current rows of a table, in the order that they were made unless ``where`` ends with another."""
        clause = f"WHERE {where}" if where else ""
        order = "" if "ORDER BY" in where else "ORDER BY id"
        sql = f"SELECT {columns(kind)} FROM current_{TABLES[kind]} {clause} {order}"
        return as_rows(kind, self.read(sql, values))

    def even_removed(self, kind: type[T], where: str, values: Sequence[Any] = ()) -> list[T]:
        """Rows of a table, those taken out of sight too."""
        return as_rows(kind, self.read(f"SELECT {columns(kind)} FROM {TABLES[kind]} WHERE {where}", values))

    def row(self, kind: type[T], row_id: int) -> T:
        """One current row.

        Raises RecordsError where there is none.
        """
        found = self.rows(kind, "id = ?", [row_id]) if 0 < row_id <= LARGEST_ID else []
        if not found:
            raise RecordsError(f"There is no number {row_id} among the {TABLES[kind].replace('_', ' ')}.")
        return found[0]

    def read(self, sql: str, values: Sequence[Any] = ()) -> list[sqlite3.Row]:
        """The rows of a SELECT."""
        with self._in_words():
            return self._connection.execute(sql, [stored(v) for v in values]).fetchall()

    @contextmanager
    def write(self, what: str) -> Iterator[Write]:
        """One write, in words: everything inside happens, or nothing. A write inside another is part of it."""
        if self._open is not None:
            yield self._open
            return
        with self._in_words():
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                self._open = Write(self._connection, what)
                yield self._open
            except BaseException:
                self._connection.rollback()
                raise
            finally:
                self._open = None
            self._connection.commit()

    def undo(self) -> str:
        """Take back the last write that was not taken back, and say which it was.

        Raises RecordsError where there is nothing left to undo.
        """
        last = self._last(f"undoes IS NULL AND id NOT IN ({_UNDONE})")
        if last is None:
            raise RecordsError("There is nothing to undo.")
        with self.write(f"undo: {last.what}") as write:
            write.take_back(last.id)
        return last.what

    def redo(self) -> str:
        """Bring back what the last undo took, and say what it was.

        Raises RecordsError where the last write was no undo.
        """
        last, undo = self._last("undoes IS NULL"), self._last(f"id IN ({_UNDOING})")
        if last is None or undo is None or undo.id < last.id:
            raise RecordsError("There is nothing to bring back: the last thing written was no undo.")
        what = undo.what.removeprefix("undo: ")
        with self.write(f"redo: {what}") as write:
            write.take_back(undo.id)
        return what

    def history(self, newest: int = 20) -> list[Written]:
        """The last writes, newest first."""
        return as_rows(Written, self.read("SELECT * FROM writes ORDER BY id DESC LIMIT ?", [newest]))

    def _last(self, where: str) -> Written | None:
        found = as_rows(Written, self.read(f"SELECT * FROM writes WHERE {where} ORDER BY id DESC LIMIT 1"))
        return found[0] if found else None

    def _prepare(self) -> None:
        with self._in_words():
            self._connection.row_factory = sqlite3.Row
            application = self._connection.execute("PRAGMA application_id").fetchone()[0]
            foreign = application != APPLICATION and self._connection.execute("SELECT 1 FROM sqlite_master").fetchone()
            if foreign:
                raise RecordsError(f"{self.path}: another program's database. Choose the folder of your records.")
            self._connection.execute("PRAGMA journal_mode = WAL")
            self._connection.execute("PRAGMA synchronous = FULL")  # a finished write survives a power cut
            self._connection.execute("PRAGMA foreign_keys = ON")
            bring_up_to_date(self._connection, self.path)
            version_of(self._connection)

    @contextmanager
    def _in_words(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.Error as error:
            raise RecordsError(_in_words(error, self.path)) from error
        except UnicodeEncodeError as error:
            raise RecordsError("There is something in the text that is no letter or sign. Type it anew.") from error
        except OverflowError as error:
            raise RecordsError("A number is too large to be kept. Give a smaller one.") from error


class Write:
    """What one transaction changes; every change goes into the journal with what stood there before."""

    def __init__(self, connection: sqlite3.Connection, what: str) -> None:
        self._connection = connection
        made_at = datetime.now(UTC).isoformat(timespec="seconds")
        self._id = self._insert("writes", {"made_at": made_at, "what": what})

    def add(self, kind: type[Any], **values: Any) -> int:
        """A new row; its id."""
        row_id = self._insert(TABLES[kind], values)
        self._journal(TABLES[kind], row_id, None, {"removed": None})
        return row_id

    def change(self, kind: type[Any], row_id: int, **values: Any) -> None:
        """Other values in a row."""
        self._change(TABLES[kind], row_id, values)

    def remove(self, kind: type[Any], row_id: int) -> None:
        """Take a row out of sight; it stays in the file."""
        self._change(TABLES[kind], row_id, {"removed": datetime.now(UTC).isoformat(timespec="seconds")})

    def take_back(self, write_id: int) -> None:
        """Undo an earlier write: what it added goes out of sight, what it changed is as before."""
        self._connection.execute("UPDATE writes SET undoes = ? WHERE id = ?", [write_id, self._id])
        made = self._connection.execute("SELECT * FROM changes WHERE write_id = ? ORDER BY id DESC", [write_id])
        for change in made.fetchall():
            if change["before"] is None:
                self._change(change["in_table"], change["row_id"], {"removed": datetime.now(UTC).isoformat()})
            else:
                self._change(change["in_table"], change["row_id"], json.loads(change["before"]))

    def _change(self, table: str, row_id: int, values: Mapping[str, Any]) -> None:
        now = self._connection.execute(f"SELECT * FROM {table} WHERE id = ?", [row_id]).fetchone()
        if now is None:
            raise RecordsError(f"There is no number {row_id} among the {table}.")
        names = ", ".join(f"{name} = ?" for name in values)
        self._connection.execute(f"UPDATE {table} SET {names} WHERE id = ?", [*map(stored, values.values()), row_id])
        self._journal(table, row_id, {name: now[name] for name in values}, values)

    def _insert(self, table: str, values: Mapping[str, Any]) -> int:
        marks = ", ".join("?" * len(values))
        sql = f"INSERT INTO {table} ({', '.join(values)}) VALUES ({marks})"
        return int(self._connection.execute(sql, [stored(v) for v in values.values()]).lastrowid or 0)

    def _journal(self, table: str, row_id: int, before: Mapping[str, Any] | None, after: Mapping[str, Any]) -> None:
        row = {
            "write_id": self._id,
            "in_table": table,
            "row_id": row_id,
            "before": None if before is None else json.dumps(dict(before)),
            "after": json.dumps({name: stored(value) for name, value in after.items()}),
        }
        self._insert("changes", row)


# How SQLite's errors begin, and what they mean to a parent.
_MEANINGS = {
    "database is locked": "another program is writing to it and does not end. Close the other program, then try again.",
    "database or disk is full": "the disk is full; nothing was written. Make room, then try again.",
    "attempt to write a readonly database": "it may not be written. Check the permissions of the folder.",
    "unable to open database file": "it cannot be opened. Check that the folder is there and may be written to.",
    "disk i/o error": "the disk failed while reading or writing. Check the disk; then run: rubric-kit check.",
    "database disk image is malformed": "it is damaged. Run: rubric-kit check, then rubric-kit restore with a backup.",
    "file is not a database": "it is no database, or it is damaged. Run: rubric-kit check.",
    "foreign key constraint failed": "it would point to something that is not there. Check the numbers.",
}
# Which rule a write broke, by the words of the failed check or index.
_RULES = {
    "students.name": "There is a student of this name already. Choose another name, such as with an initial.",
    "enrolments": "This student has a grade for that school year already. Change it instead.",
    "terms": "There is a term of this name and start already.",
    "books": "This book is in the list already.",
    "tasks.title": "There is a task of this title already. Choose another title.",
    "assignments": "This student has this task already. Change it instead.",
    "drafts": "There is a draft of this number already.",
    "trim(": "A name or title must not be empty.",
    "grade BETWEEN": "A grade is a whole number from 0 (kindergarten) to 12.",
    "begins <= ends": "It must begin before it ends.",
    "started <= finished": "A book is started before it is finished.",
    "level BETWEEN": "A level is 1, 2, 3 or 4.",
    "percent BETWEEN": "A percent is a number from 0 to 100.",
    "points": "Points are a number from 0 to a million.",
    "school_year": "A school year is written like 2025-26.",
    "form IN": "A form is paragraph, three-paragraph, five-paragraph or narrative.",
}


def _in_words(error: sqlite3.Error, path: Path) -> str:
    said = str(error)
    for begins, means in _MEANINGS.items():
        if said.lower().startswith(begins):
            return f"{path}: {means}"
    if isinstance(error, sqlite3.IntegrityError):
        return next((means for part, means in _RULES.items() if part in said), f"It cannot be kept so ({said}).")
    return f"{path}: the records cannot be used ({said}). Run: rubric-kit check."
