"""One measure through the year, with the published averages of the child's grade where there are some."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rubric_kit.growth.many import together
from rubric_kit.growth.readings import norm_words, norms_near
from rubric_kit.measures.norms import Norm
from rubric_kit.showing.charts.chart import BLUE, WIDTH, Chart, nothing
from rubric_kit.showing.charts.over_time import TERM_NAMES, day_axis, days_of, dot, forms_key, head, trend_line
from rubric_kit.showing.charts.tables import words
from rubric_kit.showing.charts.trends import by_form, day, in_words, pieces, span
from rubric_kit.showing.inert import short

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes

HEIGHT = 3.6  # inches
NAMED = 40  # characters of a name or title in words
NORM_BAND, NORM_EDGE = "#CBD5DD", "#6F7A82"  # own greys, cool beside the warm ones of the terms
AIR = 0.15  # of the values' range, free above and below them
LINE_OF_TEXT = 12  # points


def measure_over_time(
    measures: pd.DataFrame, measure: str, *, terms: pd.DataFrame | None = None, who: str = ""
) -> Chart:
    """One point a piece: a measure of its last draft, with published averages near the child's latest grade as a band.

    measures  a measures_table of one child that holds this measure
    """
    called = name_of(measure)
    title = f"{short(who, NAMED)}: {called['label']}" if who else called["label"].capitalize()
    table = measures[(measures["measure"] == measure) & measures["last"].astype(bool) & measures["value"].notna()]
    if table.empty:
        return nothing(title, "No piece has this measure: none has been scored, or all are too short.")
    grade = int(table["grade"].iloc[-1])
    norms = norms_near(measure, grade)
    groups = by_form(table)
    trends = together(groups.trends(), headline=None)

    def paint(ax: Axes) -> None:
        day_axis(ax, table, terms)
        values = [*table["value"], *(norm.value for norm in norms)]
        air = AIR * (max(values) - min(values)) or 1
        ax.set_ylim(max(0, min(values) - air), max(values) + air)
        if norms:
            _norm_band(ax, norms)
        low, high = ax.get_xlim()
        for x, row in zip(days_of(table, high - low), table.itertuples(), strict=True):
            dot(ax, x, row.value, row.form, filled=True, color=BLUE)
        for trend in trends.values():
            trend_line(ax, trend)
        ax.set_ylabel(called["unit"])
        ax.grid(axis="y")
        keys = forms_key(table)
        keys += ["dashes: a change that is more than chance"] if any(t.beyond_chance for t in trends.values()) else []
        keys += [_norm_key(norms, called["digits"])] if norms else []
        head(ax, title, keys, free=TERM_NAMES)

    said = [
        in_words(trend, f"{called['label']}, {form}", called["unit"], called.get("wanted"), called["digits"] + 1)
        for form, trend in trends.items()
    ]
    said += [norm_words(measure, grade, called["digits"])] if norms else []
    said += groups.notes
    return Chart(title, _alt(title, table, norms, called), tuple(said), paint, (WIDTH, HEIGHT))


def name_of(measure: str) -> dict[str, Any]:
    """What a measure is called, its unit, the direction to hope for, decimals: data/charts.toml, else the catalogue."""
    from rubric_kit.measures.measured import FAMILIES

    known: dict[str, Any] = words()["measures"].get(measure, {})
    unit = next((rows[measure].unit for rows in FAMILIES.values() if measure in rows), "")
    return {"label": measure.replace("_", " "), "unit": unit, "digits": 2} | known


def _norm_band(ax: Axes, norms: tuple[Norm, ...]) -> None:
    values = [norm.value for norm in norms]
    ax.axhspan(min(values), max(values), facecolor=NORM_BAND, edgecolor=NORM_EDGE, linewidth=1, zorder=1)


def _norm_key(norms: tuple[Norm, ...], digits: int) -> str:
    values = [norm.value for norm in norms]
    low, high = f"{min(values):.{digits}f}", f"{max(values):.{digits}f}"
    one = low == high
    return (
        f"{'grey line' if one else 'band'}: published averages, {_grades(norms)}: {low if one else f'{low} to {high}'}"
    )


def _grades(norms: tuple[Norm, ...]) -> str:
    grades = sorted({norm.grade for norm in norms})
    return f"grade {grades[0]}" if len(grades) == 1 else f"grades {grades[0]} and {grades[-1]}"


def _alt(title: str, table: pd.DataFrame, norms: tuple[Norm, ...], called: dict[str, Any]) -> str:
    def place(row: pd.Series) -> str:
        return f"{row['value']:.{called['digits']}f} ({short(row['title'], NAMED)}, {day(row['date'])})"

    parts = [f"{title}, in {called['unit']}, {pieces(len(table))} {span(table)}."]
    low, high = table.loc[table["value"].idxmin()], table.loc[table["value"].idxmax()]
    ends = f"First {place(table.iloc[0])}, last {place(table.iloc[-1])}; lowest {place(low)}, highest {place(high)}."
    parts.append(ends if len(table) > 1 else f"It is {place(low)}.")
    if norms:
        parts.append(f"{_norm_key(norms, called['digits']).capitalize()}.")
    return " ".join(parts)
