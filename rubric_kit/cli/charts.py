"""rubric-kit chart: a child's writing as a picture, and what it says."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubric_kit.cli.errors import errors_in_words
from rubric_kit.cli.options import FamilyFolder, Json
from rubric_kit.cli.printing import json_of, say

if TYPE_CHECKING:
    from rubric_kit.records.family import Family
    from rubric_kit.showing.charts import Chart

app = typer.Typer()


class Kind(StrEnum):
    """What a chart shows."""

    level = "level"
    criteria = "criteria"
    parts = "parts"
    slips = "slips"
    proposals = "proposals"
    measure = "measure"
    revision = "revision"


@app.command()
def chart(
    kind: Annotated[Kind, typer.Argument(help="What to show; measure wants --measure, revision wants --task.")],
    student: Annotated[str, typer.Option(help="The child's name.")],
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Draw it to FILE.svg or FILE.png. Else only its words are told.")
    ] = None,
    measure: Annotated[
        str | None, typer.Option(metavar="NAME", help="The measure's name: rubric-kit rubric measures.")
    ] = None,
    task: Annotated[str | None, typer.Option(metavar="TITLE", help="The task whose drafts to compare.")] = None,
    year: Annotated[
        str | None, typer.Option(metavar="YEAR", help="Only pieces of a school year, such as 2025-26.")
    ] = None,
    family: FamilyFolder = None,
    json: Json = False,
) -> None:
    """Draw a chart of one child's writing and tell what it says.

    Example: rubric-kit chart level --student Tamsin --out tamsin.svg
    """
    from rubric_kit.records import open_family
    from rubric_kit.showing.charts.files import write_chart

    if (measure is None) == (kind is Kind.measure) or (task is None) == (kind is Kind.revision):
        raise typer.BadParameter("--measure NAME goes with measure, --task TITLE with revision, and only there.")
    with errors_in_words(), open_family(family) as records:
        made = _made(records, kind, student, measure, task, year)
        if out is not None:
            write_chart(made, out)
        if json:
            json_of({"title": made.title, "alt": made.alt, "reading": made.reading})
            return
        say(made.alt)
        for words in made.reading:
            say(words)
        if out is not None:
            typer.echo(f"Wrote {out}", err=True)


def _made(
    records: Family, kind: Kind, name: str, measure: str | None, task: str | None, school_year: str | None
) -> Chart:
    from rubric_kit.showing.charts import year

    student = records.students.find(name)
    if measure is not None:
        return year.measure_chart(measure, records, student, school_year=school_year)
    if task is not None:
        return year.revision_chart(records, student, records.tasks.find(task).id)
    return year.chart(kind.value, records, student, school_year=school_year)
