"""What every noun of the records can do: list, get, change, remove."""

from __future__ import annotations

from dataclasses import fields
from typing import Any, Generic, TypeVar

from rubric_kit.errors import RecordsError
from rubric_kit.records.database import Database
from rubric_kit.records.rows import TABLES, Row

T = TypeVar("T", bound=Row)


class Noun(Generic[T]):
    """The current rows of one table. ``kind`` is their dataclass, ``fixed`` the fields that are never changed."""

    kind: type[T]
    fixed: frozenset[str] = frozenset({"id"})

    def __init__(self, database: Database) -> None:
        self._database = database

    def all(self) -> list[T]:
        """All of them, in the order they were made."""
        return self._database.rows(self.kind)

    def get(self, row_id: int) -> T:
        """One by its number.

        Raises RecordsError where there is none.
        """
        return self._database.row(self.kind, row_id)

    def change(self, row_id: int, **values: Any) -> T:
        """Other values for one of them.

        Raises RecordsError for a row or a value that cannot be.
        """
        allowed = [f.name for f in fields(self.kind) if f.name not in self.fixed]  # type: ignore[arg-type]
        unknown = [name for name in values if name not in allowed]
        if unknown:
            raise RecordsError(f"{unknown[0]} cannot be changed. What can: {', '.join(allowed)}.")
        row = self.get(row_id)
        with self._database.write(f"change {self._called(row)}: {', '.join(values)}") as write:
            write.change(self.kind, row_id, **values)
        return self.get(row_id)

    def remove(self, row_id: int) -> None:
        """Take one away, with all that hangs on it; undo brings it back.

        Raises RecordsError where there is none.
        """
        row = self.get(row_id)
        with self._database.write(f"remove {self._called(row)}") as write:
            write.remove(self.kind, row_id)

    def _called(self, row: T) -> str:
        """A row in words, for the history."""
        name = next((getattr(row, n) for n in ("name", "title", "file_name") if hasattr(row, n)), f"number {row.id}")
        return f"{TABLES[self.kind].removesuffix('s').replace('_', ' ')} {name}"
