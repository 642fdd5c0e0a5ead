"""rubric-kit demo: an invented family's year to try things on."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from rubric_kit.cli.errors import errors_in_words, tell
from rubric_kit.cli.printing import say

app = typer.Typer()


@app.command()
def demo(
    folder: Annotated[Path | None, typer.Argument(help="A new folder. Else a temporary one.")] = None,
) -> None:
    """Build an invented family's year to play with: three children, ten books, two terms.

    Example: rubric-kit demo
    """
    from tempfile import mkdtemp

    from rubric_kit.records.demo import build_demo

    with errors_in_words():
        place = folder or Path(mkdtemp(prefix="pellwood-"))
        tell("Building the Pellwoods' year; it takes some seconds.")
        with build_demo(place) as records:
            say(f"{len(records.drafts.all())} drafts of {len(records.students.all())} children are in:")
            typer.echo(str(place))
            say("Try:")
            for command in ("draft list --student Tamsin", "grade --student Wren", "draft show 1 --sheet"):
                typer.echo(f'  rubric-kit {command} --family "{place}"')
