"""Essays of invented children in tables and folders, and what comes out of a batch of them."""

from __future__ import annotations

import csv
import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

ANIMALS = ("dog", "horse", "cat", "goat", "hen", "owl", "seal")
ESSAY = (
    "My {animal} number {number} is the best friend that I have. First, it waits for me at the door every day. "
    "For example, on Monday it sat in the rain untill I came home. Also, it never tells a secret. "
    "Because of all this I would not give my {animal} away for anything."
)
RUN = "import sys; from rubric_kit.cli import main; main()"


def essay(number: int) -> str:
    """A short essay, another for every number."""
    return ESSAY.format(animal=ANIMALS[number % len(ANIMALS)], number=number)


def write_csv(path: Path, rows: Sequence[Sequence[object]], names: Sequence[str] = ("id", "text")) -> Path:
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([names, *rows])
    return path


def many(path: Path, number: int) -> Path:
    """A table of so many essays; every 50th row is bad."""
    return write_csv(path, [(f"child {n}", "" if n % 50 == 7 else essay(n)) for n in range(number)])


def rows_of(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def started(*arguments: object, **options: object) -> subprocess.Popen[bytes]:
    """rubric-kit batch in a process of its own."""
    command = [sys.executable, "-c", RUN, "batch", *map(str, arguments)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, **options)  # type: ignore[call-overload,no-any-return]


def finished(*arguments: object, **options: object) -> tuple[int, str]:
    """Exit code of rubric-kit batch and what it said on stderr."""
    process = started(*arguments, **options)
    said = process.communicate(timeout=300)[1].decode()
    assert "Traceback" not in said
    return process.returncode, said


def parts(out: Path) -> list[Path]:
    """What is done of a batch that is not finished."""
    return sorted(out.with_name(f"{out.name}.parts").glob("*.jsonl"))


def wait_until(true: Callable[[], bool], seconds: float = 120) -> None:
    until = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < until, "it took too long"
        time.sleep(0.01)


def children(process: int) -> list[int]:
    """The processes that a process started."""
    found = []
    for folder in Path("/proc").iterdir():
        if folder.name.isdigit():
            try:
                status = (folder / "stat").read_text()
            except OSError:
                continue
            if int(status.rpartition(")")[2].split()[1]) == process:
                found.append(int(folder.name))
    return found


def is_alive(process: int) -> bool:
    try:
        os.kill(process, 0)
        return "\nState:\tZ" not in Path(f"/proc/{process}/status").read_text()
    except OSError:
        return False
