"""Slips per 100 words through the year, by kind."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubric_kit.growth.many import together
from rubric_kit.growth.readings import Wanted
from rubric_kit.growth.trend import Trend
from rubric_kit.showing.charts.chart import BLUE, WIDTH, Chart, nothing
from rubric_kit.showing.charts.over_time import (
    PANEL_NAME,
    TERM_NAMES,
    day_axis,
    days_of,
    dot,
    forms_key,
    head,
    panel_name,
    panels,
    trend_line,
)
from rubric_kit.showing.charts.trends import by_form, in_words, many_in_words, pieces, span
from rubric_kit.showing.inert import short

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes
    from matplotlib.ticker import Locator

WHAT = "slips per 100 words"
ALL = "all slips"
PANEL, REST = 0.8, 1.1  # inches: one panel with its name, and all above and below the panels
BETWEEN = 0.5  # of a panel's height: room for its name
NAMED = 40  # characters of a name in words
AIR = 1.15  # of the highest rate
LEAST_TOP = 1.0  # per 100 words: a scale that shows no mountains where there is one slip


def slips_per_100_words(slips: pd.DataFrame, *, terms: pd.DataFrame | None = None, who: str = "") -> Chart:
    """All slips on top, then a panel for each kind that was found, the commonest first, with one scale for all kinds: a
    stem for each last draft.

    slips  a slips_table of one child
    """
    title = f"{short(who, NAMED)}: {WHAT}" if who else WHAT.capitalize()
    table = slips[slips["last"].astype(bool) & slips["rate"].notna()].rename(columns={"rate": "value"})
    if table.empty:
        return nothing(title, "No piece has been scored.")
    who_columns = [c for c in table.columns if c not in ("kind", "slips", "value")]
    total = table.groupby(who_columns, sort=False, as_index=False)["value"].sum()
    found = table.groupby("kind", sort=False)["slips"].sum().sort_values(ascending=False, kind="stable")
    kinds = [str(kind) for kind in found.index[found > 0]]
    rows = {ALL: total} | {kind: table[table["kind"] == kind] for kind in kinds}
    trends, notes = _trends(rows)

    def paint(ax: Axes) -> None:
        top = max(LEAST_TOP, *(float(rows[kind]["value"].max()) * AIR for kind in kinds))
        for n, (kind, panel) in enumerate(zip(rows, panels(ax, len(rows), BETWEEN), strict=True)):
            day_axis(panel, total, terms, names=PANEL_NAME if n == 0 else None)
            panel.set_ylim(0, top if n else max(top, float(total["value"].max()) * AIR))
            low, high = panel.get_xlim()
            places = days_of(rows[kind], high - low)
            panel.vlines(places, 0, rows[kind]["value"], color=BLUE, linewidth=2)
            for x, row in zip(places, rows[kind].itertuples(), strict=True):
                dot(panel, x, row.value, row.form, filled=True, color=BLUE, size=6)
            for (of_kind, _), trend in trends.items():
                if of_kind == kind:
                    trend_line(panel, trend)
            panel.grid(axis="y")
            panel.yaxis.set_major_locator(_two_ticks())
            panel.spines["left"].set_visible(False)
            panel.tick_params(axis="y", length=0)
            panel_name(panel, kind)
            if n < len(rows) - 1:
                panel.tick_params(axis="x", labelbottom=False)
        keys = forms_key(total)
        keys += ["dashes: a change that is more than chance"] if any(t.beyond_chance for t in trends.values()) else []
        head(ax, title, keys, free=TERM_NAMES + PANEL_NAME)

    size = (WIDTH, PANEL * len(rows) + REST)
    return Chart(title, _alt(title, total, rows), _reading(trends, notes, found), paint, size)


def _two_ticks() -> Locator:
    from matplotlib.ticker import MaxNLocator

    return MaxNLocator(nbins=2, integer=True)


def _trends(rows: dict[str, pd.DataFrame]) -> tuple[dict[tuple[str, str], Trend], list[str]]:
    """Trends by kind and form. All slips are the headline; the kinds are looked at together."""
    groups = {kind: by_form(group) for kind, group in rows.items()}
    each = {(kind, form): trend for kind, group in groups.items() for form, trend in group.trends().items()}
    kinds = together({f"{k}\n{form}": trend for (k, form), trend in each.items() if k != ALL}, headline=None)
    of_kinds = {(k, form): kinds.get(f"{k}\n{form}", trend) for (k, form), trend in each.items()}
    return of_kinds, list(groups[ALL].notes)


def _reading(trends: dict[tuple[str, str], Trend], notes: list[str], found: pd.Series) -> tuple[str, ...]:
    wanted: Wanted = "falling"
    said = [
        in_words(trend, f"{ALL}, {form}", "per 100 words", wanted) for (k, form), trend in trends.items() if k == ALL
    ]
    said += many_in_words(
        {(k, form): trend for (k, form), trend in trends.items() if k != ALL}, "per 100 words", wanted
    )
    none = [str(kind) for kind in found.index[found == 0]]
    said += notes
    said += [f"None found: {', '.join(none)}."] if none else []
    said.append(
        "These are the slips that were found: some are missed, and some that are marked are none. Bolder sentences "
        "bring new slips for a while."
    )
    return tuple(said)


def _alt(title: str, total: pd.DataFrame, rows: dict[str, pd.DataFrame]) -> str:
    parts = [f"{title}, {pieces(len(total))} {span(total)}."]
    for kind, group in rows.items():
        rates = ", ".join(f"{rate:.1f}" for rate in group["value"])
        parts.append(f"{kind.capitalize()}: {rates}.")
    return " ".join(parts)
