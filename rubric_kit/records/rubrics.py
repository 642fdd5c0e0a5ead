"""Rubrics as they were used, word for word, each kept once under the hash of its text."""

from __future__ import annotations

from hashlib import sha256

from rubric_kit.records.database import Database, Write
from rubric_kit.records.rows import KeptRubric


def keep_rubric(database: Database, write: Write, *, text: str, name: str, version: int) -> int:
    """The number under which a rubric is kept; one that an undo took out of sight comes back."""
    digest = digest_of(text)
    had = database.even_removed(KeptRubric, "sha256 = ?", [digest])
    if not had:
        return write.add(KeptRubric, sha256=digest, name=name, version=version, text=text)
    if not database.rows(KeptRubric, "sha256 = ?", [digest]):
        write.change(KeptRubric, had[0].id, removed=None)
    return had[0].id


def digest_of(text: str) -> str:
    """The hash by which a rubric is known."""
    return sha256(text.encode()).hexdigest()
