"""The first and the last draft of one piece: levels and measures before and after."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubric_kit.growth.readings import change_words
from rubric_kit.growth.reliable import reliable_change
from rubric_kit.growth.steadiness import Steadiness, steadiness
from rubric_kit.scoring.rubric import LEVEL_NAMES, LEVELS
from rubric_kit.showing.charts.chart import BLUE, INK, PAPER, RULE, SOFT, WIDTH, Chart, fitted, nothing
from rubric_kit.showing.charts.measure import name_of
from rubric_kit.showing.charts.over_time import head
from rubric_kit.showing.inert import short

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes

MEASURES = ("length", "evidence_per_body", "explanation_per_body", "transitions_per_100_words", "errors_per_100_words")
ROW, REST = 0.36, 1.7  # inches: a row, and all above, between and below the rows
SCALES = "each from 0, on a scale of its own"
BETWEEN = 2.2  # rows of room between levels and measures
NAME_INCHES = 2.7  # of a criterion or measure beside its row
NAMED = 40  # characters of a title in words
NAMES_SHARE = 0.4  # of the width, for the names of rows


def before_after(
    levels: pd.DataFrame, measures: pd.DataFrame, *, reader: Steadiness | None = None, who: str = ""
) -> Chart:
    """A line from the first draft (hollow) to the last (filled) for each criterion and measure. Levels are the
    reader's where both drafts were marked, else both are proposals: never one beside the other.

    levels    a levels_table with the drafts of one task of one child
    measures  a measures_table of the same with MEASURES, of which those that both drafts have are shown
    """
    name = str(levels["title"].iloc[-1]) if len(levels) else ""
    title = ": ".join(short(part, NAMED) for part in (who, name, "first and last draft") if part)
    drafts = sorted(set(levels["draft"]))
    if len(drafts) < 2:
        return nothing(title, "A revision needs two drafts that were scored or marked.")
    pair = [levels[levels["draft"] == n].set_index("criterion") for n in (drafts[0], drafts[-1])]
    kind = "own" if all(draft["own"].notna().all() for draft in pair) else "proposed"
    rows = _level_rows(pair, kind)
    values = _measure_rows(measures, drafts)
    if not rows and not values:
        return nothing(title, "The two drafts have no level and no measure in common.")

    def paint(ax: Axes) -> None:
        ax.set_axis_off()
        total = max(1, len(rows)) + BETWEEN + len(values)
        share = max(1, len(rows)) / total
        upper = ax.inset_axes((NAMES_SHARE, 1 - share, 1 - NAMES_SHARE, share))
        _levels(upper, rows)
        if values:
            _measures(ax.inset_axes((NAMES_SHARE, 0, 1 - NAMES_SHARE, len(values) / total)), values)
        keys = [f"○ draft {drafts[0]}", f"● draft {drafts[-1]}", _WHOSE[kind]]
        head(ax, title, keys, room=WIDTH - 0.3)

    said = _reading(pair, kind, rows, values, (reader or steadiness(())).error().value)
    size = (WIDTH, ROW * (len(rows) + len(values) + BETWEEN) + REST)
    return Chart(title, _alt(title, rows, values, kind), said, paint, size)


Row = tuple[str, float, float]
_WHOSE = {"own": "levels: yours", "proposed": "levels: as proposed"}


def _level_rows(pair: list[pd.DataFrame], kind: str) -> list[Row]:
    first, last = pair
    both = [key for key in last.index if key in first.index]
    rows = [(str(last.loc[key, "name"]), float(first.loc[key, kind]), float(last.loc[key, kind])) for key in both]
    return [row for row in rows if row[1] == row[1] and row[2] == row[2]]


def _measure_rows(measures: pd.DataFrame, drafts: list[int]) -> dict[str, Row]:
    """By measure: what it is called with its unit, before and after."""
    if measures.empty:
        return {}
    wide = measures.pivot_table(index="measure", columns="draft", values="value", sort=False)
    if not {drafts[0], drafts[-1]} <= set(wide.columns):
        return {}
    ends = wide[[drafts[0], drafts[-1]]].dropna()
    return {str(m): (name_of(str(m))["label"], float(before), float(after)) for m, before, after in ends.itertuples()}


def _line(ax: Axes, y: int, before: float, after: float) -> None:
    ax.plot([before, after], [y, y], color=SOFT, linewidth=2, zorder=2)
    ax.plot(
        before, y, "o", markersize=9, markerfacecolor=PAPER, markeredgecolor=INK, markeredgewidth=1.4, clip_on=False
    )
    ax.plot(after, y, "o", markersize=9, color=BLUE, markeredgecolor=BLUE, clip_on=False, zorder=4)


def _levels(ax: Axes, rows: list[Row]) -> None:
    for y, (_, before, after) in enumerate(rows):
        _line(ax, y, before, after)
    ax.set_xlim(LEVELS[0] - 0.2, LEVELS[-1] + 0.2)
    ax.set_xticks(LEVELS, [f"{n}\n{LEVEL_NAMES[n]}" for n in LEVELS])
    ax.grid(axis="x")
    _side(ax, [row[0] for row in rows])


def _measures(ax: Axes, values: dict[str, Row]) -> None:
    """Each on a line of its own from 0 to the larger value; the values stand on the right."""
    for y, (measure, (_, before, after)) in enumerate(values.items()):
        most = max(before, after) or 1
        _line(ax, y, before / most, after / most)
        said = f"{_shown(measure, before)} → {_shown(measure, after)}"
        ax.annotate(said, (1.06, y), va="center", annotation_clip=False)
    ax.axvline(0, color=RULE, zorder=1)
    ax.annotate(SCALES, (0, 1), (0, 4), xycoords="axes fraction", textcoords="offset points", color=SOFT)
    ax.set_xlim(-0.03, 1.4)
    ax.set_xticks([])
    _side(ax, [row[0] for row in values.values()])


def _side(ax: Axes, names: list[str]) -> None:
    ax.set_yticks(range(len(names)), [fitted(name, NAME_INCHES) for name in names])
    ax.set_ylim(len(names) - 0.5, -0.5)
    ax.tick_params(length=0)
    ax.spines[:].set_visible(False)


def _reading(
    pair: list[pd.DataFrame], kind: str, rows: list[Row], values: dict[str, Row], error: float
) -> tuple[str, ...]:
    up = [name for name, before, after in rows if after > before]
    down = [name for name, before, after in rows if after < before]
    said = [f"Went up: {', '.join(up)}." if up else "No criterion went up a level."]
    said += [f"Went down: {', '.join(down)}. Look whether something was lost in the rewriting."] if down else []
    if kind == "own" and rows:
        before, after = (float((d["own"] * d["weight"]).sum() / d["weight"].sum()) for d in pair)
        change = change_words(reliable_change(round(before, 2), round(after, 2), error), round(before, 2))
        said.append(f"Overall: {change}")
    elif rows:
        said.append(
            "Both levels are proposals, made alike, as not both drafts were marked: they tell what could be counted, "
            "not whether the piece reads better."
        )
    moved = [m for m, (_, *ends) in values.items() if len({_shown(m, end) for end in ends}) > 1]
    said += [_moved(m, values[m]) for m in moved]
    return tuple(said)


def _moved(measure: str, row: Row) -> str:
    name, before, after = row
    return f"{name[:1].upper()}{name[1:]}: from {_shown(measure, before)} to {_shown(measure, after)}."


def _shown(measure: str, value: float) -> str:
    return f"{value:.{name_of(measure)['digits']}f}"


def _alt(title: str, rows: list[Row], values: dict[str, Row], kind: str) -> str:
    whose = {"own": "the reader's levels", "proposed": "proposed levels"}[kind]
    levels = "; ".join(f"{name} {before:g} to {after:g}" for name, before, after in rows)
    parts = [f"{title}, {whose} and measures before and after.", f"Levels: {levels}." if levels else ""]
    parts += [_moved(m, row) for m, row in values.items()]
    return " ".join(part for part in parts if part)
