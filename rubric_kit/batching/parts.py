"""What is done of a batch, kept beside its results until they are whole: a file for each chunk, there or not there."""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from rubric_kit.batching.rows import BatchError, Chunk

ABOUT, LOCK, PART, BEGUN = "about.json", "lock", ".jsonl", ".tmp"
OURS = (ABOUT, LOCK, PART, BEGUN)  # how the names of our files end
ANEW = "or delete that folder to begin anew"


class Parts:
    """The folder of one batch's chunks, for one process at a time.

    Every method raises BatchError where the disk does not let it.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def begin(self, about: Mapping[str, str]) -> None:
        """Start, or go on with what was done for the same input with the same options and versions.

        Raises BatchError where something else was begun there.
        """
        page = self.folder / ABOUT
        if page.exists():
            with in_words(page):
                before = json.loads(page.read_bytes())
            other = [name for name in {**before, **about} if before.get(name) != about.get(name)]
            if other and self.any():
                raise BatchError(
                    f"{self.folder}: a batch was begun here with another {', another '.join(other)}. "
                    f"To finish that one, run it as it was begun, {ANEW}."
                )
            if not other:
                return
        self.clear()  # what a finished batch left behind when it was stopped in clearing up
        self._write(ABOUT, json.dumps(about, indent=1).encode())

    def any(self) -> bool:
        """Whether a chunk is done."""
        return any(self.folder.glob(f"*{PART}"))

    def has(self, chunk: Chunk) -> bool:
        return self._place(chunk.number).exists()

    def keep(self, number: int, lines: bytes) -> None:
        """Put a chunk's lines on the disk: after this they survive whatever happens."""
        self._write(self._place(number).name, lines)

    def lines(self, number: int) -> list[bytes]:
        """The lines of a chunk that is done."""
        with in_words(self.folder):
            return self._place(number).read_bytes().splitlines()

    def clear(self) -> None:
        """Remove all; first what says what it is, so that half of it is never taken for the whole."""
        with in_words(self.folder):
            with os.scandir(self.folder) as entries:
                foreign = next((entry.name for entry in entries if not entry.name.endswith(OURS)), None)
            if foreign is not None:
                raise BatchError(f"{self.folder}: there is {foreign!r} in it. Give --out another name.")
            (self.folder / ABOUT).unlink(missing_ok=True)
            for place in self.folder.iterdir():
                if place.name != LOCK:
                    place.unlink()

    def _place(self, number: int) -> Path:
        return self.folder / f"{number:08}{PART}"

    def _write(self, name: str, content: bytes) -> None:
        begun = self.folder / f"{name}{BEGUN}"
        with in_words(self.folder):
            with begun.open("wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            begun.replace(self.folder / name)


@contextmanager
def opened(folder: Path) -> Iterator[Parts]:
    """The folder, made where it is not there, and removed at the end where no chunk is in it.

    Raises BatchError where another process is at work in it.
    """
    with in_words(folder):
        folder.mkdir(parents=True, exist_ok=True)
    parts = Parts(folder)
    lock = _locked(folder)
    try:
        yield parts
    finally:
        unused = not parts.any()
        with suppress(BatchError):
            if unused:
                parts.clear()
        lock.close()
        with suppress(OSError):
            if unused:
                (folder / LOCK).unlink()
                folder.rmdir()


def _locked(folder: Path) -> sqlite3.Connection:
    """A lock that goes with this process, however it ends."""
    try:
        lock = sqlite3.connect(folder / LOCK, timeout=0, isolation_level=None)
        lock.execute("PRAGMA journal_mode = OFF")  # nothing is ever written in it
        lock.execute("BEGIN EXCLUSIVE")
    except sqlite3.Error as error:
        if "locked" in str(error):
            raise BatchError(f"{folder}: another rubric-kit batch is at work on it. Wait for it to end.") from error
        raise BatchError(f"{folder}: cannot be written ({error}). Choose another place for --out.") from error
    return lock


@contextmanager
def in_words(path: Path) -> Iterator[None]:
    """What the disk refuses, as a BatchError."""
    try:
        yield
    except ValueError as error:
        raise BatchError(f"{path}: it is damaged ({error}). Delete the folder it is in, and begin anew.") from error
    except OSError as error:
        raise BatchError(
            f"{path}: cannot be written or read ({error.strerror}). Make room, or give --out another place. "
            "What is done is kept: run the same command again to go on."
        ) from error
