"""What goes wrong, told on stderr in one line; the exit code says whose fault it is."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import typer

from rubric_kit.errors import RubricKitError

INPUT_AT_FAULT = 1
STOPPED = 130  # by Ctrl-C, as shells count it


@contextmanager
def errors_in_words() -> Iterator[None]:
    """A RubricKitError becomes its text on stderr and exit code 1."""
    try:
        yield
    except RubricKitError as error:
        tell(str(error))
        raise typer.Exit(INPUT_AT_FAULT) from error


def failed_on(path: Path, error: Exception) -> str:
    """A fault of ours in one essay, in words."""
    return f"{path}: rubric-kit failed on it ({type(error).__name__}: {error}). Please report this line."


def tell(message: str) -> None:
    """A line on stderr. It may quote a file, and a file may hold what steers a terminal."""
    from rubric_kit.showing.inert import inert

    typer.echo(inert(message), err=True)
