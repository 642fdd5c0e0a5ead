"""rubric-kit begin, setting, undo, history: the records as a whole."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from rubric_kit.cli.errors import errors_in_words
from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder, Json
from rubric_kit.cli.printing import done, json_of, say, table

app = typer.Typer()
setting = typer.Typer(help="What your family decides: what answers count, letters, late work.", no_args_is_help=True)
app.add_typer(setting, name="setting")

SettingName = Annotated[str, typer.Argument(help="The setting's name: rubric-kit setting list.")]


@app.command()
def begin(
    folder: Annotated[
        Path | None, typer.Argument(help="The folder. Else the one that RUBRIC_KIT_FAMILY names, or in your documents.")
    ] = None,
) -> None:
    """Begin a family's records in a folder of your own.

    Example: rubric-kit begin "Our year"
    """
    from rubric_kit.records.family import begin as begin_records
    from rubric_kit.records.family import usual_folder

    with errors_in_words(), begin_records(folder) as records:
        say(f"The records are in {records.folder.resolve()}.")
        if records.folder.resolve() != usual_folder().resolve():
            say(f'Name that folder to every command: --family "{records.folder}", or set RUBRIC_KIT_FAMILY to it.')
        if not records.students.all():
            say("Next: rubric-kit student add NAME --grade 6")


@app.command()
def undo(family: FamilyFolder = None) -> None:
    """Take back the last thing that was written; again for the one before.

    Example: rubric-kit undo
    """
    with opened(family) as records:
        say(f"Taken back: {records.undo()}. (To bring it back: rubric-kit redo)")


@app.command()
def redo(family: FamilyFolder = None) -> None:
    """Bring back what the last undo took.

    Example: rubric-kit redo
    """
    from rubric_kit.records import open_family

    with errors_in_words(), open_family(family) as records:
        say(f"Brought back: {records.redo()}.")


@app.command()
def history(
    newest: Annotated[int, typer.Option(min=1, help="How many of the last writes.")] = 20,
    family: FamilyFolder = None,
    json: Json = False,
) -> None:
    """List what was written, the newest first.

    Example: rubric-kit history --newest 5
    """
    with opened(family) as records:
        writes = records.database.history(newest)
        if json:
            json_of(writes)
        else:
            rows = [(f"{w.made_at:%Y-%m-%d %H:%M} UTC", w.what) for w in writes]
            table(("when", "what"), rows, "Nothing was written yet.")


@setting.command("list")
def list_settings(family: FamilyFolder = None, json: Json = False) -> None:
    """List the settings with what they are now and what each does.

    Example: rubric-kit setting list
    """
    from json import dumps

    from rubric_kit.records.settings import about, usual

    with opened(family) as records:
        values = records.settings.all()
        if json:
            json_of(values)
            return
        for name, value in values.items():
            say(f"{name} = {dumps(value)}" + ("" if value == usual()[name] else f"   (usually {dumps(usual()[name])})"))
            say(f"    {about(name)}")


@setting.command("set", context_settings={"ignore_unknown_options": True})  # so that -5 is a value, refused in words
def set_setting(
    name: SettingName,
    value: Annotated[str, typer.Argument(help="The new value: a number, true, false, a word, or a list as JSON.")],
    family: FamilyFolder = None,
) -> None:
    """Decide a setting. rubric-kit setting list says what each does.

    Example: rubric-kit setting set answers_weight 30
    """
    with opened(family) as records:
        records.settings.set(name, _value(value))
        done(f"{name} is now {value}.")


@setting.command("reset")
def reset_setting(name: SettingName, family: FamilyFolder = None) -> None:
    """Set a setting back to the usual.

    Example: rubric-kit setting reset answers_weight
    """
    from json import dumps

    with opened(family) as records:
        records.settings.reset(name)
        done(f"{name} is {dumps(records.settings.get(name))} again.")


def _value(text: str) -> Any:
    from json import JSONDecodeError, loads

    try:
        return loads(text)
    except (JSONDecodeError, RecursionError):
        return text
