"""rubric-kit backup, restore, check: that nothing is lost, and that it can be seen."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from rubric_kit.cli.errors import INPUT_AT_FAULT, errors_in_words
from rubric_kit.cli.options import FamilyFolder, Json
from rubric_kit.cli.printing import json_of, say

app = typer.Typer()


@app.command()
def backup(
    to: Annotated[
        Path | None, typer.Argument(metavar="FILE.zip", help="Where to. Else a name with today's date, in this folder.")
    ] = None,
    family: FamilyFolder = None,
) -> None:
    """Copy everything into one zip file: the records and every draft as handed in, each with its hash.

    Example: rubric-kit backup /media/stick/our-year.zip
    """
    from rubric_kit.records import open_family
    from rubric_kit.records.backup import backup as write_backup

    path = to or Path(f"family-{date.today()}.zip")
    with errors_in_words(), open_family(family) as records:
        many = write_backup(records, path)
        say(f"Wrote {path}: {many} files with their hashes. Keep it somewhere else than this computer.")


@app.command()
def restore(
    path: Annotated[Path, typer.Argument(metavar="FILE.zip", help="The backup.")],
    folder: Annotated[Path, typer.Argument(help="A new folder to restore into.")],
) -> None:
    """Unpack a backup into a new folder, after the hash of every file in it was checked.

    Example: rubric-kit restore our-year.zip "Our year again"
    """
    from rubric_kit.records.backup import restore as unpack

    with errors_in_words(), unpack(path, folder) as records:
        say(f"Restored into {folder}: {_counted(len(records.students.all()), 'student')}, all hashes right.")


@app.command()
def check(family: FamilyFolder = None, json: Json = False) -> None:
    """Look at the whole folder for damage: the records, what points where, every draft against its hash.

    Example: rubric-kit check
    """
    from rubric_kit.records.check import check as look_at
    from rubric_kit.records.family import usual_folder

    with errors_in_words():
        found = look_at(family or usual_folder())
        strays = [str(path) for path in found.strays]
        if json:
            json_of({"rows": found.rows, "originals": found.originals, "damage": found.damage, "strays": strays})
        else:
            for damage in found.damage:
                say(f"Damage: {damage.what}\n  What to do: {damage.remedy}")
            for stray in strays:
                say(f"Not of the records (it does no harm): {stray}")
            if not found.damage:
                looked = f"{_counted(found.rows, 'row')} and {_counted(found.originals, 'file')} as handed in"
                say(f"All is well: {looked}, no damage.")
    if found.damage:
        raise typer.Exit(INPUT_AT_FAULT)


def _counted(many: int, thing: str) -> str:
    return f"{many:,} {thing}" if many == 1 else f"{many:,} {thing}s"
