"""rubric-kit rubric: look at the rubrics, copy one to change it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from rubric_kit.cli.errors import errors_in_words
from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder, Form, Json
from rubric_kit.cli.printing import json_of, say, table
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


@rubrics.command()
def add(
    file: Annotated[Path, typer.Argument(help="A rubric of your own, such as my-rubric.toml.")],
    family: FamilyFolder = None,
) -> None:
    """Keep a rubric of your own with the records, to give tasks on: rubric-kit task give --rubric NAME.

    Example: rubric-kit rubric add my-rubric.toml
    """
    from rubric_kit.scoring.rubric_file import load_file

    with opened(family) as records:
        if file.stem in {form.value for form in Form}:
            raise RubricKitError(f"{file.name}: a shipped rubric is called so. Give the file another name.")
        rubric = load_file(file)
        text = file.read_text("utf-8-sig")
        records.tasks.keep_rubric(text, file.name, rubric.version)
        say(f"Kept the rubric {file.name}, for the form {rubric.form}.")
        say(f"Next: rubric-kit task give TITLE STUDENT --rubric {file.name}")


@rubrics.command("list")
def list_rubrics(family: FamilyFolder = None, json: Json = False) -> None:
    """List the rubrics of your own that are kept with the records.

    Example: rubric-kit rubric list
    """
    from rubric_kit.cli.task_parts import own_rubrics

    with opened(family) as records:
        rubrics_kept = own_rubrics(records)
        if json:
            json_of([{"name": r.name, "version": r.version, "sha256": r.sha256} for r in rubrics_kept])
        else:
            none = "No rubrics of your own yet. Copy one: rubric-kit rubric copy five-paragraph my-rubric.toml"
            table(("rubric", "version"), [(r.name, r.version) for r in rubrics_kept], none)
