"""What looks like a slip when a draft is handed in is said, and nothing is refused."""

from datetime import date

import pytest

from rubric_kit.records.doubts import doubts
from rubric_kit.records.rows import Draft

TODAY = date(2026, 5, 20)
ESSAY = "Ben\nApril 22, 2026\n\nOwls\n\nOwls are good hunters. They hunt at night because they hear so well."


@pytest.fixture
def assignment(busy):
    return busy.database.rows(Draft)[0].assignment_id  # Ann's


def said(busy, assignment, text, received_on):
    draft = busy.drafts.hand_in_bytes(assignment, text.encode(), "owls.txt", received_on=received_on)
    return " ".join(doubts(busy, draft, TODAY))


def test_an_ordinary_draft_raises_no_doubt(busy, assignment):
    assert said(busy, assignment, ESSAY.replace("Ben", "Ann"), TODAY) == ""


def test_the_same_file_twice_is_noticed(busy, assignment):
    said(busy, assignment, ESSAY, TODAY)
    assert "very same file" in said(busy, assignment, ESSAY, TODAY)


def test_a_day_to_come_is_noticed(busy, assignment):
    assert "still to come" in said(busy, assignment, ESSAY, date(2026, 5, 21))


def test_another_childs_name_in_the_heading_is_noticed(busy, assignment):
    assert "names Ben, but it is handed in for Ann" in said(busy, assignment, ESSAY, TODAY)
    assert "names Ben" not in said(busy, assignment, ESSAY.replace("Ben\n", "Ann, with Ben\n"), TODAY)


def test_a_grade_worked_out_from_other_years_is_named(busy, assignment):
    assert "no grade for 2024-25; 7 is taken" in said(busy, assignment, ESSAY, date(2025, 4, 1))
