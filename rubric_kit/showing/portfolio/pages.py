"""The portfolio and the term report as a web page that needs nothing else, as a part for a notebook, and as a PDF."""

from __future__ import annotations

import base64
import os
from dataclasses import asdict
from enum import StrEnum
from pathlib import Path
from typing import Any

from rubric_kit.showing import Shown
from rubric_kit.showing.html import anchor_prefix, filled, filled_page, style_of
from rubric_kit.showing.pages import write_whole
from rubric_kit.showing.pdf import set_pdf
from rubric_kit.showing.portfolio.views import Portfolio, TermReport
from rubric_kit.showing.portfolio.words import words

Document = Portfolio | TermReport


class Paper(StrEnum):
    """The papers there are, as Typst names them."""

    letter = "us-letter"
    a4 = "a4"


def page_html(view: Document) -> str:
    """The whole page: no script, nothing from outside, and a policy that forbids any."""
    name, styles = _look(view)
    return filled_page(f"{name}_page.html.j2", styles, **_values(view, ""))


def preview(view: Document) -> Shown:
    """The same as the last line of a notebook cell."""
    name, styles = _look(view)
    body = filled(f"{name}.html.j2", **_values(view, anchor_prefix(f"{view.title} {name}")))
    return Shown(f"<style>{style_of(styles)}</style>\n{body}")


def page_pdf(view: Document, paper: Paper = Paper.letter) -> bytes:
    """The PDF's bytes, the same for the same view. Raises PageNotSetError."""
    name, _ = _look(view)
    values = {key: value for key, value in _values(view, "").items() if key not in ("view", "image")}
    return set_pdf(f"{name}.typ", {"view": asdict(view), "paper": paper.value, **values}, view.title)


def write_html(view: Document, path: str | os.PathLike[str]) -> None:
    """Write the web page. Raises PageNotWrittenError; an earlier page there is then as it was."""
    write_whole(page_html(view).encode(), Path(path))


def write_pdf(view: Document, path: str | os.PathLike[str], paper: Paper = Paper.letter) -> None:
    """Write the PDF. Raises PageNotWrittenError; an earlier page there is then as it was."""
    write_whole(page_pdf(view, paper), Path(path))


def _look(view: Document) -> tuple[str, tuple[str, ...]]:
    """The name of the template, and its style sheets."""
    if isinstance(view, TermReport):
        return "report", ("sheet.css", "portfolio.css", "report.css")
    return "portfolio", ("sheet.css", "portfolio.css")


def _values(view: Document, prefix: str) -> dict[str, Any]:
    say = words()
    return {
        "view": view,
        "prefix": prefix,
        "empty": say["cover"]["empty"],
        "told": say["levels"]["told"],
        "talk": say["levels"]["talk"],
        "no_talks": say["conferences"]["none"],
        "image": _image,
    }


def _image(svg: str) -> str:
    """A drawing as the address of an image: in its own document, nothing in it can reach the page."""
    return f"data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode()}"
