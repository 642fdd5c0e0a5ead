"""A score sheet or a revision as a PDF to print, set by Typst with the fonts that it brings."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from importlib.resources import files
from typing import Any

from rubric_kit.errors import RubricKitError
from rubric_kit.scoring.revision import Revision
from rubric_kit.scoring.rubric import LEVELS
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.html import SECTIONS
from rubric_kit.showing.letters import drawable
from rubric_kit.showing.revision_view import revision_view
from rubric_kit.showing.view import ABOUT_SURE, view


class PageNotSetError(RubricKitError):
    """Typst could not set the page."""


def page_pdf(sheet: ScoreSheet, own: Mapping[str, int] = {}, comment: str = "") -> bytes:
    """The PDF's bytes, the same for the same sheet, own levels by criterion key and comment. Raises PageNotSetError."""
    shown = asdict(view(sheet, own, comment))
    data = {"view": shown, "names": SECTIONS, "levels": len(LEVELS), "about_sure": ABOUT_SURE}
    return set_pdf("sheet.typ", data, sheet.measures.essay.source)


def revision_pdf(revision: Revision) -> bytes:
    """The PDF's bytes, the same for the same revision. Raises PageNotSetError."""
    return set_pdf("revision.typ", {"view": asdict(revision_view(revision))}, revision.after.measures.essay.source)


def set_pdf(template: str, data: Mapping[str, Any], source: str) -> bytes:
    """A template set with some data, which Typst never reads as markup; ``source`` is named where that fails.

    A character that the fonts lack is set as its name in brackets.
    """
    import typst

    text = (files("rubric_kit.showing") / "templates" / template).read_bytes()
    try:
        return typst.compile(
            text, format="pdf", sys_inputs={"data": json.dumps(drawable(data))}, ignore_system_fonts=True, timestamp=0
        )
    except typst.TypstError as error:
        raise PageNotSetError(
            f"{source}: the PDF could not be set ({error.message}). The web page (--html) can be printed instead."
        ) from error
