"""Charts of the year or term, drawn, with their words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rubric_kit.records.pieces import Piece
from rubric_kit.showing.charts import Chart
from rubric_kit.showing.charts.files import chart_svg
from rubric_kit.showing.charts.year import YEAR, UnknownChartError
from rubric_kit.showing.inert import inert
from rubric_kit.showing.portfolio.material import Material
from rubric_kit.showing.portfolio.views import FigureView

USUAL = ("level", "criteria", "parts")


def figures(material: Material, kinds: Sequence[str], height: float | None = None) -> tuple[FigureView, ...]:
    """Charts of these kinds; none where no piece was scored or marked. Raises UnknownChartError.

    height  in inches, where there is less room than a chart asks for
    """
    unknown = [kind for kind in kinds if kind not in YEAR]
    if unknown:
        raise UnknownChartError(f"There is no chart {unknown[0]}. There are: {', '.join(YEAR)}.")
    if not any(piece.levels for piece in material.drafts):
        return ()
    drafts: list[Piece] = list(material.drafts)
    return tuple(_figure(YEAR[kind](material.family, drafts, material.who), height) for kind in kinds)


def _figure(chart: Chart, height: float | None) -> FigureView:
    drawn = chart if height is None else replace(chart, size=(chart.size[0], height))
    return FigureView(
        title=inert(chart.title),
        alt=inert(chart.alt),
        svg=chart_svg(drawn).decode(),
        reading=tuple(map(inert, chart.reading)),
    )
