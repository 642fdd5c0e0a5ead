"""What charts over a year share: the axis of days, school terms behind it, a shape for each form, stacked panels."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from rubric_kit.growth.trend import DAYS_A_MONTH, Trend
from rubric_kit.scoring.rubric import LEVEL_NAMES, LEVELS
from rubric_kit.showing.charts.chart import (
    BAND,
    PAPER,
    POINTS,
    SOFT,
    TITLE_POINTS,
    VERMILLION,
    WIDTH,
    fitted,
    width_of,
)
from rubric_kit.showing.inert import inert

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes

# Shape and sign of each form, as many corners as paragraphs where it has some; a form of the family's own is a square.
SHAPES = {"paragraph": ("o", "●"), "three-paragraph": ("^", "▲"), "five-paragraph": ("p", "⬟"), "narrative": ("D", "◆")}
OTHER_SHAPE = ("s", "■")
SIDE_BY_SIDE = 0.015  # of the axis: how far apart pieces of one day are drawn
LEAST_DAYS = 60  # on the axis, so that one piece alone has months around it
EDGE = 0.03  # of the axis, free on both sides
MOST_MONTHS = 10  # names of months on the axis
MONTH_STEPS = (1, 2, 3, 4, 6, 12)  # months from one name to the next, so that January is always one
SIDE = 1.3  # inches that the names of levels may take up beside the axis
NAME_ROOM = 1.0  # inches: in less a term's name is left out rather than cut
SPARE = 0.1  # inches that a term's name keeps free
TERM_NAMES = 16  # points that the names of the terms take up above the axes
PANEL_NAME = 14  # points that the name of a panel takes up above it
LINE = 1.25  # of a line's letters: its height
TITLE_GAP, KEY_GAP = 8, 4  # points below the title, and below the line of signs
BETWEEN = "    "  # signs on one line


def shape(form: str) -> str:
    return SHAPES.get(form, OTHER_SHAPE)[0]


def sign(form: str) -> str:
    return SHAPES.get(form, OTHER_SHAPE)[1]


def day_axis(ax: Axes, table: pd.DataFrame, terms: pd.DataFrame | None, names: float | None = 0) -> None:
    """Months below, terms as quiet bands with their names so many points above (None: without); every piece on it."""
    import pandas as pd

    first, last = table["date"].min(), table["date"].max()
    shown = [] if terms is None else [t for t in terms.itertuples() if t.ends >= first and t.begins <= last]
    low = min([first, *(t.begins for t in shown)])
    high = max([last, *(t.ends for t in shown)])
    missing = max(0, LEAST_DAYS - (high - low).days)
    edge = max(1, round(EDGE * (high - low).days)) + missing // 2
    low, high = low - pd.Timedelta(days=edge), high + pd.Timedelta(days=edge)
    ax.set_xlim(number(low), number(high))
    _bands(ax, shown, names, (high - low).days)
    months = (high - low).days / DAYS_A_MONTH
    step = next((step for step in MONTH_STEPS if months / step <= MOST_MONTHS), MONTH_STEPS[-1])
    ax.xaxis.set_major_locator(_dates().MonthLocator(bymonth=range(1, 13, step)))
    ax.xaxis.set_major_formatter(lambda x, place: _month(_dates().num2date(x), place))


def _month(day: datetime, place: float | None) -> str:
    """The month's name, on the first tick and in January with the year."""
    return f"{day:%b}\n{day.year}" if day.month == 1 or place == 0 else f"{day:%b}"


def _bands(ax: Axes, shown: Sequence[Any], names: float | None, days: int) -> None:
    for n, term in enumerate(shown):
        begins, ends = number(term.begins), number(term.ends)
        if n % 2 == 0:
            ax.axvspan(begins, ends + 1, color=BAND, linewidth=0, zorder=0)
        room = (ends - begins) / days * (WIDTH - SIDE) - SPARE
        if names is not None and room > min(width_of(inert(term.name)), NAME_ROOM):
            ax.annotate(
                fitted(term.name, room),
                ((begins + ends) / 2, 1),
                (0, names + 2),
                xycoords=("data", "axes fraction"),
                textcoords="offset points",
                ha="center",
                va="bottom",
                color=SOFT,
            )


