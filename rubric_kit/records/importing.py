"""A class list or old marks from a CSV file: first a plan in words, then all of it in one write, or none of it."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from rubric_kit.errors import RecordsError
from rubric_kit.reading.tables import Table, TableError, number, read_table
from rubric_kit.records.database import Write
from rubric_kit.records.family import Family
from rubric_kit.records.people import days_of, school_year_of
from rubric_kit.records.rows import Enrolment, OldMark, Student
from rubric_kit.records.tasks import usual_form

LARGEST = 10_000_000  # bytes; a class list has hundreds, a school's marks of ten years under a million
CRITERIA = ("focus", "organization", "evidence", "sentences", "conventions")
KINDERGARTEN = {"k", "kindergarten"}
GRADE = re.compile(r"(?:grade\s*)?(\d{1,2})(?:st|nd|rd|th)?(?:\s*grade)?", re.I)
EXAMPLE = "name,grade"
NEEDED = (
    "A class list has the columns name and grade (and school year). Old marks have student, book (or task), date, and "
    "percent (or levels from 1 to 4 under focus, organization, evidence, sentences, conventions)."
)


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that the import does, in words, and how."""

    words: str
    do: Callable[[Write], None]


@dataclass(frozen=True, slots=True)
class Plan:
    """What a file would bring. With a row at fault nothing is written.

    skipped  rows that are in the records already
    faults   what is wrong, with file and line
    """

    file: str
    steps: tuple[Step, ...]
    skipped: int
    faults: tuple[str, ...]


class _Fault(Exception):
    """What is wrong with a row."""


def plan_import(family: Family, path: Path, *, dates: str = "year-first") -> Plan:
    """Read a class list or old marks; nothing is written.

    dates  how days are written: "year-first" (2026-05-15), "month-first" (5/15/2026) or "day-first" (15/5/2026)

    Raises TableError where the file is no table, or its columns are neither.
    """
    table = read_table(path, largest=LARGEST, example=EXAMPLE)
    has = _columns(table)
    if {"student", "grade"} <= has.keys() and not {"title", "percent"} & has.keys():
        return _class_list(family, table, has)
    if {"student", "title", "date"} <= has.keys() and ("percent" in has or set(CRITERIA) & has.keys()):
        return _old_marks(family, table, has, _words()["dates"][dates])
    raise TableError(f"{table.file}: the columns are {', '.join(table.names)}. {NEEDED}")


def carry_out(family: Family, plan: Plan) -> None:
    """Do all of a plan in one write, so that one undo takes it all back.

    Raises RecordsError where a row is at fault; then nothing is written.
    """
    if plan.faults:
        raise RecordsError("Nothing was brought over: some rows are at fault.")
    if plan.steps:
        with family.database.write(f"import {plan.file}") as write:
            for step in plan.steps:
                step.do(write)


def _class_list(family: Family, table: Table, has: Mapping[str, int]) -> Plan:
    known = {student.name: family.students.grades(student.id) for student in family.students.all()}
    ids = {student.name: student.id for student in family.students.all()}
    new: dict[str, dict[str, int]] = {}
    steps, faults, skipped = [], [], 0
    for line, row in _rows(table, has):
        try:
            name, year, grade = _needed(row, "student"), _year(row.get("year", "")), _grade(row["grade"])
            if year in new.get(name, {}):
                raise _Fault(f"{name} stands twice in the list")
            had = known.get(name, {}).get(year)
            if had is not None and had != grade:
                raise _Fault(f"{name} is in grade {had} in {year} already. Change it with: rubric-kit student grade")
        except _Fault as fault:
            faults.append(f"{table.file}, line {line}: {fault}.")
            continue
        skipped += had is not None
        new.setdefault(name, {})
        if had is None:
            new[name][year] = grade
    for name, grades in new.items():
        if grades:
            told = ", ".join(f"grade {grade} in {year}" for year, grade in grades.items())
            words = f"{'grade for' if name in ids else 'new student'} {name}: {told}"
            steps.append(Step(words, _enrol(name, ids.get(name), grades)))
    return Plan(table.file, tuple(steps), skipped, tuple(faults))


