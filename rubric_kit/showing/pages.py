"""Pages as files: written whole or not at all."""

from __future__ import annotations

import os
import secrets
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from rubric_kit.errors import RubricKitError
from rubric_kit.scoring.revision import Revision
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.html import page_html, revision_page_html
from rubric_kit.showing.pdf import page_pdf, revision_pdf


class PageNotWrittenError(RubricKitError):
    """A page or a table cannot be put where it was wanted."""


def write_html(sheet: ScoreSheet, path: str | os.PathLike[str], own: Mapping[str, int] = {}, comment: str = "") -> None:
    """Write the web page, with the reader's own levels and comment where they are given.

    Raises PageNotWrittenError; an earlier page there is then as it was.
    """
    write_whole(page_html(sheet, own, comment).encode(), Path(path))


def write_pdf(sheet: ScoreSheet, path: str | os.PathLike[str], own: Mapping[str, int] = {}, comment: str = "") -> None:
    """Write the PDF, with the reader's own levels and comment where they are given.

    Raises PageNotWrittenError; an earlier page there is then as it was.
    """
    write_whole(page_pdf(sheet, own, comment), Path(path))


def write_revision_html(revision: Revision, path: str | os.PathLike[str]) -> None:
    """Write the web page of two drafts side by side. Raises PageNotWrittenError, as above."""
    write_whole(revision_page_html(revision).encode(), Path(path))


def write_revision_pdf(revision: Revision, path: str | os.PathLike[str]) -> None:
    """Write the PDF of two drafts side by side. Raises PageNotWrittenError, as above."""
    write_whole(revision_pdf(revision), Path(path))


def write_whole(content: bytes, path: Path) -> None:
    """Write beside the place first and then move there, which replaces an earlier file in one step.

    Raises PageNotWrittenError; an earlier file there is then as it was.
    """
    if path.exists() and not path.is_file():
        raise PageNotWrittenError(f"{path}: there is a folder or device of that name. Name a file.")
    target = path.resolve()  # a link keeps pointing where it did
    part = target.with_name(f".{secrets.token_hex(8)}.part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        part.write_bytes(content)
        part.replace(target)
    except OSError as error:
        with suppress(OSError):
            part.unlink()
        raise PageNotWrittenError(f"{path}: cannot be written ({error.strerror}). Choose another place.") from error
