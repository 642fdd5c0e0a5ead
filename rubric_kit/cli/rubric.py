"""rubric-kit rubric: look at the rubrics, copy one to change it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from rubric_kit.cli.errors import errors_in_words
from rubric_kit.cli.options import Form
from rubric_kit.errors import RubricKitError

app = typer.Typer()
rubrics = typer.Typer(help="Look at the rubrics, or copy one to change it.", no_args_is_help=True)
app.add_typer(rubrics, name="rubric")


@rubrics.command()
def show(form: Annotated[Form, typer.Argument(help="Which rubric.")] = Form.five) -> None:
    """Show a rubric: criteria, weights, what each level means, what a level is worth."""
    from rubric_kit.scoring.rubric_file import load_form
    from rubric_kit.showing.terminal import print_rubric

    with errors_in_words():
        print_rubric(load_form(form.value))


@rubrics.command()
def copy(
    form: Annotated[Form, typer.Argument(help="Which rubric.")],
    to: Annotated[Path, typer.Argument(help="The file to write, such as my-rubric.toml. It must not exist yet.")],
) -> None:
    """Copy a rubric to a file of your own, to change and use with: rubric-kit score --rubric FILE."""
    from rubric_kit.scoring.rubric_file import shipped

    with errors_in_words():
        try:
            with to.open("x", encoding="utf-8", newline="\n") as file:
                file.write(shipped(form.value))
        except FileExistsError as error:
            raise RubricKitError(f"{to.name}: there is such a file already. Choose another name.") from error
        except OSError as error:
            raise RubricKitError(f"{to.name}: cannot be written ({error.strerror}). Choose another place.") from error
        typer.echo(f"Copied. Change {to}, then: rubric-kit score ESSAY --rubric {to}")


@rubrics.command()
def measures() -> None:
    """List what a rubric may look for: each measure, its formula and its unit."""
    from rubric_kit.measures.measured import FAMILIES
    from rubric_kit.showing.terminal import print_measures

    print_measures(FAMILIES)