def _old_marks(family: Family, table: Table, has: Mapping[str, int], day_format: str) -> Plan:
    seen = {(m.student_id, m.title, m.marked_on, m.percent) for m in family.old_marks.all()}
    steps, faults, skipped = [], [], 0
    for line, row in _rows(table, has):
        try:
            values = _old_mark(family, row, day_format)
        except (_Fault, RecordsError) as fault:
            faults.append(f"{table.file}, line {line}: {str(fault).removesuffix('.')}.")
            continue
        key = (values["student_id"], values["title"], values["marked_on"], values["percent"])
        if key in seen:
            skipped += 1
            continue
        seen.add(key)
        name = family.students.get(values["student_id"]).name
        words = f"old mark for {name}: {values['title']}, {values['marked_on']}, {values['percent']:g} percent"
        steps.append(Step(words, _keep_mark(values)))
    return Plan(table.file, tuple(steps), skipped, tuple(faults))


def _old_mark(family: Family, row: Mapping[str, str], day_format: str) -> dict[str, Any]:
    student = family.students.find(_needed(row, "student"))
    title, day = _needed(row, "title"), _day(_needed(row, "date"), day_format)
    levels = {key: _level(key, row[key]) for key in CRITERIA if row.get(key)}
    note = row.get("note", "")
    if row.get("percent"):
        percent = _percent(row["percent"])
    elif len(levels) == len(CRITERIA):
        form = usual_form(family.students.grade_on(student.id, day))
        percent = _worth(levels, form)
        note = " ".join([note, f"Percent worked out from the levels on the {form} rubric."]).strip()
    else:
        raise _Fault("it has neither a percent nor a level for every criterion")
    values = {"student_id": student.id, "title": title, "marked_on": day, "percent": percent}
    return values | {"levels": json.dumps(levels), "note": note}


def _enrol(name: str, student: int | None, grades: Mapping[str, int]) -> Callable[[Write], None]:
    def do(write: Write) -> None:
        number_of = write.add(Student, name=name) if student is None else student
        for year, grade in grades.items():
            write.add(Enrolment, student_id=number_of, school_year=year, grade=grade)

    return do


def _keep_mark(values: Mapping[str, Any]) -> Callable[[Write], None]:
    def do(write: Write) -> None:
        write.add(OldMark, **values)

    return do


def _columns(table: Table) -> dict[str, int]:
    meanings = {called: column for column, names in _words()["columns"].items() for called in names}
    found: dict[str, int] = {}
    for place, name in enumerate(table.names):
        column = meanings.get(" ".join(name.casefold().split()))
        if column in found:
            raise TableError(f"{table.file}: two columns say the same: {table.names[found[column]]} and {name}.")
        if column is not None:
            found[column] = place
    return found


def _rows(table: Table, has: Mapping[str, int]) -> Iterator[tuple[int, dict[str, str]]]:
    columns = {name: list(table.cells(place)) for name, place in has.items()}
    for at, row in enumerate(table.rows):
        yield row.line, {name: cells[at][1] for name, cells in columns.items()}


def _needed(row: Mapping[str, str], column: str) -> str:
    if not row[column]:
        raise _Fault(f"the {column} is missing")
    return row[column]


def _year(cell: str) -> str:
    year = cell.replace("/", "-").replace("–", "-") or school_year_of(date.today())
    if re.fullmatch(r"\d{4}-\d{4}", year):
        year = year[:5] + year[7:]
    try:
        days_of(year)
    except RecordsError as error:
        raise _Fault(str(error).removesuffix(".")) from error
    return year


def _grade(cell: str) -> int:
    match = GRADE.fullmatch(cell)
    grade = 0 if cell.casefold() in KINDERGARTEN else int(match[1]) if match else -1
    if not 0 <= grade <= 12:
        raise _Fault(f"“{cell}” is no grade. Write a whole number from 0 (kindergarten) to 12")
    return grade


def _day(cell: str, day_format: str) -> date:
    try:
        return datetime.strptime(cell.replace(".", "/"), day_format).date()
    except ValueError as error:
        example = date(2026, 5, 15).strftime(day_format)
        raise _Fault(f"“{cell}” is no day written like {example}. See also: rubric-kit import --dates") from error


def _percent(cell: str) -> float:
    percent = number(cell.removesuffix("%"))
    if percent is None or not 0 <= percent <= 100:
        raise _Fault(f"“{cell}” is no percent from 0 to 100")
    return percent


def _level(criterion: str, cell: str) -> int:
    if cell not in {"1", "2", "3", "4"}:
        raise _Fault(f"“{cell}” under {criterion} is no level. Write 1, 2, 3 or 4")
    return int(cell)


def _worth(levels: Mapping[str, int], form: str) -> float:
    from rubric_kit.scoring.rubric_file import load_form

    return load_form(form).percent_for(levels)


@cache
def _words() -> dict[str, Any]:
    return tomllib.loads((files("rubric_kit.records") / "data/imports.toml").read_text("utf-8"))
