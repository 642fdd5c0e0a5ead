"""rubric-kit growth: how a child's writing goes over the year, in words."""

from __future__ import annotations

from typing import Annotated

import typer

from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder, Json
from rubric_kit.cli.printing import json_of

app = typer.Typer()


@app.command()
def growth(
    student: Annotated[str, typer.Option(metavar="NAME", help="The child's name.")],
    year: Annotated[
        str | None, typer.Option(metavar="YEAR", help="Only pieces of a school year, such as 2025-26.")
    ] = None,
    family: FamilyFolder = None,
    json: Json = False,
) -> None:
    """Tell how a child's writing goes, what is more than chance, and which pieces were compared.

    Example: rubric-kit growth --student Tamsin
    """
    from rubric_kit.showing.growth_view import growth as growth_of
    from rubric_kit.showing.growth_view import growth_as_json, print_growth

    with opened(family) as records:
        found = growth_of(records, records.students.find(student), year)
        if json:
            json_of(growth_as_json(found))
        else:
            print_growth(found)
