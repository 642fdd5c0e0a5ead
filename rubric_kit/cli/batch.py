"""rubric-kit batch: very many essays into a table of results."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubric_kit.cli.errors import INPUT_AT_FAULT, STOPPED, errors_in_words, tell
from rubric_kit.cli.options import Form

if TYPE_CHECKING:
    from rubric_kit.batching.run import Told

MINUTE, HOUR = 60, 3600  # seconds

app = typer.Typer()


@app.command()
def batch(
    source: Annotated[
        Path,
        typer.Argument(
            metavar="FOLDER|FILE", help="A folder of essays; or a .csv or .parquet file with columns id and text."
        ),
    ],
    out: Annotated[
        Path, typer.Option(metavar="RESULTS", help="The table to write, ending in .csv or .parquet: a row an essay.")
    ],
    grade: Annotated[
        int | None, typer.Option(min=3, max=9, help="The school grade of the essays that have none in a column grade.")
    ] = None,
    form: Annotated[
        Form | None, typer.Option(help="The form of those that have none in a column form; else five-paragraph.")
    ] = None,
    rubric: Annotated[
        Path | None, typer.Option(metavar="FILE", help="A rubric of your own, for all of them: rubric-kit rubric copy.")
    ] = None,
    processes: Annotated[
        int | None, typer.Option(min=1, metavar="N", help="How many to score at a time; else one for each core.")
    ] = None,
    cluster: Annotated[
        str | None,
        typer.Option(metavar="ADDRESS", help="Score on a Dask cluster, such as tcp://host:8786 or tls://host:8786."),
    ] = None,
    quiet: Annotated[bool, typer.Option("--quiet", "-q", help="No progress, and no word of what was written.")] = False,
) -> None:
    """Score very many essays into one table: levels, scores and every measure, a row for each essay.

    Essays that cannot be scored go into RESULTS.problems.csv with what to do about each, and the exit code is then 1.
    Stopped, by Ctrl-C or by a power cut? The same command again goes on where it was: what is done is kept in
    RESULTS.parts until the end. The levels are proposals for a reader; nobody should be graded by them alone.

    Example: rubric-kit batch essays --grade 6 --out results.csv
    """
    from rubric_kit.batching.run import batch as score_all

    with errors_in_words():
        try:
            with _progress(quiet or not sys.stderr.isatty()) as told:
                done = score_all(
                    source,
                    out,
                    grade=grade,
                    form=form.value if form else None,
                    rubric=rubric,
                    processes=processes,
                    cluster=cluster,
                    told=told,
                )
        except KeyboardInterrupt:
            tell("Stopped. What is done is kept: run the same command again to go on.")
            raise typer.Exit(STOPPED) from None
    if not quiet:
        tell(f"Wrote {done.results}: {_essays(done.rows)}.")
        if done.left_out:
            tell(f"{done.left_out:,} left out: {done.problems} says why, and what to do.")
    if done.left_out:
        raise typer.Exit(INPUT_AT_FAULT)


@contextmanager
def _progress(quiet: bool) -> Iterator[Told]:
    """A line on stderr that is written over: how many are done, how fast, how long it will take."""
    if quiet:
        yield lambda done, total, before: None
        return
    begun = time.monotonic()

    def told(done: int, total: int, before: int) -> None:
        rate = (done - before) / max(time.monotonic() - begun, 1e-9)
        left = _time((total - done) / max(rate, 1e-9))
        sys.stderr.write(f"\r\033[K{done:,} of {_essays(total)}, {rate:.1f} a second, {left} left")
        sys.stderr.flush()

    try:
        yield told
    finally:
        sys.stderr.write("\r\033[K")
        sys.stderr.flush()


def _essays(number: int) -> str:
    return f"{number:,} {'essay' if number == 1 else 'essays'}"


def _time(seconds: float) -> str:
    if seconds < MINUTE:
        return "less than a minute"
    if seconds < HOUR:
        return f"about {seconds / MINUTE:.0f} min"
    return f"about {seconds / HOUR:.1f} hours"
