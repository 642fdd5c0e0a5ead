"""What a chart is, and the look that all have.

Colours are from the colour-blind-safe palette of Okabe & Ito (2008, Color Universal Design) and greys of our own. None
of them carries a meaning alone: shape, filling or words always say the same.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rubric_kit.showing.inert import short

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

BLUE, VERMILLION = "#0072B2", "#D55E00"  # Okabe & Ito 2008
INK, SOFT, RULE, BAND, PAPER = "#22211E", "#5A564D", "#D9D4C6", "#F1EEE5", "#FFFFFF"
WIDTH = 7.0  # inches: between the margins of A4 and Letter, so that a point on the chart is a point on paper
POINTS = 10  # the smallest letters
TITLE_POINTS = 12
LONGEST = 80  # characters of a name or title that are looked at when it is cut to fit
NOTHING_HEIGHT, NOTHING_LINE = 1.3, 80  # inches; characters
STYLE: Any = {
    "font.family": ["DejaVu Sans"],  # comes with matplotlib, so every machine draws the same letters
    "font.size": POINTS,
    "axes.titlesize": TITLE_POINTS,
    "axes.titlelocation": "left",
    "axes.titley": 1.0,  # fixed: to look for a free place takes a sixth of the time
    "axes.titlecolor": INK,
    "axes.labelsize": POINTS,
    "axes.labelcolor": INK,
    "axes.edgecolor": SOFT,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.axisbelow": True,
    "axes.facecolor": PAPER,
    "figure.facecolor": PAPER,
    "grid.color": RULE,
    "grid.linewidth": 0.6,
    "text.color": INK,
    "text.usetex": False,
    "xtick.labelsize": POINTS,
    "ytick.labelsize": POINTS,
    "xtick.color": SOFT,
    "ytick.color": SOFT,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
}


@dataclass(frozen=True, slots=True, repr=False)
class Chart:
    """A chart that was not drawn yet.

    title    what it shows
    alt      the same in words for who cannot see it, with its numbers
    reading  what it says, in plain words for a parent, a sentence or two each, with cautions
    paint    draws on axes
    size     width and height in inches
    """

    title: str
    alt: str
    reading: tuple[str, ...]
    paint: Callable[[Axes], None]
    size: tuple[float, float]

    def draw(self, ax: Axes | None = None) -> Axes:
        """Draw on these axes, or on those of a new figure."""
        if ax is None:
            return self.figure().axes[0]
        with style():
            self.paint(ax)
        return ax

    def figure(self) -> Figure:
        """The chart on a figure of its own, which no window and no list of figures holds."""
        from matplotlib.figure import Figure

        with style():
            figure = Figure(figsize=self.size, layout="constrained")
            self.paint(figure.subplots())
        return figure

    def _repr_html_(self) -> str:
        from rubric_kit.showing.charts.files import chart_html

        return chart_html(self)


@contextmanager
def style() -> Iterator[None]:
    """The look, for as long as something is drawn."""
    import matplotlib

    with matplotlib.rc_context(STYLE):
        yield


def nothing(title: str, why: str) -> Chart:
    """A chart that says why there is nothing to see."""

    def paint(ax: Axes) -> None:
        ax.set_axis_off()
        ax.set_title(fitted(title, WIDTH - 0.5, TITLE_POINTS))
        ax.text(0, 0.5, textwrap.fill(why, NOTHING_LINE).replace("$", r"\$"), va="center", transform=ax.transAxes)

    return Chart(title, f"{title}: nothing to show yet. {why}", (why,), paint, (WIDTH, NOTHING_HEIGHT))


def fitted(text: str, inches: float, points: float = POINTS) -> str:
    """A name or title on one line, inert, cut to a width, and with its dollar signs as they are (between two of them
    matplotlib would read a formula).
    """
    line = short(text, LONGEST)
    while width_of(line, points) > inches and len(line) > 1:
        line = short(line, len(line) - 1) if len(line) > 2 else line[:1]
    return line.replace("$", r"\$")


def width_of(line: str, points: float = POINTS) -> float:
    """How wide a line of text is drawn, in inches."""
    import warnings

    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import text_to_path

    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph")  # a letter that the font lacks is drawn as a box
        width, _, _ = text_to_path.get_text_width_height_descent(
            line.replace("$", r"\$"), FontProperties(family="DejaVu Sans", size=points), ismath=False
        )
    return float(width) / 72  # points in an inch
