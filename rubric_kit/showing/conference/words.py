"""The words of the page, from data/conference.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files


@cache
def words() -> Mapping[str, Mapping[str, str]]:
    return tomllib.loads((files("rubric_kit.showing") / "data" / "conference.toml").read_text("utf-8"))
