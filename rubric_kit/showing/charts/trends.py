"""Trends of a table's pieces, and what they say: only pieces of one form stand on one line."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from rubric_kit.growth.comparable import Comparable, Piece, comparable
from rubric_kit.growth.readings import Wanted, reading
from rubric_kit.growth.trend import Trend

if TYPE_CHECKING:
    import pandas as pd


def by_form(table: pd.DataFrame) -> Comparable:
    """A table's pieces (date, form, grade, value) by form."""
    return comparable(
        Piece(row.date.date(), row.form, row.grade, None if row.value != row.value else float(row.value))
        for row in table.itertuples()
    )


def in_words(trend: Trend, what: str, unit: str = "levels", wanted: Wanted | None = "rising", digits: int = 2) -> str:
    """One trend: what happened, and whether it is more than chance."""
    said = reading(trend, what, unit, wanted, digits)
    return f"{said.words} {said.short}"


def many_in_words(
    trends: Mapping[tuple[str, str], Trend], unit: str = "levels", wanted: Wanted | None = "rising", digits: int = 2
) -> tuple[str, ...]:
    """Several trends by what they are of and the form: those that say more than chance one by one, the others of a form
    in one sentence.
    """
    sure = [
        in_words(trend, f"{what}, {form}", unit, wanted, digits)
        for (what, form), trend in trends.items()
        if trend.beyond_chance
    ]
    still_open: dict[str, list[str]] = {}
    for (what, form), trend in trends.items():
        if trend.slope is not None and not trend.beyond_chance:
            still_open.setdefault(form, []).append(what)
    rest = [
        f"No change that is more than chance yet, {form}: {', '.join(whats)}." for form, whats in still_open.items()
    ]
    return (*sure, *rest)


def day(moment: pd.Timestamp) -> str:
    """A day in words: 5 May 2026."""
    return f"{moment.day} {moment:%b %Y}"


def span(table: pd.DataFrame) -> str:
    """From when to when, in words."""
    first, last = day(table["date"].min()), day(table["date"].max())
    return f"on {first}" if first == last else f"from {first} to {last}"


def pieces(n: int) -> str:
    return f"{n} piece{'s' * (n != 1)}"
