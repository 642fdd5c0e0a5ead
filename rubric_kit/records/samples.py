"""The invented family's essays and year, which come with the program."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from rubric_kit.errors import RecordsError

FOLDER = "sample_essays"


def sample_essays() -> Path:
    """The folder: in the installed package, or beside it where the program runs from its own source.

    Raises RecordsError where it is in neither.
    """
    package = Path(str(files("rubric_kit")))
    for place in (package / FOLDER, package.parent / FOLDER):
        if (place / "year.toml").is_file():
            return place
    raise RecordsError(f"{package}: the sample essays are not there. Install rubric_kit again.")
