"""Chunks are scored by processes of this machine: each loads the language model once, and has one chunk at a time."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from itertools import islice
from multiprocessing import resource_tracker
from multiprocessing.connection import Connection, wait

from rubric_kit.batching.job import Job
from rubric_kit.batching.rows import BatchError, Chunk

# One thread of arithmetic for each process: there is one for each core already.
ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "BLIS_NUM_THREADS")
TRIES = 2  # of an essay that a process was ended over


def in_processes(chunks: Iterator[Chunk], job: Job, processes: int) -> Iterator[tuple[int, bytes]]:
    """Number and lines of each chunk, as they are ready; at most one chunk for each process is in memory.

    Where a process is ended from outside, for want of memory perhaps, its chunk is done again, essay by essay.
    Raises BatchError where a process says that it cannot score at all.
    """
    first = list(islice(chunks, processes))
    busy: dict[Connection, tuple[_Process, Chunk]] = {}
    with ExitStack() as open_processes:

        def started() -> _Process:
            process = _Process(job)
            open_processes.callback(process.end)
            return process

        def give(process: _Process, chunk: Chunk) -> None:
            busy[process.connection] = process, chunk
            process.give(chunk)

        for process, chunk in zip([started() for _ in first], first, strict=True):
            give(process, chunk)
        while busy:
            for ready in wait(list(busy)):
                process, chunk = busy.pop(ready)  # type: ignore[call-overload]  # only connections are waited for
                lines = process.answer()
                if lines is None:
                    process.end()
                    lines, process = one_by_one(chunk, job), started()
                following = next(chunks, None)
                if following is None:
                    process.leave()
                else:
                    give(process, following)
                yield chunk.number, lines


def one_by_one(chunk: Chunk, job: Job) -> bytes:
    """The lines of a chunk that a process was ended over; an essay that ends two more is left out and told of."""
    from rubric_kit.batching.scored import lost

    lines = []
    process = _Process(job)
    try:
        for row in chunk.rows:
            for _ in range(TRIES):
                process.give(Chunk(chunk.number, (row,)))
                line = process.answer()
                if line is not None:
                    break
                process.end()
                process = _Process(job)
            lines.append(lost(row) if line is None else line)
    finally:
        process.end()
    return b"".join(lines)


class _Process:
    """A process that scores, and our end of the pipe to it. It leaves when the other end is closed, or we are gone."""

    def __init__(self, job: Job) -> None:
        spawning = multiprocessing.get_context("spawn")  # the same on every system, and nothing of ours is copied
        self.connection, theirs = spawning.Pipe()
        self._process = spawning.Process(target=_score, args=(theirs, job), daemon=True)
        with _without_interrupts():
            self._process.start()
        theirs.close()

    def give(self, chunk: Chunk) -> None:
        with suppress(OSError):  # it was ended, which its answer will say
            self.connection.send(chunk)

    def answer(self) -> bytes | None:
        """The lines of the chunk; None where the process was ended over it."""
        try:
            answer = self.connection.recv()
        except (EOFError, OSError):
            return None
        if isinstance(answer, bytes):
            return answer
        raise BatchError(answer)

    def leave(self) -> None:
        """Let go of it; to be called when it has nothing to do."""
        self.connection.close()

    def end(self) -> None:
        """End it, whatever it does; it may have ended before."""
        self.connection.close()
        self._process.kill()
        self._process.join()


@contextmanager
def _without_interrupts() -> Iterator[None]:
    """Processes started here never see Ctrl-C, which a terminal sends to all: it waits until it can be for us alone."""
    if not hasattr(signal, "pthread_sigmask"):  # Windows
        yield
        return
    resource_tracker.ensure_running()  # which would let signals through again if it were started in between
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _score(connection: Connection, job: Job) -> None:
    """What the process does: take a chunk, give its lines back, or say in words why it cannot."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    os.environ.update(dict.fromkeys(ONE_THREAD, "1"))
    from rubric_kit.batching.scored import scored
    from rubric_kit.errors import RubricKitError

    with suppress(EOFError, OSError):  # nobody is at the other end any more
        while True:
            chunk = connection.recv()
            try:
                answer: bytes | str = scored(chunk, job)
            except RubricKitError as error:
                answer = str(error)
            connection.send(answer)