def days_of(table: pd.DataFrame, width: float) -> list[float]:
    """The place of each row on an axis so many days wide; pieces of one day stand side by side."""
    days = [number(day) for day in table["date"]]
    together, seen = Counter(days), Counter[float]()
    places = []
    for day in days:
        places.append(day + (seen[day] - (together[day] - 1) / 2) * SIDE_BY_SIDE * width)
        seen[day] += 1
    return places


def dot(ax: Axes, x: float, y: float, form: str, filled: bool, color: str, size: float = 8) -> None:
    """One piece: filled for what the reader gave, hollow for what was proposed."""
    face = color if filled else PAPER
    ax.plot(
        [x], [y], marker=shape(form), markersize=size, markerfacecolor=face, markeredgecolor=color, linestyle="none",
        markeredgewidth=1.4, clip_on=False, zorder=4,
    )  # fmt: skip


def trend_line(ax: Axes, trend: Trend) -> None:
    """The line of a trend that says more than chance, from first to last piece; none of any other."""
    if not trend.beyond_chance or trend.first is None or trend.last is None:
        return
    ends = (trend.first, trend.last)
    ax.plot(
        [number(day) for day in ends],
        [trend.at(day) or 0.0 for day in ends],
        color=VERMILLION,
        linewidth=2,
        dashes=(5, 2),
        zorder=3,
    )


def level_axis(ax: Axes, names: bool = True) -> None:
    """Levels 1 to 4 at the side, with their names or as numbers only."""
    ax.set_ylim(LEVELS[0] - 0.3, LEVELS[-1] + 0.3)
    ax.set_yticks(LEVELS, [f"{n} {LEVEL_NAMES[n]}" if names else str(n) for n in LEVELS])
    ax.grid(axis="y")
    ax.tick_params(axis="y", length=0)
    ax.spines["left"].set_visible(False)


def forms_key(table: pd.DataFrame) -> list[str]:
    """The forms there are, each with its sign, in the order they first come."""
    return [f"{sign(form)} {form}" for form in dict.fromkeys(table["form"])]


def head(ax: Axes, title: str, keys: Sequence[str], *, free: float = 0, room: float = WIDTH - SIDE) -> None:
    """The title, and between it and the axes what the signs mean, on as many lines as it takes.

    free  points kept free above the axes
    room  inches from the left edge of the axes to that of the figure on the right
    """
    lines = _lines(keys, room)
    height = len(lines) * POINTS * LINE
    ax.set_title(fitted(title, room, TITLE_POINTS), pad=free + height + TITLE_GAP)
    if lines:
        below = "\n".join(lines)
        ax.annotate(
            below, (0, 1), (0, free + KEY_GAP), xycoords="axes fraction", textcoords="offset points", va="bottom"
        )


def _lines(keys: Sequence[str], room: float) -> list[str]:
    lines: list[str] = []
    for key in (fitted(key, room) for key in keys):
        longer = f"{lines[-1]}{BETWEEN}{key}" if lines else key
        if lines and width_of(longer) <= room:
            lines[-1] = longer
        else:
            lines.append(key)
    return lines


def number(day: date) -> float:
    """A day's place on the axis, as matplotlib counts days."""
    return float(_dates().date2num(day))


def _dates() -> Any:
    import matplotlib.dates

    return matplotlib.dates


def panel_name(ax: Axes, name: str) -> None:
    """What a panel shows, above it on the left."""
    ax.annotate(
        fitted(name, WIDTH / 2), (0, 1), (0, 2), xycoords="axes fraction", textcoords="offset points", fontweight="bold"
    )


def panels(ax: Axes, count: int, gap: float = 0.3) -> list[Axes]:
    """Small axes above one another in the place of one, the first on top; ``gap`` is the share of a panel's height."""
    ax.set_axis_off()
    height = 1 / (count + gap * (count - 1))
    tops = [1 - n * height * (1 + gap) for n in range(count)]
    return [ax.inset_axes((0, top - height, 1, height)) for top in tops]
