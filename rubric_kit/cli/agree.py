"""rubric-kit agree: how well two markers agree."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from rubric_kit.cli.errors import errors_in_words

app = typer.Typer()


@app.command()
def agree(
    file: Annotated[
        Path, typer.Argument(metavar="FILE.csv", help="A table: names of columns, then a row for each essay.")
    ],
    first: Annotated[
        str | None, typer.Option(metavar="NAME", help="The first marker's column. Else the first one of numbers.")
    ] = None,
    second: Annotated[
        str | None, typer.Option(metavar="NAME", help="The second marker's column. Else the next one of numbers.")
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print one JSON object, and nothing else.")] = False,
) -> None:
    """Tell how well two markers agree who scored the same essays: a parent and the tool, or two parents.

    Example: rubric-kit agree marks.csv --first mother --second father
    """
    from json import dumps

    from rubric_kit.scoring.agreement import agreement
    from rubric_kit.scoring.marks_file import UnknownColumnError, read_marks
    from rubric_kit.showing.agreement_view import agreement_as_json, print_agreement
    from rubric_kit.showing.inert import inert

    with errors_in_words():
        try:
            marks = read_marks(file, first, second)
        except UnknownColumnError as error:
            raise typer.BadParameter(inert(str(error))) from error
        agreed = agreement(marks.first, marks.second)
        if json:
            typer.echo(dumps(agreement_as_json(marks, agreed)))
        else:
            print_agreement(marks, agreed)
