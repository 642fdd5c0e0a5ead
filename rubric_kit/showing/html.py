"""The score sheet as one web page that needs nothing else, and as the part of a page that a notebook shows."""

from __future__ import annotations

import base64
import hashlib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from rubric_kit.scoring.rubric import LEVELS
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.view import ABOUT_SURE, view

if TYPE_CHECKING:
    from jinja2 import Environment

SECTIONS = {
    "levels": "Levels",
    "child": "For the writer",
    "essay": "The essay, marked",
    "parent": "For the parent",
    "why": "Why these levels",
    "parts": "What each paragraph does",
    "slips": "Slips found",
    "reading": "How hard the text is to read",
    "care": "Keep in mind",
}
PREFIX = 8  # hex digits of the text's hash: keeps the anchors of two sheets in one notebook apart


def page_html(sheet: ScoreSheet) -> str:
    """The whole page: no script, no picture or style from outside, and a policy that forbids any."""
    style = _source("page.css") + _source("sheet.css")
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    return _render("page.html.j2", sheet, prefix="", style=style, style_hash=f"sha256-{digest}")


def sheet_html(sheet: ScoreSheet) -> str:
    """The same content as a fragment with its style, for a notebook."""
    prefix = "t" + hashlib.sha256(sheet.measures.essay.text.encode(errors="replace")).hexdigest()[:PREFIX] + "-"
    return f"<style>{_source('sheet.css')}</style>\n{_render('sheet.html.j2', sheet, prefix=prefix)}"


def _render(template: str, sheet: ScoreSheet, **more: Any) -> str:
    shown = view(sheet)
    return (
        _templates()
        .get_template(template)
        .render(
            view=shown,
            levels=len(LEVELS),
            names=SECTIONS,
            sections=SECTIONS.items(),
            about_sure=ABOUT_SURE,
            **more,
        )
    )


def _source(name: str) -> str:
    return (files("rubric_kit.showing") / "templates" / name).read_text("utf-8")


@cache
def _templates() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    return Environment(
        loader=PackageLoader("rubric_kit.showing"), autoescape=True, undefined=StrictUndefined, trim_blocks=True
    )
