"""Essays as the files of a folder and of the folders in it."""

from __future__ import annotations

import hashlib
import os
import sqlite3
from collections.abc import Collection, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from rubric_kit.batching.csv_rows import not_opened
from rubric_kit.batching.rows import Row, Source

PASSED_OVER = (".", "~$")  # how names of hidden files begin, and of those that a word processor has open


def folder_source(folder: Path, ours: Collection[Path]) -> Source:
    """Every file in a folder, in the order of the names; a file that cannot be read as an essay is told of.

    An essay's id is its name within the folder. Hidden files and ``ours`` are passed over. Raises BatchError where a
    folder cannot be read.
    """
    return Source(
        lambda: _identity(folder, ours), lambda: sum(1 for _ in _rows(folder, ours)), lambda: _rows(folder, ours)
    )


def _identity(folder: Path, ours: Collection[Path]) -> str:
    """A digest of names, sizes and times of change: to read a million files twice would take too long."""
    found = hashlib.sha256()
    with _files(folder, ours) as files:
        for name, size, changed in files:
            found.update(name + f"\0{size}\0{changed}\0".encode())
    return found.hexdigest()


def _rows(folder: Path, ours: Collection[Path]) -> Iterator[Row]:
    with _files(folder, ours) as files:
        for number, (name, size, _) in enumerate(files, start=1):
            shown = name.decode("utf-8", "backslashreplace").replace(os.sep, "/")
            yield Row(number, shown, file=os.path.join(folder, os.fsdecode(name)), size=size)


@contextmanager
def _files(folder: Path, ours: Collection[Path]) -> Iterator[Iterator[tuple[bytes, int, int]]]:
    """Name within the folder, size and time of change of every file, sorted on disk, as there may be a million."""
    with closing(sqlite3.connect("", isolation_level=None, check_same_thread=False)) as found:
        found.execute("PRAGMA journal_mode = OFF")
        found.execute("CREATE TABLE file (name BLOB PRIMARY KEY, size INTEGER, changed INTEGER) WITHOUT ROWID")
        found.execute("BEGIN")
        found.executemany("INSERT INTO file VALUES (?, ?, ?)", _walk(folder, folder, {os.fspath(p) for p in ours}))
        yield found.execute("SELECT name, size, changed FROM file ORDER BY name")


def _walk(top: Path, folder: Path, ours: Collection[str]) -> Iterator[tuple[bytes, int, int]]:
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.name.startswith(PASSED_OVER) or os.path.abspath(entry.path) in ours:
                    continue
                if entry.is_dir(follow_symlinks=False):
                    yield from _walk(top, Path(entry.path), ours)
                else:
                    size, changed = _facts(entry)
                    yield os.fsencode(os.path.relpath(entry.path, top)), size, changed
    except OSError as error:
        raise not_opened(folder, error) from error


def _facts(entry: os.DirEntry[str]) -> tuple[int, int]:
    try:
        status = entry.stat()
    except OSError:  # a link to nothing, or a file that has just gone: it is told of when it is read
        return 0, 0
    return status.st_size, status.st_mtime_ns
