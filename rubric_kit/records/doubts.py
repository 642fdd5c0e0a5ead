"""What looks like a slip when a draft is handed in: said, never refused."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from rubric_kit.records.family import Family
from rubric_kit.records.people import school_year_of
from rubric_kit.records.rows import Assignment, Draft


def doubts(family: Family, draft: Draft, today: date) -> Iterator[str]:
    """A sentence for each thing that looks like a slip of the one who handed the draft in."""
    assignment = family.database.row(Assignment, draft.assignment_id)
    student = family.students.get(assignment.student_id)
    same = family.database.rows(Draft, "sha256 = ? AND id <> ?", [draft.sha256, draft.id])
    if same:
        yield f"The very same file was handed in before, as number {same[0].id}. If that is a slip: rubric-kit undo"
    if draft.received_on > today:
        yield f"{draft.received_on} is still to come. If that is a slip: rubric-kit undo"
    heading = family.drafts.essay(draft).heading
    others = [s.name for s in family.students.all() if s.id != student.id]
    named = [n for n in [student.name, *others] if heading and re.search(rf"\b{re.escape(n)}\b", heading.text, re.I)]
    if named and student.name not in named:
        who = f"The heading names {named[0]}, but it is handed in for {student.name}"
        yield f"{who}. If that is a slip: rubric-kit undo"
    year = school_year_of(draft.received_on)
    grades = family.students.grades(student.id)
    if year not in grades:
        guessed = family.students.grade_on(student.id, draft.received_on)
        yield (
            f"{student.name} has no grade for {year}; {guessed} is taken, counted from other years. "
            f"To set it: rubric-kit student grade {student.name} {guessed} --year {year}"
        )
