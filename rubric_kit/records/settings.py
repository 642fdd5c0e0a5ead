"""What the family decided, one value by name; what was not decided is as in data/settings.toml."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from rubric_kit.errors import RecordsError
from rubric_kit.records.database import Database
from rubric_kit.records.rows import Setting


class Settings:
    """A mapping of decisions; ``set`` and ``reset`` change them."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def all(self) -> dict[str, Any]:
        """Every decision by name."""
        return {**usual(), **{row.name: json.loads(row.value) for row in self._database.rows(Setting)}}

    def get(self, name: str) -> Any:
        """One decision.

        Raises RecordsError for a name that is none.
        """
        return self.all()[_known(name)]

    def set(self, name: str, value: Any) -> None:
        """Decide otherwise. The value must be of the same kind as the usual one.

        Raises RecordsError for a name that is none, or a value of another kind.
        """
        kind = type(usual()[_known(name)])
        fits = isinstance(value, kind) or (kind is float and isinstance(value, int))
        if not fits or (kind is not bool and isinstance(value, bool)):
            raise RecordsError(f"{name} is not to be {value!r}: it must be like {json.dumps(usual()[name])}.")
        had = self._database.rows(Setting, "name = ?", [name])
        with self._database.write(f"set {name} to {json.dumps(value)}") as write:
            if had:
                write.change(Setting, had[0].id, value=json.dumps(value))
            else:
                write.add(Setting, name=name, value=json.dumps(value))

    def reset(self, name: str) -> None:
        """Back to the usual."""
        had = self._database.rows(Setting, "name = ?", [_known(name)])
        if had:
            with self._database.write(f"reset {name}") as write:
                write.remove(Setting, had[0].id)


@cache
def usual() -> Mapping[str, Any]:
    """The decisions of a family that decided nothing."""
    return tomllib.loads((files("rubric_kit.records") / "data/settings.toml").read_text("utf-8"))


def _known(name: str) -> str:
    if name not in usual():
        raise RecordsError(f"There is no setting {name}. There are: {', '.join(usual())}.")
    return name
