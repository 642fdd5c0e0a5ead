"""Levels by criterion through the year: what the reader gave, and what was proposed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubric_kit.growth.many import together
from rubric_kit.growth.trend import Trend
from rubric_kit.showing.charts.chart import BLUE, SOFT, WIDTH, Chart, nothing
from rubric_kit.showing.charts.over_time import (
    PANEL_NAME,
    TERM_NAMES,
    day_axis,
    days_of,
    dot,
    forms_key,
    head,
    level_axis,
    panel_name,
    panels,
    trend_line,
)
from rubric_kit.showing.charts.trends import by_form, many_in_words, pieces, span
from rubric_kit.showing.inert import short

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes

WHAT = "levels by criterion"
PANEL, REST = 1.15, 1.1  # inches: one panel with its name, and all above and below the panels
BETWEEN = 0.34  # of a panel's height: room for its name
NAMED = 40  # characters of a name in words


def criteria_over_time(levels: pd.DataFrame, *, terms: pd.DataFrame | None = None, who: str = "") -> Chart:
    """A small panel for each criterion, one above the other on the same days: the reader's level of each last draft
    filled, the proposal hollow; where both are the same the filled one is seen.

    levels  a levels_table of one child
    """
    title = f"{short(who, NAMED)}: {WHAT}" if who else WHAT.capitalize()
    table = levels[levels["last"].astype(bool) & levels["level"].notna()]
    if table.empty:
        return nothing(title, "No piece has been scored or marked.")
    rows: dict[str, pd.DataFrame] = dict(iter(table.groupby("criterion", sort=False)))
    names = {key: str(group["name"].iloc[-1]) for key, group in rows.items()}
    trends, notes = _trends(rows, names)

    def paint(ax: Axes) -> None:
        for n, (key, panel) in enumerate(zip(rows, panels(ax, len(rows), BETWEEN), strict=True)):
            day_axis(panel, table, terms, names=PANEL_NAME if n == 0 else None)
            level_axis(panel, names=False)
            _points(panel, rows[key])
            for (criterion, _), trend in trends.items():
                if criterion == key:
                    trend_line(panel, trend)
            panel_name(panel, names[key])
            if n < len(rows) - 1:
                panel.tick_params(axis="x", labelbottom=False)
        keys = ["filled: your level", "hollow: the proposal", *forms_key(table)]
        keys += ["dashes: a change that is more than chance"] if any(t.beyond_chance for t in trends.values()) else []
        head(ax, title, keys, free=TERM_NAMES + PANEL_NAME)

    said = many_in_words({(names[key], form): trend for (key, form), trend in trends.items()})
    caution = "Levels come in whole steps and are one reader's: look for what lasts over several pieces."
    size = (WIDTH, PANEL * len(rows) + REST)
    return Chart(title, _alt(title, rows, names), (*said, *notes, caution), paint, size)


def _trends(rows: dict[str, pd.DataFrame], names: dict[str, str]) -> tuple[dict[tuple[str, str], Trend], list[str]]:
    """Trends by criterion and form, all looked at together, and what to keep in mind."""
    groups = {key: by_form(group.rename(columns={"level": "value"})) for key, group in rows.items()}
    each = {(key, form): trend for key, group in groups.items() for form, trend in group.trends().items()}
    by_name = together({f"{key}\n{form}": trend for (key, form), trend in each.items()}, headline=None)
    notes = list(dict.fromkeys(note for group in groups.values() for note in group.notes))
    return {tuple(name.split("\n", 1)): trend for name, trend in by_name.items()}, notes  # type: ignore[misc]


def _points(ax: Axes, rows: pd.DataFrame) -> None:
    low, high = ax.get_xlim()
    for x, row in zip(days_of(rows, high - low), rows.itertuples(), strict=True):
        own, proposed = row.own == row.own, row.proposed == row.proposed
        if own and proposed and row.own != row.proposed:
            ax.vlines(x, *sorted((row.own, row.proposed)), color=SOFT, linewidth=1)
        if proposed and row.own != row.proposed:
            dot(ax, x, row.proposed, row.form, filled=False, color=SOFT, size=7)
        if own:
            dot(ax, x, row.own, row.form, filled=True, color=BLUE, size=7)


def _alt(title: str, rows: dict[str, pd.DataFrame], names: dict[str, str]) -> str:
    any_rows = next(iter(rows.values()))
    parts = [f"{title}, 1 to 4, {pieces(len(any_rows))} {span(any_rows)}."]
    for key, group in rows.items():
        levels = ", ".join(f"{level:g}" for level in group["level"])
        apart = int((group["own"].notna() & group["proposed"].notna() & (group["own"] != group["proposed"])).sum())
        differ = f"; the proposal differed in {apart}" if apart else ""
        parts.append(f"{names[key].capitalize()}: {levels}{differ}.")
    return " ".join(parts)
