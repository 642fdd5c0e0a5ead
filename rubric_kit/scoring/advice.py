"""What to say about each measure, and the next step where nothing is lacking: the rows of data/*.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files


@cache
def advice() -> Mapping[str, Mapping[str, str]]:
    """What to say about each measure that a rubric may look for (data/advice.toml)."""
    return tomllib.loads((files("rubric_kit.scoring") / "data/advice.toml").read_text("utf-8"))


@cache
def stretch() -> Mapping[str, Mapping[str, str]]:
    """The next step for a criterion already at its best (data/stretch.toml)."""
    return tomllib.loads((files("rubric_kit.scoring") / "data/stretch.toml").read_text("utf-8"))
