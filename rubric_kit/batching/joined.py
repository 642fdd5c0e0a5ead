"""The chunks are joined into the results and the list of problems, a few thousand rows at a time."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import Any

from rubric_kit.batching.columns import NUMBER, TEXT, WHOLE, Column, Value
from rubric_kit.batching.parquet_rows import pyarrow
from rubric_kit.batching.parts import BEGUN, Parts, in_words
from rubric_kit.batching.rows import BatchError
from rubric_kit.showing.cells import harmless

PROBLEMS = ("row", "id", "what is wrong", "what to do")
AT_ONCE = 5_000  # rows of a group in Parquet, all in memory: 100 columns of them are 4 MB
Write = Callable[[Sequence[Sequence[Value]]], object]


def join(parts: Parts, chunks: int, columns: Sequence[Column], results: Path, problems: Path) -> tuple[int, int]:
    """Write both files, each whole or not at all; how many rows went into each. Without problems there is no file.

    Raises BatchError where something cannot be written.
    """
    written = left_out = 0
    new, new_problems = (parts.folder / f"{name}{BEGUN}" for name in ("results", "problems"))
    with in_words(results):
        with WRITERS[results.suffix.lower()](new, columns) as write, _csv(new_problems, PROBLEMS) as write_problems:
            for number in range(chunks):
                rows = [json.loads(line) for line in parts.lines(number)]
                good = [row["values"] for row in rows if "values" in row]
                bad = [(row["row"], row["id"], row["wrong"], row["do"]) for row in rows if "values" not in row]
                write(good)
                write_problems(bad)
                written, left_out = written + len(good), left_out + len(bad)
        if left_out:
            new_problems.replace(problems)
        else:
            new_problems.unlink()
            problems.unlink(missing_ok=True)  # those of an earlier batch
        new.replace(results)
    return written, left_out


@contextmanager
def _csv(path: Path, names: Sequence[str]) -> Iterator[Write]:
    """With a byte order mark, as tables for a spreadsheet have it, and no text that could be a formula."""
    with path.open("w", encoding="utf-8-sig", errors="replace", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(names)
        yield lambda rows: writer.writerows([harmless(cell) for cell in row] for row in rows)


def _csv_results(path: Path, columns: Sequence[Column]) -> AbstractContextManager[Write]:
    return _csv(path, [column.name for column in columns])


@contextmanager
def _parquet_results(path: Path, columns: Sequence[Column]) -> Iterator[Write]:
    arrow = pyarrow()
    kinds = {TEXT: arrow.string(), WHOLE: arrow.int64(), NUMBER: arrow.float64()}
    schema = arrow.schema([(column.name, kinds[column.kind]) for column in columns])
    waiting: list[Any] = []
    held = 0

    def write(rows: Sequence[Sequence[Value]]) -> None:
        nonlocal held
        if rows:
            arrays = [
                arrow.array(cells, field.type) for cells, field in zip(zip(*rows, strict=True), schema, strict=True)
            ]
            waiting.append(arrow.record_batch(arrays, schema=schema))
            held += len(rows)
        if held >= AT_ONCE:
            flush()

    def flush() -> None:
        nonlocal held
        file.write_table(arrow.Table.from_batches(waiting, schema))
        waiting.clear()
        held = 0

    with arrow.parquet.ParquetWriter(path, schema) as file:
        yield write
        flush()


WRITERS: Mapping[str, Callable[[Path, Sequence[Column]], AbstractContextManager[Write]]] = {
    ".csv": _csv_results,
    ".parquet": _parquet_results,
}


def check_kind(results: Path) -> None:
    """Raises BatchError for an ending that is not written, or where the library for it is missing."""
    if results.suffix.lower() not in WRITERS:
        raise BatchError(f"{results}: results are written as {' or '.join(WRITERS)}. Choose such an ending.")
    if results.suffix.lower() == ".parquet":
        pyarrow()
