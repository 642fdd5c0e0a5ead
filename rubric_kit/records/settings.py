"""What the family decided, one value by name; what was not decided is as in data/settings.toml."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from itertools import pairwise
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
        decided = {row.name: json.loads(row.value) for row in self._database.rows(Setting)}
        return {name: decided.get(name, value) for name, value in usual().items()}

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
        why_not = _why_not(name, value)
        if why_not:
            raise RecordsError(f"{name} is not to be {json.dumps(value)}: {why_not}.")
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
    return {name: row["usual"] for name, row in _rows().items()}


def about(name: str) -> str:
    """What a setting does, and the choices where there are only some.

    Raises RecordsError for a name that is none.
    """
    choices = choices_of(name)
    return f"{_rows()[name]['about']}" + (f" Choose: {', '.join(choices)}." if choices else "")


def choices_of(name: str) -> Sequence[str]:
    """The only words that a setting may be; none where it is free.

    Raises RecordsError for a name that is none.
    """
    choices: Sequence[str] = _rows()[_known(name)].get("choices", ())
    return choices


@cache
def _rows() -> Mapping[str, Mapping[str, Any]]:
    return tomllib.loads((files("rubric_kit.records") / "data/settings.toml").read_text("utf-8"))


_LATE = ("late_points_a_day", "late_points_at_most")
WHOLE = 100


def _why_not(name: str, value: Any) -> str:
    """Why a value of the right kind is still none that a grade can be worked out with; "" where it is."""
    choices = choices_of(name)
    if choices and value not in choices:
        return f"choose one of {', '.join(choices)}"
    if name == "answers_weight" and not 0 <= value <= WHOLE:
        return "it is a percent from 0 to 100"
    if name in _LATE and not 0 <= value <= WHOLE:
        return "points off are between 0 and 100"
    return _letters_why_not(value) if name == "letters" else ""


def _letters_why_not(value: Sequence[Any]) -> str:
    pairs = [each for each in value if isinstance(each, list | tuple) and len(each) == 2]
    names = [name.strip() for name, _ in pairs if isinstance(name, str) and name.strip()]
    leasts = [x for _, x in pairs if isinstance(x, int | float) and not isinstance(x, bool) and 0 <= x <= WHOLE]
    if not value or not len(value) == len(pairs) == len(names) == len(leasts):
        return 'each letter is a pair such as ["A", 93], the least percent from 0 to 100'
    if any(low >= high for high, low in pairwise(leasts)):
        return "the least percents must fall from the first letter to the last"
    return "a letter is there twice" if len(set(names)) < len(names) else ""


def _known(name: str) -> str:
    if name not in usual():
        raise RecordsError(f"There is no setting {name}. There are: {', '.join(usual())}.")
    return name
