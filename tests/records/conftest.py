"""Families to try things on: an empty one, and one with two children, a book, a task and a draft."""

from datetime import date
from pathlib import Path

import pytest

from rubric_kit.records import begin
from rubric_kit.records.tasks import Version

SAMPLES = Path(__file__).parents[2] / "sample_essays"
ESSAY = SAMPLES / "2026-05-15_tamsin_call-of-the-wild.odt"


@pytest.fixture
def family(tmp_path):
    with begin(tmp_path / "family") as made:
        yield made


@pytest.fixture
def busy(family):
    """Ann (grade 8) and Ben (grade 5), one book, one task with three questions, one draft of Ann's handed in."""
    ann = family.students.add("Ann", grade=8, school_year="2025-26")
    ben = family.students.add("Ben", grade=5, school_year="2025-26")
    book = family.books.add("The Call of the Wild", "Jack London")
    task = family.tasks.add(
        "The wild",
        "Why does Buck go?",
        set_on=date(2026, 5, 1),
        book_id=book.id,
        questions=[("Who is Buck?", 2), ("Where is he taken?", 2), ("Who is John Thornton?", 1)],
        versions={ann.id: Version(due=date(2026, 5, 14)), ben.id: Version(questions=2, due=date(2026, 5, 20))},
    )
    assignment = family.tasks.assignment(task.id, ann.id)
    family.drafts.hand_in(assignment.id, ESSAY, received_on=date(2026, 5, 15))
    return family
