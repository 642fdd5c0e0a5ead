"""What to say about each measure, and the next step where nothing is lacking: the rows of data/*.toml."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

ONE = re.compile(r"(?<![\d.,])1 (word|point|sentence)s\b")


@cache
def advice(form: str = "") -> Mapping[str, Mapping[str, str]]:
    """What to say about each measure that a rubric may look for (data/advice.toml).

    form  the form of task, for which some words are others (data/advice_by_form.toml); else those for any form
    """
    if not form:
        return _table("advice")
    return {name: {**row, **advice_by_form().get(form, {}).get(name, {})} for name, row in advice().items()}


@cache
def advice_by_form() -> Mapping[str, Mapping[str, Mapping[str, str]]]:
    """The words that are others for a form of task, by form and measure (data/advice_by_form.toml)."""
    return _table("advice_by_form")


@cache
def stretch() -> Mapping[str, Mapping[str, str]]:
    """The next step for a criterion already at its best (data/stretch.toml)."""
    return _table("stretch")


def said(template: str, value: float) -> str:
    """A reason with its value in it: 1 word, but 2 words."""
    return ONE.sub(r"1 \1", template.format(value=value))


def _table(name: str) -> dict[str, Any]:
    return tomllib.loads((files("rubric_kit.scoring") / f"data/{name}.toml").read_text("utf-8"))
