"""The same from a terminal. One file for each group of commands, imported when one of its commands is asked for.

To add commands, write ``rubric_kit/cli/FILE.py`` with a Typer named ``app``::

    app = typer.Typer()

    @app.command()
    def grade(...) -> None:                     # rubric-kit grade
        ...

    book = typer.Typer(help="...", no_args_is_help=True)
    app.add_typer(book, name="book")            # rubric-kit book add, rubric-kit book list ...

and name its commands in COMMANDS. Options that all share are in options.py; ``with errors_in_words():`` (errors.py)
around a command's body makes of every RubricKitError a line on stderr and exit code 1. Import what is heavy inside the
commands.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from importlib import import_module
from io import TextIOWrapper
from typing import Any

import typer
from typer.core import TyperGroup
from typer.main import get_group

from rubric_kit.cli.errors import STOPPED

# The commands in the order of the help, under its headings, and the file that each stands in.
COMMANDS = {
    "In a browser": {"open": "opening_notebooks"},
    "Essays": {"score": "score", "batch": "batch", "agree": "agree", "rubric": "rubric"},
    "The family's year: who, what, when": {
        "demo": "demo",
        "begin": "family",
        "student": "people",
        "term": "people",
        "book": "books",
        "task": "tasks",
        "due": "tasks",
        "draft": "work",
        "answers": "work",
        "mark": "marking",
        "compare": "steady",
        "conference": "marking",
        "steady": "steady",
    },
    "Grades": {"grade": "grades", "export": "grades"},
    "Growth": {"growth": "growth", "chart": "charts"},
    "The year on paper": {"portfolio": "portfolio", "report": "portfolio"},
    "The records as a whole": {
        "import": "importing",
        "old-mark": "importing",
        "setting": "family",
        "undo": "family",
        "redo": "family",
        "history": "family",
        "backup": "safety",
        "restore": "safety",
        "check": "safety",
    },
}


class _Commands(Mapping[str, Any]):
    """Every command by its name, made when first asked for."""

    def __init__(self) -> None:
        self._files = {name: file for group in COMMANDS.values() for name, file in group.items()}
        self._headings = {name: heading for heading, group in COMMANDS.items() for name in group}

    def __getitem__(self, name: str) -> Any:
        file = import_module(f"rubric_kit.cli.{self._files[name]}")
        command: Any = get_group(file.app).commands[name]
        command.rich_help_panel = self._headings[name]
        return command

    def __iter__(self) -> Iterator[str]:
        return iter(self._files)

    def __len__(self) -> int:
        return len(self._files)


class _Group(TyperGroup):
    def __init__(self, **attributes: Any) -> None:
        super().__init__(**attributes)
        self.commands: Any = _Commands()


app = typer.Typer(
    name="rubric-kit",
    cls=_Group,
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)


@app.callback()
def _about() -> None:
    """Score children's essays on an open rubric, with the sentences behind every level, and keep the year."""


def main() -> None:
    """Run the command line; 0 is fine, 1 the input is at fault, 2 the command line is, 130 it was stopped."""
    if isinstance(sys.stdout, TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # a letter that the terminal does not know is no reason to stop
    try:
        app()
    except KeyboardInterrupt:
        sys.exit(STOPPED)
