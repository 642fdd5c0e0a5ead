"""A child's overall level through the year, with the reader's own error."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubric_kit.growth.many import together
from rubric_kit.growth.readings import change_words
from rubric_kit.growth.reliable import reliable_change
from rubric_kit.growth.steadiness import KnownError, Steadiness, steadiness
from rubric_kit.scoring.rubric import LEVELS
from rubric_kit.showing.charts.chart import BLUE, SOFT, WIDTH, Chart, nothing
from rubric_kit.showing.charts.over_time import (
    TERM_NAMES,
    day_axis,
    days_of,
    dot,
    forms_key,
    head,
    level_axis,
    trend_line,
)
from rubric_kit.showing.charts.tables import overall_table
from rubric_kit.showing.charts.trends import by_form, day, in_words, pieces, span
from rubric_kit.showing.inert import short

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes

WHAT = "overall writing level"
HEIGHT = 3.8  # inches
NAMED = 40  # characters of a title in words


def writing_level(
    levels: pd.DataFrame, *, terms: pd.DataFrame | None = None, reader: Steadiness | None = None, who: str = ""
) -> Chart:
    """One point a piece: the weighted mean of the levels that count, in its last draft; filled where the reader marked
    it, hollow where it is a proposal. Bars reach one standard error either way, and end with the scale.

    levels  a levels_table of one child
    terms   a terms_table
    reader  what is known of the reader's steadiness; without it the spread of readers on labelled essays
    """
    title = f"{short(who, NAMED)}: {WHAT}" if who else WHAT.capitalize()
    table = overall_table(levels)
    if table.empty:
        return nothing(title, "No piece has been scored or marked.")
    usual = steadiness(())
    known = (reader or usual).error()
    groups = by_form(table)
    trends = together(groups.trends(), headline=None)
    errors = [known.value if marked else usual.error().value for marked in table["marked"]]

    def paint(ax: Axes) -> None:
        day_axis(ax, table, terms)
        level_axis(ax)
        low, high = ax.get_xlim()
        places = days_of(table, high - low)
        for x, row, error in zip(places, table.itertuples(), errors, strict=True):
            ends = max(LEVELS[0], row.value - error), min(LEVELS[-1], row.value + error)
            ax.vlines(x, *ends, color=SOFT, linewidth=1, zorder=2)
            dot(ax, x, row.value, row.form, row.marked, BLUE)
        for trend in trends.values():
            trend_line(ax, trend)
        keys = [*forms_key(table), "bar: the reader's error"]
        keys += ["dashes: a change that is more than chance"] if any(t.beyond_chance for t in trends.values()) else []
        keys += [] if table["marked"].all() else ["hollow: not marked, as proposed"]
        head(ax, title, keys, free=TERM_NAMES)

    said = [in_words(trend, f"{WHAT}, {form}") for form, trend in trends.items()]
    said += _first_and_last(table, known.value)
    said += groups.notes
    said += _bars(int(table["marked"].sum()), len(table), known, usual.error())
    return Chart(title, _alt(title, table, trends.values()), tuple(said), paint, (WIDTH, HEIGHT))


def _bars(marked: int, n: int, own: KnownError, usual: KnownError) -> list[str]:
    """What the bars mean for pieces that the reader marked, and for the others."""
    said = []
    if marked:
        said.append(
            f"The bars: marked once more, a piece would land within them about two times in three "
            f"({own.value:.2f} levels either way; {own.source})."
        )
    if marked < n:
        said.append(
            f"{pieces(n - marked)} not marked by you: as proposed, with bars of {usual.value:.2f} levels, about how "
            "far a reader's level lies from a proposed one."
        )
    return said


def _first_and_last(table: pd.DataFrame, error: float) -> list[str]:
    """The first and the last marked piece of the form that has most of them, beside the reader's error."""
    marked = table[table["marked"]]
    if marked.empty:
        return []
    form = marked["form"].value_counts(sort=True).index[0]
    of_form = marked[marked["form"] == form]
    if len(of_form) < 2:
        return []
    before, after = (round(float(of_form["value"].iloc[n]), 2) for n in (0, -1))
    return [f"First and last {form}: {change_words(reliable_change(before, after, error), before)}"]


def _alt(title: str, table: pd.DataFrame, trends: object) -> str:
    low, high = table.loc[table["value"].idxmin()], table.loc[table["value"].idxmax()]
    first, last = table.iloc[0], table.iloc[-1]
    hollow = int((~table["marked"]).sum())
    parts = [f"{title}, on levels 1 to 4, {pieces(len(table))} {span(table)}."]
    if len(table) > 1:
        parts.append(f"First {_place(first)}, last {_place(last)}; lowest {_place(low)}, highest {_place(high)}.")
    else:
        parts.append(f"It is {_place(first)}.")
    if hollow:
        parts.append(f"{pieces(hollow)} not marked, shown as proposed.")
    return " ".join(parts)


def _place(row: pd.Series) -> str:
    return f"{round(row['value'], 2):g} ({short(row['title'], NAMED)}, {day(row['date'])})"
