"""rubric-kit grade and rubric-kit export: grades with their explanation, and tables for a spreadsheet."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubric_kit.cli.errors import errors_in_words, tell
from rubric_kit.cli.options import FamilyFolder, Json
from rubric_kit.cli.printing import json_of, say

if TYPE_CHECKING:
    from rubric_kit.records import Family
    from rubric_kit.records.worked import Grade

app = typer.Typer()


class What(StrEnum):
    """The tables there are."""

    grades = "grades"
    pieces = "pieces"


@app.command()
def grade(
    student: Annotated[
        str | None, typer.Option(metavar="NAME", help="Whose grades. Else every child's, one after the other.")
    ] = None,
    book: Annotated[str | None, typer.Option(metavar="TITLE", help="Of one book.")] = None,
    term: Annotated[str | None, typer.Option(metavar="NAME", help="Of one term.")] = None,
    year: Annotated[str | None, typer.Option(metavar="YEAR", help="Of one school year, as 2025-26.")] = None,
    explain: Annotated[bool, typer.Option("--explain", help="Every step, down to the sentences.")] = False,
    html: Annotated[
        Path | None, typer.Option(metavar="OUT", help="Write a page instead, with steps that open.")
    ] = None,
    json: Json = False,
    family: FamilyFolder = None,
) -> None:
    """Show grades of tasks, books, terms and years, and how each one came about.

    Example: rubric-kit grade --student Tamsin --term fall --explain
    """
    from rubric_kit.records import open_family
    from rubric_kit.showing.grades_view import grades_as_json, grades_html, print_grades

    if sum(choice is not None for choice in (book, term, year)) > 1:
        raise typer.BadParameter("Choose one of --book, --term and --year.")
    with errors_in_words(), open_family(family) as records:
        of = _chosen(records, book, term, year)
        children = [records.students.find(student)] if student else records.students.all()
        found = [each for child in children for each in of(child.id)]
        if json:
            json_of(grades_as_json(found, explain=explain))
        elif html:
            from rubric_kit.showing.pages import write_whole

            write_whole(grades_html(found).encode(), html)
            tell(f"Wrote {html}")
        elif found:
            print_grades(found, explain=explain)
        else:
            say("There is nothing to grade yet. Set a task: rubric-kit task add")


@app.command()
def export(
    to: Annotated[Path, typer.Argument(metavar="OUT", help="The file to write, ending in .csv or .xlsx.")],
    what: Annotated[What, typer.Option(help="All grades, or every draft with its levels.")] = What.grades,
    family: FamilyFolder = None,
) -> None:
    """Write grades, or every piece with its levels, as a table for a spreadsheet.

    Example: rubric-kit export year.xlsx --what pieces
    """
    from rubric_kit.records import open_family
    from rubric_kit.showing.export import export as write_table

    with errors_in_words(), open_family(family) as records:
        rows = write_table(records, to, what.value)
        say(f"Wrote {rows} {'row' if rows == 1 else 'rows'} to {to}")


def _chosen(records: Family, book: str | None, term: str | None, year: str | None) -> Callable[[int], list[Grade]]:
    """From a student to the grades that were asked for."""
    from rubric_kit.records.grades import book_grade, every_grade, term_grade, year_grade

    today = date.today()
    if book is not None:
        found_book = records.books.find(book).id
        return lambda student: [book_grade(records, student, found_book, today)]
    if term is not None:
        found_term = records.terms.find(term).id
        return lambda student: [term_grade(records, student, found_term, today)]
    if year is not None:
        return lambda student: [year_grade(records, student, year, today)]
    return lambda student: every_grade(records, student, today)
