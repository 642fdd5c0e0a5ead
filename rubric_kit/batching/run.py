"""A batch from its input to its results: what is done already is passed over, and the rest is scored and joined."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from rubric_kit.batching.columns import columns
from rubric_kit.batching.csv_rows import csv_source
from rubric_kit.batching.folder_rows import folder_source
from rubric_kit.batching.job import Job, job
from rubric_kit.batching.joined import check_kind, join
from rubric_kit.batching.parquet_rows import parquet_source
from rubric_kit.batching.parts import Parts, opened
from rubric_kit.batching.pool import in_processes
from rubric_kit.batching.rows import ROWS, BatchError, Chunk, Source, chunks, loaded

TABLES = {".csv": csv_source, ".parquet": parquet_source}
Told = Callable[[int, int, int], object]
_Done = Callable[[int, int], object]


@dataclass(frozen=True, slots=True)
class Outcome:
    """Where the results are, how many rows they have, and how many were left out and are told of in ``problems``."""

    results: Path
    rows: int
    left_out: int
    problems: Path


def batch(
    source: str | os.PathLike[str],
    out: str | os.PathLike[str],
    *,
    grade: int | None = None,
    form: str | None = None,
    rubric: str | os.PathLike[str] | None = None,
    processes: int | None = None,
    cluster: str | None = None,
    told: Told = lambda done, total, before: None,
) -> Outcome:
    """Score every essay of a folder or a table into a table of results; bad rows go into a list of problems beside it.

    source       a folder of essays, or a .csv or .parquet file with columns id and text, and perhaps grade and form
    out          a .csv or .parquet file; ``OUT.parts`` beside it keeps what is done, so that the same call goes on
                 where it was stopped, with no row lost or doubled
    grade, form  for the rows that name none, as for ``score``; rubric: a file of one's own for all rows
    processes    how many at a time, as many as there are cores unless given; with 1 this process scores itself
    cluster      the address of a Dask scheduler whose workers score instead
    told         is called with rows done, rows in all, and how many of the done were done before this call

    In a script, call it under ``if __name__ == "__main__":``, since other processes import the script anew.
    Raises BatchError; RubricFileError and PipelineError as ``score`` does.
    """
    given, results = Path(source), _target(Path(out))
    problems, folder = results.with_suffix(".problems.csv"), results.with_name(f"{results.name}.parts")
    check_kind(results)
    if processes is not None and processes < 1:
        raise BatchError(f"{processes} processes cannot score. Give 1 or more.")
    for place in (results, problems):
        if place.exists() and not place.is_file():
            raise BatchError(f"{place}: there is a folder or device of that name. Give --out another name.")
    essays = _source(given, [results, problems, folder])
    work = job(grade, form, Path(rubric) if rubric is not None else None)
    identity = essays.identity()
    total = essays.count()
    if not total:
        raise BatchError(f"{given}: there is no essay in it. Check that it is the right one.")
    try:
        with opened(folder) as parts:
            parts.begin({"input": identity, "rows at a time": str(ROWS), **work.described()})
            at_once = processes or _cores()
            count = _score(essays, parts, work, at_once, cluster, lambda done, before: told(done, total, before))
            if essays.identity() != identity:
                raise BatchError(f"{given}: it was changed while it was read. Delete {folder} and begin anew.")
            rows, left_out = join(parts, count, columns(work.criteria()), results, problems)
            if rows + left_out != total:
                raise BatchError(
                    f"{folder}: of {total:,} rows {rows + left_out:,} are there. Delete it and begin anew."
                )
            parts.clear()
    except sqlite3.Error as error:
        raise BatchError(
            f"The system's folder for temporary files cannot be used ({error}). Make room there."
        ) from error
    return Outcome(results, rows, left_out, problems)


def _target(out: Path) -> Path:
    """Where the results go; a link keeps pointing where it did."""
    return out.resolve() if out.is_symlink() else out


def _source(given: Path, ours: Sequence[Path]) -> Source:
    places = {path.resolve() for path in ours}
    if given.resolve() in places:
        raise BatchError(f"{given}: the results would be written over it. Give --out another name.")
    if given.is_dir():
        return folder_source(given.resolve(), places)
    if not given.is_file():
        raise BatchError(f"{given}: there is no such folder or file. Check its name and place.")
    if given.suffix.lower() not in TABLES:
        raise BatchError(f"{given}: essays come as a folder or as a table, {' or '.join(TABLES)}. Name one of these.")
    return TABLES[given.suffix.lower()](given)


def _score(essays: Source, parts: Parts, work: Job, processes: int, cluster: str | None, told: _Done) -> int:
    """Score what is not done yet; how many chunks there are."""
    count = before = done = 0

    def waiting() -> Iterator[Chunk]:
        nonlocal count, before
        for chunk in chunks(essays.rows()):
            count += 1
            if parts.has(chunk):
                before += len(chunk.rows)
            else:
                yield loaded(chunk)

    with closing(_lines(waiting(), work, processes, cluster)) as results:
        for number, lines in results:
            parts.keep(number, lines)
            done += lines.count(b"\n")
            told(before + done, before)
    return count


def _lines(
    waiting: Iterator[Chunk], work: Job, processes: int, cluster: str | None
) -> Generator[tuple[int, bytes], None, None]:
    if cluster is not None:
        from rubric_kit.batching.cluster import on_cluster

        yield from on_cluster(waiting, work, cluster)
    elif processes > 1:
        yield from in_processes(waiting, work, processes)
    else:
        from rubric_kit.batching.scored import scored

        for chunk in waiting:
            yield chunk.number, scored(chunk, work)


def _cores() -> int:
    """Those that we may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
