"""rubric-kit student and term: the children with their grades, and the terms of the year."""

from __future__ import annotations

from datetime import date
from typing import Annotated

import typer

from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder, Json, on_day
from rubric_kit.cli.printing import done, json_of, say, table

app = typer.Typer()
student = typer.Typer(help="The children, and the grade of each in every school year.", no_args_is_help=True)
term = typer.Typer(help="The terms of the year, by which grades are summed up.", no_args_is_help=True)
app.add_typer(student, name="student")
app.add_typer(term, name="term")

Name = Annotated[str, typer.Argument(help="The child's name, as you write it.")]
Grade = Annotated[int, typer.Option(min=0, max=12, help="The school grade; 0 is kindergarten.")]
Year = Annotated[str | None, typer.Option(metavar="YEAR", help="The school year, as 2025-26. Else the one of today.")]
TermName = Annotated[str, typer.Argument(help="What you call the term.")]
Begins = Annotated[date, on_day("Its first day.")]
Ends = Annotated[date, on_day("Its last day.")]


@student.command("add")
def add_student(name: Name, grade: Grade, year: Year = None, family: FamilyFolder = None) -> None:
    """Add a child.

    Example: rubric-kit student add Tamsin --grade 8
    """
    with opened(family) as records:
        added = records.students.add(name, grade=grade, school_year=year)
        ((school_year, now),) = records.students.grades(added.id).items()
        done(f"Added {added.name}, grade {now} in {school_year}.")


@student.command("list")
def list_students(family: FamilyFolder = None, json: Json = False) -> None:
    """List the children with their grades.

    Example: rubric-kit student list
    """
    with opened(family) as records:
        rows = [(s, records.students.grades(s.id)) for s in records.students.all()]
        if json:
            json_of([{"id": s.id, "name": s.name, "grades": grades} for s, grades in rows])
        else:
            cells = [(s.name, ", ".join(f"{year}: {grade}" for year, grade in grades.items())) for s, grades in rows]
            table(("student", "grade"), cells, "No students yet. Add one: rubric-kit student add NAME --grade 6")


@student.command("change")
def change_student(
    name: Name,
    to: Annotated[str, typer.Option("--name", help="The new name.")],
    family: FamilyFolder = None,
) -> None:
    """Give a child another name.

    Example: rubric-kit student change Tamsin --name "Tamsin P."
    """
    with opened(family) as records:
        records.students.change(records.students.find(name).id, name=to.strip())
        done(f"{name} is now called {to.strip()}.")


@student.command("grade")
def grade_student(
    name: Name,
    grade: Annotated[int, typer.Argument(min=0, max=12, help="The school grade; 0 is kindergarten.")],
    year: Year = None,
    family: FamilyFolder = None,
) -> None:
    """Set a child's grade in a school year, or correct it.

    Example: rubric-kit student grade Tamsin 9 --year 2026-27
    """
    from rubric_kit.records.people import school_year_of

    with opened(family) as records:
        which = year or school_year_of(date.today())
        records.students.set_grade(records.students.find(name).id, grade, which)
        done(f"{name} is in grade {grade} in {which}.")


@student.command("remove")
def remove_student(name: Name, family: FamilyFolder = None) -> None:
    """Take a child out of sight, with all its work. Nothing is deleted.

    Example: rubric-kit student remove Tamsin
    """
    with opened(family) as records:
        records.students.remove(records.students.find(name).id)
        done(f"Removed {name}.")


@term.command("add")
def add_term(name: TermName, begins: Begins, ends: Ends, family: FamilyFolder = None) -> None:
    """Add a term.

    Example: rubric-kit term add autumn --begins 2025-09-01 --ends 2026-01-16
    """
    with opened(family) as records:
        added = records.terms.add(name, begins, ends)
        done(f"Added the term {added.name}, {added.begins} to {added.ends}.")
        overlapping = [
            t.name for t in records.terms.all() if t.id != added.id and t.begins <= ends and begins <= t.ends
        ]
        if overlapping:
            say(f"It shares days with: {', '.join(overlapping)}. What is handed in then counts in both.")


@term.command("list")
def list_terms(family: FamilyFolder = None, json: Json = False) -> None:
    """List the terms.

    Example: rubric-kit term list
    """
    with opened(family) as records:
        terms = sorted(records.terms.all(), key=lambda t: t.begins)
        if json:
            json_of(terms)
        else:
            none = "No terms yet. Add one: rubric-kit term add NAME --begins DAY --ends DAY"
            table(("term", "begins", "ends"), [(t.name, t.begins, t.ends) for t in terms], none)


@term.command("change")
def change_term(
    name: TermName,
    to: Annotated[str | None, typer.Option("--name", help="The new name.")] = None,
    begins: Annotated[date | None, on_day("Its first day.")] = None,
    ends: Annotated[date | None, on_day("Its last day.")] = None,
    family: FamilyFolder = None,
) -> None:
    """Change a term's name or days.

    Example: rubric-kit term change autumn --ends 2026-01-23
    """
    given = {"name": to and to.strip(), "begins": begins, "ends": ends}
    values = {key: value for key, value in given.items() if value is not None}
    if not values:
        raise typer.BadParameter("Nothing to change: give --name, --begins or --ends.")
    with opened(family) as records:
        changed = records.terms.change(records.terms.find(name).id, **values)
        done(f"The term {changed.name} is {changed.begins} to {changed.ends}.")


@term.command("remove")
def remove_term(name: TermName, family: FamilyFolder = None) -> None:
    """Take a term out of sight; the work done in it stays.

    Example: rubric-kit term remove autumn
    """
    with opened(family) as records:
        records.terms.remove(records.terms.find(name).id)
        done(f"Removed the term {name}.")
