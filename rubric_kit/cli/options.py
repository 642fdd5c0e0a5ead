"""Options that several commands share."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any

import typer


class Form(StrEnum):
    """The forms of task that have a rubric."""

    paragraph = "paragraph"
    three = "three-paragraph"
    five = "five-paragraph"
    narrative = "narrative"


def as_date(text: str) -> date:
    """A day, for ``typer.Option(parser=as_date)``; it goes to the command line's own error where it is none."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise typer.BadParameter(f"{text!r} is no day. Write it year-month-day, such as 2026-05-15.") from None


def on_day(help_text: str, *names: str) -> Any:
    """An option that takes a day."""
    return typer.Option(*names, parser=as_date, metavar="DAY", help=f"{help_text} As 2026-05-15.")


FamilyFolder = Annotated[
    Path | None,
    typer.Option(
        "--family",
        metavar="FOLDER",
        help="The folder of the records. Else the one that RUBRIC_KIT_FAMILY names, else the one in your documents.",
    ),
]
Json = Annotated[bool, typer.Option("--json", help="Print JSON, and nothing else.")]
