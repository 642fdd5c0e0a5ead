"""Several processes: the same to the last bit as one, and a process that is ended costs only time."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import rubric_kit as rk
from rubric_kit.batching import pool
from rubric_kit.batching.job import Job, job
from rubric_kit.batching.rows import ROWS, BatchError, Chunk, Row, chunks
from rubric_kit.batching.scored import scored

from .tables import children, essay, is_alive, many, parts, rows_of, started, wait_until

TWO = 2


def rows(number: int) -> list[Row]:
    return [Row(n, f"child {n}", essay(n), size=300, grade=str(3 + n % 7)) for n in range(number)]


def test_three_processes_give_what_one_gives_bit_for_bit() -> None:
    work, given = job(None, None, None), list(chunks(rows(6 * ROWS - 3)))
    found = dict(pool.in_processes(iter(given), work, 3))
    assert [found[chunk.number] for chunk in given] == [scored(chunk, work) for chunk in given]


@pytest.mark.slow
def test_no_more_chunks_are_taken_than_there_are_processes() -> None:
    taken = 0

    def waiting() -> Iterator[Chunk]:
        nonlocal taken
        for chunk in chunks(rows(5 * ROWS)):
            taken += 1
            yield chunk

    done = 0
    for _ in pool.in_processes(waiting(), job(None, None, None), TWO):
        done += 1
        assert taken - done <= TWO
    assert done == 5


@pytest.mark.slow
def test_a_process_that_is_killed_costs_no_row(tmp_path: Path) -> None:
    source, out = many(tmp_path / "in.csv", 12 * ROWS), tmp_path / "out.csv"
    process = started(source, "--grade", 5, "--out", out, "--processes", TWO)
    wait_until(lambda: len(parts(out)) >= 2 or process.poll() is not None)
    workers = [each for each in children(process.pid) if b"spawn_main" in Path(f"/proc/{each}/cmdline").read_bytes()]
    os.kill(workers[0], signal.SIGKILL)
    assert b"Traceback" not in process.communicate(timeout=120)[1]
    whole = rk.batch(source, tmp_path / "whole.csv", grade=5, processes=1)
    assert out.read_bytes() == whole.results.read_bytes()


@pytest.mark.slow
def test_an_essay_that_ends_every_process_is_left_out_and_told_of(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.syspath_prepend(Path(__file__).parent)  # processes are given the path
    monkeypatch.setattr(pool, "_score", import_module("killed").score_or_be_killed)
    table = tmp_path / "in.csv"
    table.write_text("id,text\n" + "".join(f'child {n},"{essay(n)}"\n' for n in range(2 * ROWS)))
    done = rk.batch(table, tmp_path / "out.csv", processes=TWO)
    assert (done.rows, done.left_out) == (2 * ROWS - 1, 1)
    (problem,) = rows_of(done.problems)
    assert problem["id"] == "child 25"
    assert problem["what is wrong"] == "the process that scored it was ended by the system"
    assert not multiprocessing.active_children()


def test_a_process_that_cannot_score_says_so_in_words() -> None:
    work = job(None, None, None)
    other = Job(None, None, "", "", {**work.versions, "spacy": "0.1"})
    with pytest.raises(BatchError, match=r"other versions than this machine: spacy .* \(ours: 0.1\)"):
        list(pool.in_processes(chunks(rows(3)), other, TWO))
    assert not multiprocessing.active_children()


@pytest.mark.slow
def test_processes_leave_when_the_one_that_started_them_is_gone(tmp_path: Path) -> None:
    process = started(many(tmp_path / "in.csv", 40 * ROWS), "--out", tmp_path / "out.csv", "--processes", TWO)
    wait_until(lambda: len(parts(tmp_path / "out.csv")) >= 1)
    workers = children(process.pid)
    assert len(workers) >= TWO
    process.kill()
    process.communicate(timeout=30)
    wait_until(lambda: not any(map(is_alive, workers)), 30)
