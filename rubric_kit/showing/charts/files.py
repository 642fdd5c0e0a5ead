"""Charts as SVG, PNG and HTML: the same bytes for the same table, with the alt text inside."""

from __future__ import annotations

import base64
import os
import re
import warnings
from hashlib import sha256
from html import escape
from io import BytesIO
from pathlib import Path
from typing import Any

from rubric_kit.errors import RubricKitError
from rubric_kit.showing.charts.chart import WIDTH, Chart, style
from rubric_kit.showing.inert import inert
from rubric_kit.showing.pages import write_whole

PREFIX = 8  # hex digits of the drawing's hash: keeps the names inside two charts on one page apart
SVG: Any = {"svg.fonttype": "path", "svg.hashsalt": "rubric_kit"}  # letters as outlines: no font is looked for
_NAMES = re.compile(r'(\bid="|href="#|url\(#)')
_SVG_TAG = re.compile(r"<svg\b[^>]*>")


class UnknownFormatError(RubricKitError, ValueError):
    """A chart is wanted in a format that there is none in."""


def chart_svg(chart: Chart) -> bytes:
    """One ``<svg>`` element in UTF-8, for a file or to stand in a page; title and alt text are its name for who
    cannot see it.
    """
    import matplotlib

    with matplotlib.rc_context(SVG):
        drawn = _saved(chart, format="svg", metadata=dict.fromkeys(("Date", "Creator", "Type", "Format"))).decode()
    drawn = drawn[drawn.index("<svg") :]
    name = f"c{sha256((drawn + chart.alt).encode()).hexdigest()[:PREFIX]}-"
    drawn = _NAMES.sub(rf"\g<1>{name}", drawn)
    tag = _SVG_TAG.match(drawn)
    head = tag.group() if tag else ""
    named = f'{head[:-1]} role="img" aria-labelledby="{name}title" aria-describedby="{name}desc">'
    said = f'<title id="{name}title">{_text(chart.title)}</title>\n<desc id="{name}desc">{_text(chart.alt)}</desc>\n'
    return f"{named}\n{said}{drawn[len(head) :].lstrip()}".encode()


def chart_png(chart: Chart, width: int = 1400) -> bytes:
    """A PNG so many pixels wide; 1400 is 200 to the inch. The alt text is in it as its description."""
    dpi = width / chart.size[0]
    return _saved(
        chart,
        format="png",
        dpi=dpi,
        metadata={"Software": None, "Title": inert(chart.title), "Description": inert(chart.alt)},
    )


def chart_html(chart: Chart, reading: bool = True) -> str:
    """A ``<figure>``: the picture with its alt text, and below it what it says."""
    data = base64.b64encode(chart_svg(chart)).decode()
    image = (
        f'<img src="data:image/svg+xml;base64,{data}" alt="{_text(chart.alt)}" '
        f'style="width:100%;max-width:{WIDTH:g}in;height:auto">'
    )
    said = "".join(f"<p>{_text(words)}</p>" for words in chart.reading) if reading else ""
    caption = f"<figcaption>{said}</figcaption>" if said else ""
    return f'<figure class="rk-chart" style="margin:0">{image}{caption}</figure>'


def write_chart(chart: Chart, path: str | os.PathLike[str]) -> None:
    """Write the chart as its name ends: .svg or .png.

    Raises UnknownFormatError for another ending, PageNotWrittenError; an earlier file is then as it was.
    """
    kinds = {".svg": chart_svg, ".png": chart_png}
    make = kinds.get(Path(path).suffix.lower())
    if make is None:
        raise UnknownFormatError(f"{path}: a chart is written as .svg or .png. Name the file so.")
    write_whole(make(chart), Path(path))


def _text(words: str) -> str:
    """For XML and HTML: names in it may hold what is no letter."""
    return escape(inert(words))


def _saved(chart: Chart, **options: Any) -> bytes:
    figure = chart.figure()
    file = BytesIO()
    with style(), warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph")  # a letter that the font lacks is drawn as a box
        figure.savefig(file, **options)
    return file.getvalue()
