"""rubric-kit import and old-mark: what a family has in a spreadsheet."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from rubric_kit.cli.errors import INPUT_AT_FAULT, tell
from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder, Json
from rubric_kit.cli.printing import done, json_of, say, table

app = typer.Typer()
old_mark = typer.Typer(help="Marks from before these records began, as imported.", no_args_is_help=True)
app.add_typer(old_mark, name="old-mark")


class Dates(StrEnum):
    """How days are written."""

    year_first = "year-first"
    month_first = "month-first"
    day_first = "day-first"


@app.command("import")
def import_table(
    file: Annotated[Path, typer.Argument(metavar="FILE.csv", help="Names of columns, then a row for each.")],
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Say what would be done, and do nothing.")] = False,
    dates: Annotated[Dates, typer.Option(help="How days are written in it.")] = Dates.year_first,
    family: FamilyFolder = None,
) -> None:
    """Bring over a class list (name, grade, school year) or old marks (student, book, date, percent or levels).

    Example: rubric-kit import class.csv --dry-run
    """
    from rubric_kit.records.importing import carry_out, plan_import

    with opened(family) as records:
        plan = plan_import(records, file, dates=dates.value)
        for step in plan.steps if dry_run else ():
            say(step.words)
        for fault in plan.faults:
            tell(fault)
        already = f"; {plan.skipped} are there already" if plan.skipped else ""
        if plan.faults:
            rows = "1 row is" if len(plan.faults) == 1 else f"{len(plan.faults)} rows are"
            tell(f"{rows} at fault. Nothing was written; set them right and try again.")
            raise typer.Exit(INPUT_AT_FAULT)
        if dry_run:
            say(f"{len(plan.steps)} to bring over{already}. Nothing was written.")
            return
        if not plan.steps:
            say(f"Nothing to bring over{already}.")
            return
        carry_out(records, plan)
        done(f"Brought over {len(plan.steps)}{already}.")


@old_mark.command("list")
def list_old_marks(
    student: Annotated[str | None, typer.Option(help="Only this child's.")] = None,
    family: FamilyFolder = None,
    json: Json = False,
) -> None:
    """List the old marks.

    Example: rubric-kit old-mark list --student Tamsin
    """
    with opened(family) as records:
        marks = records.old_marks
        found = marks.all() if student is None else marks.of(records.students.find(student).id)
        if json:
            json_of(found)
            return
        names = {s.id: s.name for s in records.students.all()}
        cells = [(m.id, names[m.student_id], m.title, m.marked_on, f"{m.percent:g}", m.note) for m in found]
        heads = ("number", "student", "book or task", "date", "percent", "note")
        table(heads, cells, "No old marks. Bring some over: rubric-kit import FILE.csv --dry-run")


@old_mark.command("remove")
def remove_old_mark(
    number: Annotated[int, typer.Argument(metavar="NUMBER", help="Its number: rubric-kit old-mark list.")],
    family: FamilyFolder = None,
) -> None:
    """Take an old mark out of sight.

    Example: rubric-kit old-mark remove 2
    """
    with opened(family) as records:
        records.old_marks.remove(number)
        done(f"Removed old mark number {number}.")
