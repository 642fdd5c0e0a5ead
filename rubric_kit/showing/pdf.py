"""The score sheet as a PDF to print, set by Typst with the fonts that it brings."""

from __future__ import annotations

import json
from dataclasses import asdict
from importlib.resources import files

from rubric_kit.errors import RubricKitError
from rubric_kit.scoring.rubric import LEVELS
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.html import SECTIONS
from rubric_kit.showing.view import ABOUT_SURE, view


class PageNotSetError(RubricKitError):
    """Typst could not set the page."""


def page_pdf(sheet: ScoreSheet) -> bytes:
    """The PDF's bytes, the same for the same sheet. Raises PageNotSetError.

    The essay reaches the template as data, which Typst never reads as markup.
    """
    import typst

    data = {"view": asdict(view(sheet)), "names": SECTIONS, "levels": len(LEVELS), "about_sure": ABOUT_SURE}
    template = (files("rubric_kit.showing") / "templates" / "sheet.typ").read_bytes()
    try:
        return typst.compile(
            template, format="pdf", sys_inputs={"data": json.dumps(data)}, ignore_system_fonts=True, timestamp=0
        )
    except typst.TypstError as error:
        raise PageNotSetError(
            f"{sheet.measures.essay.source}: the PDF could not be set ({error.message}). The web page (--html) can "
            "be printed instead."
        ) from error
