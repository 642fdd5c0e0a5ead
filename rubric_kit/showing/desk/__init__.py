"""The desk in a notebook: a child's essay with its marks, the proposed levels beside it, and the reader's own."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from rubric_kit.errors import RubricKitError
from rubric_kit.records.family import RECORDS, Family, usual_folder

if TYPE_CHECKING:
    from rubric_kit.showing.desk.the_desk import Desk


class NotebooksNotInstalledError(RubricKitError):
    """What the notebooks need is not installed."""


NOT_INSTALLED = "The notebooks are not installed. Install them: pip install 'rubric-kit[notebooks]'"


def desk(family: Family | None = None) -> Desk:
    """The desk, as the last line of a cell.

    family  the records to mark in; else those of the usual folder (RUBRIC_KIT_FAMILY, or in the documents), and where
            there are none the desk scores single files and keeps nothing

    Raises NotebooksNotInstalledError, RecordsError for records that cannot be opened.
    """
    try:
        from rubric_kit.showing.desk.the_desk import Desk
    except ModuleNotFoundError as error:
        if error.name and error.name.startswith("rubric_kit"):
            raise
        raise NotebooksNotInstalledError(NOT_INSTALLED) from error
    folder = family.folder if family else usual_folder()
    return Desk(folder if (folder / RECORDS).is_file() else None, sheets=sheets_folder(folder))


def sheets_folder(folder: Path) -> Path:
    """Where the sheets for the children are written: beside the records, else where the notebook is."""
    return (folder if (folder / RECORDS).is_file() else Path.cwd()) / "sheets"
