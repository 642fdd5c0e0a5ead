"""How time and memory grow with the number of essays, and with the length of one text.

    python tests/benchmarks/growth.py            measures and prints a table (an hour)
    python tests/benchmarks/growth.py --write    ... and writes it to results.md

Each size is a process of its own. Essays are made of paragraphs of the labelled ones, with a made-up misspelling in
every 500 words, streamed in and their results dropped. Time is processor time after some essays (or one text) that are
not counted, when most words have been met; memory is the most that the process held.
"""

from __future__ import annotations

import json
import math
import resource
import subprocess
import sys
from collections.abc import Sequence
from statistics import linear_regression

from essays import made
from speed import seconds, write

import rubric_kit as rk

MANY = (100, 1_000, 10_000, 50_000)  # essays
LONG = (25_000, 50_000, 100_000, 200_000)  # words of one text
WARM = {"unparsed": 1_000, "full": 200}  # essays
WARM_WORDS = 25_000  # of one text
MEGABYTE = 1024  # of ru_maxrss, which Linux counts in kilobytes
HEAD = ["| what | size | time | memory |", "|---|---|---|---|"]


def main(arguments: Sequence[str]) -> int:
    if arguments and arguments[0] == "one":
        print(json.dumps(one(arguments[1], int(arguments[2]))))
        return 0
    lines = list(HEAD)
    lines += _table("full score of one text", "long", LONG, "words")
    lines += _table("full score", "full", MANY, "essays")
    lines += _table("without the parser", "unparsed", MANY, "essays")
    table = "\n".join(lines)
    print(table)
    if "--write" in arguments:
        write("growth", table)
    return 0


def one(kind: str, size: int) -> tuple[float, float]:
    """Seconds and megabytes of one run; called in a process of its own."""
    if kind == "unparsed":
        _unparsed(WARM[kind], seed=2)
        took = seconds(lambda: _unparsed(size))
    elif kind == "full":
        _full(WARM[kind], seed=2)
        took = seconds(lambda: _full(size))
    else:
        (short,), (text,) = made(1, WARM_WORDS, seed=2), made(1, size)
        rk.score(rk.read_text(short))
        took = seconds(lambda: rk.score(rk.read_text(text)))
    return took, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / MEGABYTE


def _unparsed(number: int, seed: int = 1) -> None:
    for text in made(number, seed=seed):
        rk.measure_unparsed(rk.read_text(text))


def _full(number: int, seed: int = 1) -> None:
    for sheet in rk.score_many(rk.HandedIn(rk.read_text(text)) for text in made(number, seed=seed)):
        if isinstance(sheet, Exception):
            raise sheet


def _table(what: str, kind: str, sizes: Sequence[int], unit: str) -> list[str]:
    runs = {}
    for size in sizes:
        done = subprocess.run([sys.executable, __file__, "one", kind, str(size)], stdout=subprocess.PIPE, check=True)
        runs[size] = json.loads(done.stdout)
        print(what, size, runs[size], file=sys.stderr)
    lines = [f"| {what} | {size:,} {unit} | {took:,.1f} s | {held:,.0f} MB |" for size, (took, held) in runs.items()]
    slope = linear_regression([math.log(size) for size in runs], [math.log(took) for took, _ in runs.values()]).slope
    memory = [held for _, held in runs.values()]
    grows = f"{max(memory) / min(memory) - 1:+.0%} from least to most"
    return [*lines, f"| {what} | growth | time as size to the power {slope:.2f} | {grows} |"]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
