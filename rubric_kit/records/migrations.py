"""The shape of the records: numbered steps, never edited after release, each with its mark in one transaction."""

from __future__ import annotations

import re
import sqlite3
from datetime import UTC, datetime
from functools import cache
from importlib.resources import files
from pathlib import Path

from rubric_kit.errors import RecordsError

STEP = re.compile(r"(\d{3})_[a-z_]+\.sql$")
APPLICATION = 0x52754B69  # "RuKi": SQLite's application_id, by which `file` and we tell these records from others


def bring_up_to_date(connection: sqlite3.Connection, path: Path) -> None:
    """Take every step that the records lack; where there is something in them, after a backup beside them.

    Raises RecordsError where a newer rubric_kit wrote them.
    """
    has = version_of(connection)
    newest = max(steps())
    if has > newest:
        raise RecordsError(
            f"{path}: written by a newer rubric_kit (records {has}, this one knows {newest}). Update rubric_kit."
        )
    if 0 < has < newest:
        copy_to(connection, path.parent / "backups" / f"{path.stem}-before-{newest:03d}-{_now()}.db")
    for number in range(has + 1, newest + 1):
        _take(connection, number)


def version_of(connection: sqlite3.Connection) -> int:
    """How many steps the records have taken; 0 for an empty file."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def copy_to(connection: sqlite3.Connection, path: Path) -> None:
    """A copy of the records as they stand, whole even while others write."""
    path.parent.mkdir(parents=True, exist_ok=True)
    copy = sqlite3.connect(path)
    try:
        connection.backup(copy)
    finally:
        copy.close()


@cache
def steps() -> dict[int, str]:
    """The SQL of each step by its number."""
    found = ((STEP.fullmatch(f.name), f) for f in (files("rubric_kit.records") / "migrations").iterdir())
    return {int(match[1]): file.read_text("utf-8") for match, file in found if match}


def _take(connection: sqlite3.Connection, number: int) -> None:
    # executescript() would commit first, so that half a step could stay; BEGIN inside it makes the step one write.
    try:
        connection.executescript(
            f"BEGIN IMMEDIATE;\n{steps()[number]}\nPRAGMA application_id = {APPLICATION};\n"
            f"PRAGMA user_version = {number};\nCOMMIT;"
        )
    except sqlite3.Error:
        if connection.in_transaction:
            connection.rollback()
        raise


def _now() -> str:
    return datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
