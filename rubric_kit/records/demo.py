"""The invented Pellwood family's year, built from the sample essays, to try everything on."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from rubric_kit.errors import RecordsError
from rubric_kit.records.family import Family, begin
from rubric_kit.records.prompts import instructions_for
from rubric_kit.records.rows import Assignment, Draft
from rubric_kit.records.samples import sample_essays
from rubric_kit.records.tasks import Version
from rubric_kit.records.work import AGAIN


def build_demo(folder: Path) -> Family:
    """The family's records in a folder, with every draft handed in and scored.

    Raises RecordsError where records with students are in the folder already.
    """
    family = begin(folder)
    if family.students.all():
        family.close()
        raise RecordsError(f"{folder}: there are records already. Choose another folder, or none for a temporary one.")
    source = sample_essays()
    year = tomllib.loads((source / "year.toml").read_text("utf-8"))
    _people_and_books(family, year)
    for task in year["task"]:
        _task(family, task)
    for row in sorted(year["draft"], key=lambda row: (row["received"], row["number"])):
        draft = family.drafts.hand_in(_version(family, row).id, source / row["file"], received_on=row["received"])
        family.sheets.make(draft.id)
    _judgements(family, year)
    return family


def _people_and_books(family: Family, year: dict[str, Any]) -> None:
    for student in year["student"]:
        family.students.add(student["name"], grade=student["grade"], school_year=year["year"])
    for term in year["term"]:
        family.terms.add(term["name"], term["begins"], term["ends"])
    for book in year["book"]:
        family.books.add(**book)


def _task(family: Family, task: dict[str, Any]) -> None:
    book = family.books.find(task["book"]).id if "book" in task else None
    family.tasks.add(
        task["title"],
        task["prompt"],
        set_on=task["set"],
        book_id=book,
        questions=[(question["text"], question["points"]) for question in task["questions"]],
        versions={
            family.students.find(child["student"]).id: Version(
                form=child["form"],
                questions=child["questions"],
                due=child.get("due"),
                instructions=instructions_for(child["form"]),
            )
            for child in task["for"]
        },
    )


def _judgements(family: Family, year: dict[str, Any]) -> None:
    for row in year["excused"]:
        version = _version(family, row)
        family.tasks.excuse(version.task_id, version.student_id)
    for row in year["answers"]:
        family.answers.give(_version(family, row).id, dict(enumerate(row["points"], start=1)))
    for row in sorted(year["mark"], key=lambda row: row["date"]):
        said = {"comment": row["comment"], "seen_proposal": row["seen_proposal"]}
        family.marks.add(_draft(family, row).id, row["levels"], marked_on=row["date"], **said)
    for row in year["again"]:
        draft = _draft(family, row).id
        family.marks.add(draft, row["levels"], marked_on=row["date"], seen_proposal=False, occasion=AGAIN)
    for row in year["conference"]:
        said = {name: row[name] for name in ("worked", "next_step", "goal", "outcome") if name in row}
        family.conferences.add(_draft(family, row).id, held_on=row["date"], **said)


def _version(family: Family, row: dict[str, Any]) -> Assignment:
    task, student = family.tasks.find(row["task"]), family.students.find(row["student"])
    return family.tasks.assignment(task.id, student.id)


def _draft(family: Family, row: dict[str, Any]) -> Draft:
    return next(d for d in family.drafts.of(_version(family, row).id) if d.number == row["draft"])
