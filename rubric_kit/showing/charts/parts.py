"""Which parts of the form are in place, piece by piece."""

from __future__ import annotations

from math import isnan
from typing import TYPE_CHECKING

from rubric_kit.showing.charts.chart import INK, PAPER, SOFT, WIDTH, Chart, fitted, nothing
from rubric_kit.showing.charts.over_time import head
from rubric_kit.showing.charts.trends import pieces, span
from rubric_kit.showing.inert import short

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes

WHAT = "parts of the form"
IN_PLACE, PARTLY, MISSING, NOT_ASKED = "■ in place", "◧ in some paragraphs", "□ not found", "· not asked of this form"
PART_SHADE = "#8A867D"  # own grey, halfway between ink and paper
MOST_PIECES = 24  # columns that are wide enough for a line of 10 points
ROW, REST = 0.3, 3.3  # inches: a row, and all above and below the rows
NAME_INCHES = 1.8  # of a piece's title under its column
NAMED = 40  # characters of a name or title in words
FEW = 3  # pieces: fewer say little about a habit


def parts_in_place(parts: pd.DataFrame, *, who: str = "") -> Chart:
    """A grid: a row for each part, a column for each piece's last draft by date. A full square is in place, half a one
    in some paragraphs only, an empty one was not found, a dot is not asked of this form.

    parts  a parts_table of one child
    """
    title = f"{short(who, NAMED)}: {WHAT}" if who else WHAT.capitalize()
    asked = parts[parts["last"].astype(bool)].groupby("piece", sort=False).filter(lambda p: p["share"].notna().any())
    if asked.empty:
        return nothing(title, "No essay or paragraph has been scored; of a story these parts are not asked.")
    ids = list(dict.fromkeys(asked["piece"]))[-MOST_PIECES:]
    table = asked[asked["piece"].isin(ids)]
    grid = table.pivot(index="part", columns="piece", values="share")
    order = [part for part in dict.fromkeys(table["part"]) if grid.loc[part].notna().any()]
    grid = grid.loc[order, ids]
    columns = table.drop_duplicates("piece").set_index("piece").loc[ids]

    def paint(ax: Axes) -> None:
        for y, part in enumerate(order):
            for x, piece in enumerate(ids):
                _square(ax, x, y, grid.loc[part, piece])
        ax.set_xlim(-0.7, max(len(ids), 8) - 0.3)
        ax.set_ylim(len(order) - 0.4, -0.6)
        ax.set_yticks(range(len(order)), order)
        names = [f"{fitted(row.title, NAME_INCHES)}  {row.date.day} {row.date:%b}" for row in columns.itertuples()]
        ax.set_xticks(range(len(ids)), names, rotation=90)
        ax.tick_params(length=0)
        ax.spines[:].set_visible(False)
        some = grid.isna().any(axis=None)
        head(ax, title, [IN_PLACE, PARTLY, MISSING, *([NOT_ASKED] if some else [])], room=WIDTH - 1.6)

    left = parts.loc[parts["last"].astype(bool), "piece"].nunique() - len(ids)
    said = _reading(grid, columns, left)
    return Chart(title, _alt(title, grid, columns), said, paint, (WIDTH, ROW * len(order) + REST))


def _square(ax: Axes, x: int, y: int, share: float) -> None:
    if isnan(share):
        ax.plot(x, y, marker=".", markersize=3, color=SOFT)
        return
    full, empty = share >= 1, share <= 0
    ax.plot(
        x, y, marker="s", markersize=12, markeredgecolor=INK, markeredgewidth=1.2, markerfacecoloralt=PAPER,
        fillstyle="full" if full or empty else "left",
        markerfacecolor=INK if full else PAPER if empty else PART_SHADE,
    )  # fmt: skip


def _reading(grid: pd.DataFrame, columns: pd.DataFrame, left: int) -> tuple[str, ...]:
    rows = [(part, row.dropna()) for part, row in grid.iterrows()]
    always = [part for part, row in rows if (row >= 1).all()]
    seldom = [f"{part} ({int((row >= 1).sum())} of {len(row)})" for part, row in rows if (row >= 1).mean() < 0.5]
    said = []
    if always:
        said.append(f"In place in every piece that asks for it: {', '.join(always)}.")
    if seldom:
        said.append(f"In place in fewer than half: {', '.join(seldom)}.")
    if not always and not seldom:
        said.append("Every part is in place in half of the pieces or more, none in all.")
    if len(columns) < FEW:
        said.append(f"{pieces(len(columns))} so far: too few to call it a habit.")
    if left > 0:
        said.append(f"{pieces(left)} not shown: a story, or a piece before the last {MOST_PIECES}.")
    said.append(
        "“Not found” means that no sentence of that kind was found, and the finding can be wrong: look at the piece. A "
        "good piece can do without a part."
    )
    return tuple(said)


def _alt(title: str, grid: pd.DataFrame, columns: pd.DataFrame) -> str:
    parts = [f"{title}: a grid of {len(grid)} parts in {pieces(len(columns))} {span(columns)}."]
    for part, row in grid.iterrows():
        known = row.dropna()
        full, some = int((known >= 1).sum()), int(((known > 0) & (known < 1)).sum())
        partly = f", {some} in some paragraphs" if some else ""
        parts.append(f"{str(part).capitalize()}: in place in {full} of {len(known)}{partly}.")
    return " ".join(parts)
