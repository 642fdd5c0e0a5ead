"""A score sheet or a revision as one web page that needs nothing else, and as the part that a notebook shows."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from rubric_kit.scoring.revision import Revision
from rubric_kit.scoring.rubric import LEVELS
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.revision_view import revision_view
from rubric_kit.showing.view import ABOUT_SURE, View, view

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
REVISION_STYLES = ("sheet.css", "revision.css")
PREFIX = 8  # hex digits of the text's hash: enough for all the pages of one notebook


def page_html(sheet: ScoreSheet, own: Mapping[str, int] = {}, comment: str = "") -> str:
    """The whole page: no script, no picture or style from outside, and a policy that forbids any.

    The reader's own levels, by criterion key, and comment stand in it where they are given.
    """
    return filled_page("page.html.j2", ("sheet.css",), **_sheet(view(sheet, own, comment)))


def sheet_html(sheet: ScoreSheet) -> str:
    """The same content as a fragment with its style, for a notebook."""
    values = _sheet(view(sheet)) | {"prefix": anchor_prefix(sheet.measures.essay.text)}
    return f"<style>{style_of(('sheet.css',))}</style>\n{filled('sheet.html.j2', **values)}"


def revision_page_html(revision: Revision) -> str:
    """The page of two drafts side by side, made in the same way as that of a score sheet."""
    return filled_page("revision_page.html.j2", REVISION_STYLES, view=revision_view(revision), prefix="")


def revision_html(revision: Revision) -> str:
    """The same content as a fragment with its style, for a notebook."""
    texts = (sheet.measures.essay.text for sheet in (revision.before, revision.after))
    body = filled("revision.html.j2", view=revision_view(revision), prefix=anchor_prefix("\n".join(texts)))
    return f"<style>{style_of(REVISION_STYLES)}</style>\n{body}"


def anchor_prefix(text: str) -> str:
    """What keeps the anchors of two pages in one notebook apart."""
    return "t" + hashlib.sha256(text.encode(errors="replace")).hexdigest()[:PREFIX] + "-"


def filled_page(template: str, styles: tuple[str, ...], **data: Any) -> str:
    """A page of its own from a template and style sheets."""
    style = style_of(("page.css", *styles))
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    return filled(template, style=style, style_hash=f"sha256-{digest}", **data)


def style_of(names: tuple[str, ...]) -> str:
    """Style sheets as one."""
    return "".join(map(_source, names))


def filled(template: str, **data: Any) -> str:
    """A template filled in; whatever is put in is escaped."""
    return _templates().get_template(template).render(**data)


def _sheet(shown: View) -> dict[str, Any]:
    return {
        "view": shown,
        "levels": len(LEVELS),
        "names": SECTIONS,
        "sections": SECTIONS.items(),
        "about_sure": ABOUT_SURE,
        "prefix": "",
        "lit": (),
    }


def _source(name: str) -> str:
    return (files("rubric_kit.showing") / "templates" / name).read_text("utf-8")


@cache
def _templates() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    return Environment(
        loader=PackageLoader("rubric_kit.showing"), autoescape=True, undefined=StrictUndefined, trim_blocks=True
    )
