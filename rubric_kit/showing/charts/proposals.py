"""The reader's levels against the proposed ones."""

from __future__ import annotations

import textwrap
from math import ceil
from typing import TYPE_CHECKING

from rubric_kit.scoring.agreement import agreement
from rubric_kit.scoring.rubric import LEVELS
from rubric_kit.showing.charts.chart import INK, SOFT, WIDTH, Chart, nothing
from rubric_kit.showing.charts.over_time import head
from rubric_kit.showing.inert import short

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes

    Grids = list[tuple[str, pd.DataFrame]]  # what each grid is of, and its levels; the last is of all

WHAT = "your levels and the proposed ones"
ALL = "all criteria"
COLUMNS = 3  # grids beside each other
GRID, REST = 2.8, 0.7  # inches: the height of one grid with its words, and of what stands above all
CELL = "#C9C6BE"  # own grey where the count is highest; the count stands on it in ink
NAMED = 40  # characters of a name in words
NAME_LINE = 20  # characters of a criterion's name above its grid
FEW = 20  # levels; fewer tell little of how the two agree


def proposal_against_parent(levels: pd.DataFrame, *, who: str = "") -> Chart:
    """For each criterion, and for all together, a grid that counts drafts by proposed level (across) and the reader's
    (upwards); on the framed diagonal both are the same.

    levels  a levels_table; each marked draft that has a proposal counts
    """
    title = f"{short(who, NAMED)}: {WHAT}" if who else WHAT.capitalize()
    table = levels[levels["own"].notna() & levels["proposed"].notna()]
    if table.empty:
        return nothing(title, "No piece has both a proposal and your own levels.")
    rows = [(str(group["name"].iloc[-1]), group) for _, group in table.groupby("criterion", sort=False)]
    rows.append((ALL, table))

    def paint(ax: Axes) -> None:
        ax.set_axis_off()
        deep = ceil(len(rows) / COLUMNS)
        for n, (name, group) in enumerate(rows):
            across, down = n % COLUMNS, n // COLUMNS
            place = ((across + 0.15) / COLUMNS, 1 - (down + 0.84) / deep, 0.8 / COLUMNS, 0.56 / deep)
            _grid(ax.inset_axes(place), group, short(name, NAMED))
        head(ax, title, ["the number of drafts; in a frame: the same level"], room=WIDTH - 0.3)

    size = (WIDTH, GRID * ceil(len(rows) / COLUMNS) + REST)
    return Chart(title, _alt(title, rows), _reading(rows, table), paint, size)


def _grid(ax: Axes, group: pd.DataFrame, name: str) -> None:
    from matplotlib.patches import Rectangle

    counts = group.groupby(["proposed", "own"]).size()
    most = counts.max()
    for proposed in LEVELS:
        for own in LEVELS:
            n = int(counts.get((proposed, own), 0))
            corner = (proposed - 0.5, own - 0.5)
            if n:
                ax.add_patch(Rectangle(corner, 1, 1, facecolor=CELL, alpha=0.35 + 0.65 * n / most, linewidth=0))
                ax.text(proposed, own, str(n), ha="center", va="center")
            if proposed == own:
                ax.add_patch(Rectangle(corner, 1, 1, fill=False, edgecolor=INK, linewidth=1.2, zorder=3))
    edges = LEVELS[0] - 0.5, LEVELS[-1] + 0.5
    ax.set(xlim=edges, ylim=edges, xticks=LEVELS, yticks=LEVELS, aspect="equal")
    ax.set_xticks([n + 0.5 for n in LEVELS[:-1]], minor=True)
    ax.set_yticks([n + 0.5 for n in LEVELS[:-1]], minor=True)
    ax.grid(which="minor")
    ax.tick_params(which="both", length=0)
    ax.spines[:].set(visible=True, color=SOFT, linewidth=0.6)
    ax.set_xlabel("proposed", labelpad=1)
    ax.set_ylabel("yours", labelpad=1)
    ax.set_title(
        f"{textwrap.fill(name, NAME_LINE)}\n{_shares(group)}".replace(", ", "\n").replace("$", r"\$"),
        fontsize=10,
        loc="center",
    )


def _shares(group: pd.DataFrame) -> str:
    found = agreement(list(group["own"]), list(group["proposed"]))
    return f"same {_of(found.exact, found.n)}, within 1: {_of(found.adjacent, found.n)}"


def _of(share: float | None, n: int) -> str:
    return f"{round((share or 0) * n)} of {n}"


def _reading(rows: Grids, table: pd.DataFrame) -> tuple[str, ...]:
    found = agreement(list(table["own"]), list(table["proposed"]))
    exact, near = _of(found.exact, found.n), _of(found.adjacent, found.n)
    said = [f"Of all levels, {exact} ({found.exact or 0:.0%}) are the same as proposed and {near} are within one."]
    blind = table[table["blind"].astype(bool)]
    drafts, unseen = table["piece"].nunique(), blind["piece"].nunique()
    if unseen and unseen < drafts:
        apart = agreement(list(blind["own"]), list(blind["proposed"]))
        said.append(
            f"Marked before the proposal was seen: {unseen} of {drafts} drafts, with {_of(apart.exact, apart.n)} "
            "levels the same. Only those show how the two agree: a proposal once seen draws a mark towards it."
        )
    elif not unseen:
        said.append("Every draft was marked with the proposal in sight, which draws a mark towards it.")
    else:
        said.append("Every draft was marked before the proposal was seen.")
    said += _lean(rows[:-1])
    if found.n < FEW:
        said.append(f"{found.n} levels are few: another {found.n} could look quite different.")
    said.append("Where the two differ the reader's level counts. Agreement is not correctness.")
    return tuple(said)


def _lean(rows: Grids) -> list[str]:
    """Criteria on which one gives more than the other, where an interval can be given that leaves out 0."""
    said = []
    for name, group in rows:
        found = agreement(list(group["own"]), list(group["proposed"]))
        interval = found.mean_difference_interval
        if interval and found.mean_difference and not interval[0] <= 0 <= interval[1]:
            side = "higher" if found.mean_difference > 0 else "lower"
            said.append(
                f"{short(name, NAMED).capitalize()}: yours are {abs(found.mean_difference):.1f} {side} on average."
            )
    return said


def _alt(title: str, rows: Grids) -> str:
    return " ".join([f"{title}, counted by level.", *(f"{name.capitalize()}: {_shares(g)}." for name, g in rows)])
