"""A family's records for the commands to work on, and Ctrl-C for those that are stopped."""

import signal
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from rubric_kit.records import begin
from rubric_kit.records.tasks import Version

from .commands import ESSAY


@pytest.fixture(autouse=True, scope="session")
def ctrl_c() -> Iterator[None]:
    """Processes that tests start and stop hear SIGINT, also where the tests were started to ignore it (in the
    background of a script, under nohup): a program inherits that something is ignored, but no handler.
    """
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.fixture
def our_year(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Records of Ann (grade 8) and Ben (grade 5) with a book, a task and Ann's draft, named by the variable."""
    place = tmp_path / "our year"
    with begin(place) as family:
        ann = family.students.add("Ann", grade=8, school_year="2025-26")
        ben = family.students.add("Ben", grade=5, school_year="2025-26")
        book = family.books.add("The Call of the Wild", "Jack London")
        task = family.tasks.add(
            "The wild",
            "Why does Buck go?",
            set_on=date(2026, 5, 1),
            book_id=book.id,
            questions=[("Who is Buck?", 2), ("Where is he taken?", 1.5)],
            versions={ann.id: Version(due=date(2026, 5, 14)), ben.id: Version(questions=1, due=date(2026, 5, 14))},
        )
        family.drafts.hand_in(family.tasks.assignment(task.id, ann.id).id, ESSAY, received_on=date(2026, 5, 15))
    monkeypatch.setenv("RUBRIC_KIT_FAMILY", str(place))
    monkeypatch.setenv("COLUMNS", "100")
    return place
