"""How commands print: a line, a table, or JSON."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

import typer

LONGEST = 60  # characters of a name or title in a table


def say(text: str) -> None:
    """A line of text that is never markup."""
    from rubric_kit.showing.lines import Lines

    Lines().say(text)


def table(heads: tuple[str, ...], rows: Sequence[Sequence[object]], none: str) -> None:
    """A table of short cells; ``none`` is said where there are no rows."""
    from rubric_kit.showing.inert import short
    from rubric_kit.showing.lines import Lines

    if rows:
        Lines().table(heads, [tuple(short(_cell(cell), LONGEST) for cell in row) for row in rows])
    else:
        Lines().say(none)


def json_of(value: object) -> None:
    """One JSON value: dataclasses as objects, dates as they are written."""
    import json

    typer.echo(json.dumps(_plain(value), ensure_ascii=True))


def done(what: str) -> None:
    """What was changed, and how to take it back."""
    say(f"{what} (To take that back: rubric-kit undo)")


def _cell(value: object) -> str:
    return "" if value is None else value.isoformat() if isinstance(value, date) else str(value)


def _plain(value: object) -> Any:
    from dataclasses import fields, is_dataclass

    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, Iterable) and not isinstance(value, str):
        return [_plain(item) for item in value]
    return value.isoformat() if isinstance(value, date) else value
