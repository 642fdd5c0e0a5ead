"""A family's records: a folder with one SQLite file, the originals beside it, and backups."""

from __future__ import annotations

import os
from pathlib import Path
from types import TracebackType

from rubric_kit.errors import RecordsError
from rubric_kit.records.database import Database
from rubric_kit.records.old_marks import OldMarks
from rubric_kit.records.people import Students, Terms
from rubric_kit.records.settings import Settings
from rubric_kit.records.tasks import Books, Tasks
from rubric_kit.records.work import Answers, Conferences, Drafts, Marks, Sheets

RECORDS, ORIGINALS, BACKUPS = "family.db", "originals", "backups"
ABOUT = "About this folder.txt"
FOLDER_VARIABLE = "RUBRIC_KIT_FAMILY"  # names another folder than the usual one
ABOUT_TEXT = """\
These are the records of a family's writing, kept by rubric_kit.

family.db    students, tasks, marks and grades (an SQLite database)
originals    every draft as it was handed in; the names are fingerprints of what is in the files
backups      copies of family.db from before it was changed to a new shape

Make a copy of the whole folder now and then, or run: rubric-kit backup
What records a family must keep, and for how long, is decided by the law of its own state or country.
"""


class Family:
    """The records of one family, by noun: ``family.students.add("Ann", grade=6)``.

    Close it when done, or use it in a ``with`` block.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.database = Database(folder / RECORDS)
        self.students = Students(self.database)
        self.terms = Terms(self.database)
        self.books = Books(self.database)
        self.tasks = Tasks(self.database)
        self.drafts = Drafts(self.database, folder / ORIGINALS)
        self.sheets = Sheets(self.database, self.drafts)
        self.marks = Marks(self.database)
        self.answers = Answers(self.database)
        self.conferences = Conferences(self.database)
        self.old_marks = OldMarks(self.database)
        self.settings = Settings(self.database)

    def undo(self) -> str:
        """Take back the last write, and say which it was.

        Raises RecordsError where there is nothing left to undo.
        """
        return self.database.undo()

    def redo(self) -> str:
        """Bring back what the last undo took, and say what it was.

        Raises RecordsError where the last write was no undo.
        """
        return self.database.redo()

    def close(self) -> None:
        self.database.close()

    def __enter__(self) -> Family:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def usual_folder() -> Path:
    """Where records are kept unless another folder is named: the variable RUBRIC_KIT_FAMILY, else in the documents."""
    named = os.environ.get(FOLDER_VARIABLE)
    if named:
        return Path(named)
    from platformdirs import user_documents_path

    return user_documents_path() / "rubric_kit family"


def begin(folder: str | os.PathLike[str] | None = None) -> Family:
    """Make a folder of records and open it; one that is there already is opened.

    Raises RecordsError where it cannot be made, or holds something else.
    """
    path = Path(folder) if folder is not None else usual_folder()
    try:
        path.mkdir(parents=True, exist_ok=True)
        (path / ORIGINALS).mkdir(exist_ok=True)
        about = path / ABOUT
        if not about.exists():
            about.write_text(ABOUT_TEXT, "utf-8")
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else error
        raise RecordsError(f"{path}: no records can be begun there ({reason}). Choose another folder.") from error
    return Family(path)


def open_family(folder: str | os.PathLike[str] | None = None) -> Family:
    """Open records that are there.

    Raises RecordsError where there are none.
    """
    path = Path(folder) if folder is not None else usual_folder()
    if not (path / RECORDS).is_file():
        raise RecordsError(f"{path}: there are no records there. Begin some: rubric-kit begin {path}")
    return Family(path)
