"""What grew: one chart for the child, without numbers, of what rose more than chance would make it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rubric_kit.growth.many import together
from rubric_kit.growth.trend import Trend
from rubric_kit.scoring.rubric import LEVELS
from rubric_kit.showing.charts.chart import BLUE, WIDTH, Chart
from rubric_kit.showing.charts.over_time import TERM_NAMES, day_axis, days_of, dot, head, level_axis, trend_line
from rubric_kit.showing.charts.tables import overall_table
from rubric_kit.showing.charts.trends import by_form
from rubric_kit.showing.conference.words import words

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes

WHOLE = "whole"
HEIGHT = 2.4  # inches: the page has more to say


@dataclass(frozen=True, slots=True)
class Grown:
    """``words`` for the child; ``chart`` none where no piece has a level."""

    words: str
    chart: Chart | None


def grown(levels: pd.DataFrame, form: str, terms: pd.DataFrame) -> Grown:
    """Of a child's pieces in this form (in the most frequent one where these are too few), the criterion that rose most
    surely; where none did, the piece as a whole. What fell is not shown to the child.

    levels  a levels_table of one child up to the day of the talk
    """
    say = words()
    whole = overall_table(levels)
    if whole.empty:
        return Grown(say["not_yet"]["few"], None)
    form = _form(whole, form)
    tables = {WHOLE: whole} | {key: _of(levels, key) for key in levels["criterion"].unique()}
    tables = {key: table[table["form"] == form] for key, table in tables.items()}
    found = {key: trends[form] for key, table in tables.items() if form in (trends := by_form(table).trends())}
    rising = _rising(together(found, headline=WHOLE))
    if not rising:
        told = say["not_yet"]["open" if found else "few"]
        return Grown(told, _chart(tables[WHOLE], terms, None))
    best = max(rising, key=lambda key: (key != WHOLE, rising[key].tau or 0.0))
    return Grown(say["grew"].get(best, say["grew"]["other"]), _chart(tables[best], terms, rising[best]))


def _rising(trends: Mapping[str, Trend]) -> dict[str, Trend]:
    return {key: t for key, t in trends.items() if t.beyond_chance and t.direction == "rising"}


def _form(whole: pd.DataFrame, form: str) -> str:
    groups = by_form(whole).groups
    return form if form in groups or not groups else next(iter(groups))


def _of(levels: pd.DataFrame, criterion: str) -> pd.DataFrame:
    """The levels of one criterion that count, of last drafts."""
    rows = levels[(levels["criterion"] == criterion) & levels["last"].astype(bool) & levels["level"].notna()]
    return rows.rename(columns={"level": "value"})


def _chart(table: pd.DataFrame, terms: pd.DataFrame, trend: Trend | None) -> Chart | None:
    if table.empty:
        return None
    say = words()["chart"]
    ticks = [words()["levels"][str(level)] for level in LEVELS]

    def paint(ax: Axes) -> None:
        day_axis(ax, table, terms)
        level_axis(ax)
        ax.set_yticks(LEVELS, ticks)
        low, high = ax.get_xlim()
        for x, row in zip(days_of(table, high - low), table.itertuples(), strict=True):
            dot(ax, x, row.value, row.form, filled=True, color=BLUE)
        if trend:
            trend_line(ax, trend)
        head(ax, say["title"], [say["dot"], *([say["line"]] if trend else [])], free=TERM_NAMES)

    first, last = (ticks[round(float(table["value"].iloc[n])) - LEVELS[0]] for n in (0, -1))
    alt = say["alt"].format(first=first, last=last) + (f" {say['up']}" if trend else "")
    return Chart(say["title"], alt, (), paint, (WIDTH, HEIGHT))
