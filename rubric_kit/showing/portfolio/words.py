"""The words of the portfolio, from data/portfolio.toml, and days and numbers in words."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from datetime import date
from functools import cache
from importlib.resources import files


@cache
def words() -> Mapping[str, Mapping[str, str]]:
    return tomllib.loads((files("rubric_kit.showing") / "data" / "portfolio.toml").read_text("utf-8"))


def day_in_words(day: date) -> str:
    """19 September 2025."""
    return f"{day.day} {day:%B} {day.year}"


def span_in_words(begins: date | None, ends: date | None, verbs: tuple[str, str]) -> str:
    """As in "begun 2 September 2025, finished 12 September 2025"; "" where neither is known."""
    known = [f"{verb} {day_in_words(day)}" for verb, day in zip(verbs, (begins, ends), strict=True) if day]
    return ", ".join(known)


def count_of(many: int, thing: str) -> str:
    return f"{many} {thing}" if many == 1 else f"{many} {thing}s"


def grade_in_words(grade: int) -> str:
    return f"Grade {grade}" if grade else "Kindergarten"
