"""What a batch of very many essays costs: how much faster two processes are than one, memory, bytes and disk.

    python tests/benchmarks/batch.py            measures and prints a table (a quarter of an hour)
    python tests/benchmarks/batch.py --write    ... and writes it to results.md

One and two processes by turns, on the same essays, each batch in a new process; rates are taken from when every
process has done its first chunk to the end, so that starting does not count. On a machine that others use too, time by
the clock is that of their work as well: the best of each was disturbed least. Processor time for each essay, of all
processes together and in the middle of the runs, shows how much two get into each other's way, and not whether they had
two cores.
"""

from __future__ import annotations

import csv
import json
import pickle
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Sequence
from pathlib import Path

import psutil
from essays import made
from growth import MEGABYTE
from speed import Figure, rows, write

import rubric_kit as rk
from rubric_kit.batching.columns import columns
from rubric_kit.batching.csv_rows import csv_source
from rubric_kit.batching.job import job
from rubric_kit.batching.joined import join
from rubric_kit.batching.parts import opened
from rubric_kit.batching.rows import ROWS, chunks
from rubric_kit.batching.scored import scored

PAIRS, ESSAYS = 8, 160
FEW, MANY = 10_000, 100_000  # rows that are read, passed on, kept and joined, but not parsed
NO_GRADE = "99"  # so that a row is refused when it has been through everything but the parser
KILOBYTE = 1000


def main(arguments: Sequence[str]) -> int:
    if arguments and arguments[0] == "one":
        print(json.dumps(one(Path(arguments[1]), int(arguments[2]))))
        return 0
    with tempfile.TemporaryDirectory() as folder:
        figures = [*_two_and_one(Path(folder)), *_memory(Path(folder)), *_bytes(Path(folder))]
    table = "\n".join(rows(figures))
    print(table)
    if "--write" in arguments:
        write("batch", table)
    return 0


def one(source: Path, processes: int) -> dict[str, float]:
    """One batch: essays a second, processor seconds an essay, megabytes at most of this process; in one of its own."""
    at: list[tuple[float, float, int]] = []
    out = source.with_name(f"{source.stem}-{processes}.parquet")
    begun = time.perf_counter()
    rk.batch(source, out, processes=processes, told=lambda n, *_: at.append((time.perf_counter(), _processor(), n)))
    whole = time.perf_counter() - begun
    (first, used_first, before), (last, used_last, after) = at[processes - 1], at[-1]
    return {
        "rate": (after - before) / (last - first),
        "processor": (used_last - used_first) / (after - before),
        "memory": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / MEGABYTE,
        "whole": after / whole,
    }


def _processor() -> float:
    """Processor seconds of this process and of those that it started."""
    own = psutil.Process()
    times = [each.cpu_times() for each in (own, *own.children()) if each.is_running()]
    return sum(each.user + each.system for each in times)


def _two_and_one(folder: Path) -> list[Figure]:
    pairs = []
    for number in range(PAIRS):
        source = _table(folder / f"{number}.csv", made(ESSAYS, seed=number + 1), "")
        order = (1, 2) if number % 2 else (2, 1)
        pair = {processes: _run(source, processes) for processes in order}
        print({n: {k: round(v, 3) for k, v in each.items()} for n, each in pair.items()}, file=sys.stderr)
        pairs.append(pair)
    best = {n: max(pair[n]["rate"] for pair in pairs) for n in (1, 2)}
    used = {n: statistics.median(pair[n]["processor"] for pair in pairs) for n in (1, 2)}
    rate = "essays a second"
    return [
        Figure("two processes / one, by the clock, the best of each", best[2] / best[1], "times as fast", least=1.8),
        Figure("two processes / one, by processor time", 2 * used[1] / used[2], "times as fast", least=1.8),
        Figure("one process, by the clock, the best", best[1], rate),
        Figure("two processes, by the clock, the best", best[2], rate),
        Figure("one process, by processor time", 1 / used[1], rate),
        Figure("memory of a process that scores", max(pair[1]["memory"] for pair in pairs), "MB"),
        Figure("memory of the one that reads and writes, two at work", max(p[2]["memory"] for p in pairs), "MB"),
    ]


def _memory(folder: Path) -> list[Figure]:
    """The process that reads, hands out, keeps and joins, with ten times as many rows."""
    texts = list(made(20))
    few, many = (
        _run(_table(folder / f"{number}.csv", (texts[n % len(texts)] for n in range(number)), NO_GRADE), 2)
        for number in (FEW, MANY)
    )
    grows = many["memory"] / few["memory"]
    return [
        Figure(f"its memory with {MANY:,} rows / with {FEW:,}", grows, "times as much", most=1.2),
        Figure("rows read, handed out, kept and joined, nothing parsed", many["whole"], "a second"),
    ]


def _bytes(folder: Path) -> list[Figure]:
    """What goes to a worker and comes back, what is on the disk at the end, and what joining takes."""
    work, given = job(6, None, None), next(chunks(csv_source(_table(folder / "in.csv", made(ROWS), "")).rows()))
    lines = scored(given, work)
    with opened(folder / "join.parts") as parts:
        for number in range(MANY // ROWS):
            parts.keep(number, lines)
        took, sizes = [], []
        for ending in ("parquet", "csv"):
            out = folder / f"joined.{ending}"
            begun = time.process_time()
            join(parts, MANY // ROWS, columns(work.criteria()), out, folder / "problems.csv")
            took.append(time.process_time() - begun)
            sizes.append(out.stat().st_size)
        parts.clear()
    each = "kB an essay"
    return [
        Figure("sent to a worker", len(pickle.dumps((given, work))) / ROWS / KILOBYTE, each),
        Figure("sent back by it, and kept on the disk until the end", len(lines) / ROWS / KILOBYTE, each),
        Figure("results as CSV", sizes[1] / MANY / KILOBYTE, each),
        Figure("joined into Parquet", MANY / took[0], "rows a second"),
    ]


def _table(path: Path, texts: Iterable[str], grade: str) -> Path:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(("id", "text", "grade"))
        writer.writerows((number, text, grade) for number, text in enumerate(texts))
    return path


def _run(source: Path, processes: int) -> dict[str, float]:
    command = [sys.executable, __file__, "one", str(source), str(processes)]
    found: dict[str, float] = json.loads(subprocess.run(command, stdout=subprocess.PIPE, check=True).stdout)
    return found


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
