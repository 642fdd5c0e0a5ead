"""Options that several commands share."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer


class Form(StrEnum):
    """The forms of task that have a rubric."""

    paragraph = "paragraph"
    three = "three-paragraph"
    five = "five-paragraph"
    narrative = "narrative"


FamilyFolder = Annotated[
    Path | None,
    typer.Option(
        "--family",
        metavar="FOLDER",
        help="The folder of the records. Else the one that RUBRIC_KIT_FAMILY names, else the one in your documents.",
    ),
]
Json = Annotated[bool, typer.Option("--json", help="Print JSON, and nothing else.")]
