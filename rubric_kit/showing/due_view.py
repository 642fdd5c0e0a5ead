"""What is due, in words."""

from __future__ import annotations

from collections.abc import Sequence

from rubric_kit.records.due import EXCUSED, HANDED_IN, MARKED, SET, Due
from rubric_kit.records.rows import Assignment

STATUS = {
    SET: "not handed in",
    HANDED_IN: "to mark",
    MARKED: "marked",
    EXCUSED: "excused",
}
SOON = 7  # days that are told one by one: the family's week


def when(row: Due) -> str:
    """A day as a parent says it: "3 days late", "tomorrow", "in 5 days", and the date of one farther off."""
    if row.days is None:
        return "no day set"
    if row.status == HANDED_IN or row.status in {MARKED, EXCUSED}:
        return f"was for {row.assignment.due}" if row.days < 0 else f"for {row.assignment.due}"
    if row.days < 0:
        return f"{_days(-row.days)} late"
    near = {0: "today", 1: "tomorrow"}
    return near.get(row.days) or (f"in {_days(row.days)}" if row.days <= SOON else f"on {row.assignment.due}")


def how_far(row: Due) -> str:
    """How far a child's task has come: "not handed in, 3 answers open" (short answers without points yet)."""
    said = STATUS[row.status]
    if row.status == MARKED and row.drafts > 1:
        said += f", draft {row.drafts}"
    if row.status == EXCUSED or not row.unanswered:
        return said
    return f"{said}, {row.unanswered} answer{'s' if row.unanswered > 1 else ''} open"


def what(assignment: Assignment) -> str:
    """The form, and how many questions: "paragraph, 3 questions"."""
    asked = assignment.questions
    return f"{assignment.form}, {asked} question{'s' if asked > 1 else ''}" if asked else assignment.form


def summary(rows: Sequence[Due]) -> str:
    """One line above the table: "2 late, 1 to mark, 3 to come"; empty where nothing is open."""
    late = sum(r.status == SET and r.days is not None and r.days < 0 for r in rows)
    to_mark = sum(r.status == HANDED_IN for r in rows)
    to_come = sum(r.status == SET for r in rows) - late
    answers = sum(r.status == MARKED and r.unanswered > 0 for r in rows)
    parts = [(late, "late"), (to_mark, "to mark"), (to_come, "to come"), (answers, "with answers open")]
    return ", ".join(f"{count} {name}" for count, name in parts if count)


def _days(count: int) -> str:
    return f"{count} day" if count == 1 else f"{count} days"
