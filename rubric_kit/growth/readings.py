"""Trends, changes and norms in a parent's words. The words are in data/readings.toml; comparisons stay in one child."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from rubric_kit.growth.power import MOST, pieces_needed
from rubric_kit.growth.reliable import Change
from rubric_kit.growth.trend import Direction, Trend
from rubric_kit.measures.norms import Norm, norms

Wanted = Literal["rising", "falling"]


@dataclass(frozen=True, slots=True)
class Reading:
    """What a trend says.

    short  "More than chance: yes.", or "not yet" with about how many more pieces it needs
    words  what happened, how sure, and what to be careful about
    """

    short: str
    words: str


def reading(
    trend: Trend, what: str, unit: str = "levels", wanted: Wanted | None = "rising", digits: int = 2
) -> Reading:
    """A trend in words.

    what    what it is a trend of, as in "overall writing level"
    wanted  the direction to hope for ("falling" for slips), None where neither is better; the other way is worded with
            care
    digits  decimals of the slope
    """
    say = words()
    what = what[:1].upper() + what[1:]
    if trend.slope is None or trend.direction == "too few to say":
        return Reading(say["chance"]["too_few"], f"{what}: {trend.why_not}")
    direction: Direction = trend.direction if trend.beyond_chance or round(trend.slope, digits) else "steady"
    chance = "yes" if trend.beyond_chance else "not_yet"
    way = 1 if trend.slope > 0 else -1
    low, high = sorted(way * end for end in trend.interval or (trend.slope, trend.slope))
    numbers = {"slope": way * trend.slope, "low": low, "high": high}
    shown = {name: f"{value:.{digits}f}" for name, value in numbers.items()}
    parts = [say[direction][chance].format(what=what, unit=unit, n=trend.n, **shown)]
    if trend.among > 1 and direction != "steady":
        others = trend.among - 1
        parts.append(say["care"]["among"].format(others=f"{others} other{'s' * (others != 1)}"))
    if wanted and direction not in (wanted, "steady"):
        parts.append(say["care"][chance])
    return Reading(" ".join([say["chance"][chance], *_more(trend, direction)]), " ".join(parts))


def change_words(change: Change, before: float) -> str:
    """A change between two pieces beside the reader's own error."""
    row = words()["change"]["yes" if change.reliable else "no"]
    return row.format(before=f"{before:g}", after=f"{before + change.change:g}", smallest=f"{change.smallest:.1f}")


def norms_near(measure: str, grade: int) -> tuple[Norm, ...]:
    """The published averages for a grade, or where there are none those of the nearest grades below and above; empty
    for a measure without norms. For placing one piece with its interval see rubric_kit.measures.norms.place.
    """
    known = norms(measure)
    below = max((norm.grade for norm in known if norm.grade <= grade), default=None)
    above = min((norm.grade for norm in known if norm.grade >= grade), default=None)
    near = {grade} if below == above else {below, above}
    return tuple(norm for norm in known if norm.grade in near)


def norm_words(measure: str, grade: int, digits: int = 1) -> str:
    """The published averages near a grade in words; empty for a measure without norms."""
    near = norms_near(measure, grade)
    if not near:
        return ""
    same = all(norm.grade == grade for norm in near)
    averages = ", ".join(
        f"{norm.value:.{digits}f} ({norm.source}{'' if same else f', grade {norm.grade}'})" for norm in near
    )
    say = words()["norm"]
    return f"{say['same' if same else 'near'].format(grade=grade, averages=averages)} {say['caution']}"


def _more(trend: Trend, direction: Direction) -> list[str]:
    say = words()["chance"]
    if trend.beyond_chance:
        return []
    if direction == "steady":
        return [say["level"]]
    more = pieces_needed(trend)
    if more is None:
        return [say["needs_many"].format(most=MOST)]
    return [say["needs"].format(more=more, pieces="piece" if more == 1 else "pieces")]


@cache
def words() -> dict[str, dict[str, str]]:
    return tomllib.loads((files("rubric_kit.growth") / "data" / "readings.toml").read_text("utf-8"))
