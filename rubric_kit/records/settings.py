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
        why_not = _why_not(name, value, self.all())
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
    return tomllib.loads((files("rubric_kit.records") / "data/settings.toml").read_text("utf-8"))


# What each of these may be.
_CHOICES = {"redo_rule": ("latest", "best", "mean"), "year_counts": ("terms", "pieces")}
_WEIGHTS = {"answers_weight": "writing_weight", "writing_weight": "answers_weight"}  # one may be 0, not both
_LATE = ("late_points_a_day", "late_points_at_most")
WHOLE = 100


def _why_not(name: str, value: Any, decided: Mapping[str, Any]) -> str:
    """Why a value of the right kind is still none that a grade can be worked out with; "" where it is."""
    if name in _CHOICES and value not in _CHOICES[name]:
        return f"choose one of {', '.join(_CHOICES[name])}"
    if name in _WEIGHTS and (value < 0 or value + decided[_WEIGHTS[name]] == 0):
        return f"a weight is not below 0, and it and {_WEIGHTS[name]} are not both 0"
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
