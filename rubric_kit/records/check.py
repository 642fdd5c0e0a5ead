"""Whether everything is as it was written: the database, what points where, every original against its hash."""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from rubric_kit.errors import RecordsError, RubricKitError
from rubric_kit.records.family import ORIGINALS, RECORDS, Family
from rubric_kit.records.originals import content_of, path_of
from rubric_kit.records.rows import TABLES, Draft, KeptRubric, as_rows, columns

RESTORE = "Restore a backup into a new folder (rubric-kit restore) and compare."
PUT_BACK = "If you have the file elsewhere, hand it in again; a backup may hold it (rubric-kit restore)."

RUN_CHECK = re.compile(r"; then run: rubric-kit check| Run: rubric-kit check[^.]*\.")


@dataclass(frozen=True, slots=True)
class Damage:
    """What is wrong, and what to do."""

    what: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Checked:
    """What was looked at, and the damage found; ``strays`` are files beside the records that nothing points to."""

    rows: int
    originals: int
    damage: tuple[Damage, ...]
    strays: tuple[Path, ...]


def check(folder: Path) -> Checked:
    """Look at everything in a folder of records; nothing is changed.

    Raises RecordsError where there are no records at all.
    """
    if not (folder / RECORDS).is_file():
        raise RecordsError(f"{folder}: there are no records there. Check the name of the folder.")
    try:
        with Family(folder) as family:
            return _check(family)
    except RecordsError as error:
        return Checked(0, 0, (Damage(_without_this_command(error), RESTORE),), ())


def _without_this_command(error: RubricKitError) -> str:
    """What is wrong, without the advice to run the check that found it; what to do is the remedy's to say."""
    return RUN_CHECK.sub("", str(error))


def _check(family: Family) -> Checked:
    connection = family.database.connection
    damage = [Damage(f"{RECORDS}: {line}", RESTORE) for line in _of_database(connection)]
    if damage:
        return Checked(0, 0, tuple(damage), ())
    rows = sum(connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0] for table in TABLES.values())
    drafts = as_rows(Draft, connection.execute(f"SELECT {columns(Draft)} FROM drafts"))
    originals = family.folder / ORIGINALS
    for draft in drafts:
        try:
            content_of(originals, draft.sha256, draft.file_name)
        except RubricKitError as error:
            damage.append(Damage(_without_this_command(error), PUT_BACK))
    damage += [Damage(what, RESTORE) for what in _of_texts(connection)]
    known = {path_of(originals, d.sha256, d.file_name) for d in drafts}
    strays = tuple(sorted(p for p in originals.rglob("*") if p.is_file() and p not in known))
    return Checked(rows, len({d.sha256 for d in drafts}), tuple(damage), strays)


def _of_database(connection: sqlite3.Connection) -> Iterator[str]:
    try:
        for (line,) in connection.execute("PRAGMA integrity_check"):
            if line != "ok":
                yield str(line)
        for row in connection.execute("PRAGMA foreign_key_check"):
            yield f"row {row[1]} of {row[0]} points to something in {row[2]} that is not there"
    except sqlite3.DatabaseError as error:
        yield str(error)


def _of_texts(connection: sqlite3.Connection) -> Iterator[str]:
    """What the database's own checks cannot see: rubrics against their hash, proposals that can be read."""
    for kept in as_rows(KeptRubric, connection.execute(f"SELECT {columns(KeptRubric)} FROM rubrics")):
        if sha256(kept.text.encode()).hexdigest() != kept.sha256:
            yield f"the rubric {kept.name} (number {kept.id}) is not the one that was kept"
    for row in connection.execute("SELECT id, body FROM sheets"):
        if "criteria" not in json.loads(row["body"]):
            yield f"proposal {row['id']} has no criteria"
