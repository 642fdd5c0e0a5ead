"""Pages for notebooks, each the last line of a cell: a child's year, the talk about a piece, the portfolio."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rubric_kit.records.family import RECORDS, Family, usual_folder
from rubric_kit.showing.desk import NOT_INSTALLED, NotebooksNotInstalledError

if TYPE_CHECKING:
    from rubric_kit.showing.notebook.talk import TalkPage
    from rubric_kit.showing.notebook.year import YearPage
    from rubric_kit.showing.notebook.year_end import YearEndPage


def year_page(family: Family | None = None) -> YearPage:
    """A child's year in charts, with what they say.

    family  the records; else those of the usual folder (RUBRIC_KIT_FAMILY, or in the documents)

    Raises NotebooksNotInstalledError.
    """
    page: YearPage = _of("year").YearPage(_folder(family))
    return page


def talk_page(family: Family | None = None) -> TalkPage:
    """A page to sit beside a child with, and to note the goal on that both agree on. As above."""
    page: TalkPage = _of("talk").TalkPage(_folder(family))
    return page


def year_end_page(family: Family | None = None) -> YearEndPage:
    """The portfolio of a school year and the reports of its terms: choose, look, write. As above."""
    page: YearEndPage = _of("year_end").YearEndPage(_folder(family))
    return page


def _of(name: str) -> Any:
    try:
        return import_module(f"rubric_kit.showing.notebook.{name}")
    except ModuleNotFoundError as error:
        if error.name and error.name.startswith("rubric_kit"):
            raise
        raise NotebooksNotInstalledError(NOT_INSTALLED) from error


def _folder(family: Family | None) -> Path | None:
    """Where the records are; None where there are none."""
    folder = family.folder if family else usual_folder()
    return folder if (folder / RECORDS).is_file() else None
