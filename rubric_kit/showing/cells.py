"""Cells of a table for a spreadsheet, in which no text is ever a formula."""

from __future__ import annotations

from datetime import date
from typing import Any

from rubric_kit.showing.inert import inert

Cell = str | float | date | None

# A text that begins so may be run as a formula by a spreadsheet, the wide signs in East Asian settings.
STEERING = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
CONTROLS = {code: inert(chr(code)) for code in (*range(32), 127) if chr(code) not in "\t\n\r"}  # NUL, escape and others
HARMLESS = "'"  # before it, a spreadsheet takes the cell as text


def harmless(cell: Cell) -> Any:
    """What to write into a cell of a .csv file: text that cannot steer anything, a number, a day as it is written."""
    if isinstance(cell, str):
        shown = cell.translate(CONTROLS)
        return HARMLESS + shown if shown.startswith(STEERING) else shown
    return cell.isoformat() if isinstance(cell, date) else cell
