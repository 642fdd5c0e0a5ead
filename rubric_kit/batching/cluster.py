"""Chunks are scored by the workers of a Dask cluster; a worker that is lost costs only time."""

from __future__ import annotations

import logging
import re
import warnings
from collections.abc import Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from importlib import import_module
from itertools import islice
from threading import Thread
from typing import Any

from rubric_kit.batching.job import Job
from rubric_kit.batching.pool import one_by_one
from rubric_kit.batching.rows import BatchError, Chunk
from rubric_kit.errors import RubricKitError

AHEAD = 2  # chunks for each thread of a worker: one at work, one waiting, so that none stands idle
ANSWER = 10  # seconds for the scheduler to answer, and for a first worker to be there
ADDRESS = re.compile(r"(?:tcp|tls|wss?|ucx)://\S+:\d+/?")
INSTALL = "A cluster needs the library distributed. Run: pip install 'rubric-kit[cluster]'"
RESUME = "What is done is kept: run the same command again to go on"


def on_cluster(chunks: Iterator[Chunk], job: Job, address: str) -> Iterator[tuple[int, bytes]]:
    """Number and lines of each chunk, as they are ready; a few chunks for each worker are in memory.

    A chunk whose workers were ended again and again is done here, essay by essay. Raises BatchError where the cluster
    cannot be reached, has other versions than we, or is gone.
    """
    from rubric_kit.batching.scored import scored

    with _connected(address) as (client, distributed):
        at_work: dict[str, Chunk] = {}

        def submit(number: int) -> list[Any]:
            futures = []
            for chunk in islice(chunks, number):
                future = client.submit(scored, chunk, job, pure=False)
                at_work[future.key] = chunk
                futures.append(future)
            return futures

        ready = distributed.as_completed(submit(_room(client)), loop=client.loop)
        for future in ready:
            chunk = at_work.pop(future.key)
            lines = _lines(future, chunk, job, distributed)
            future.release()
            for following in submit(max(0, _room(client) - len(at_work))):
                ready.add(following)
            yield chunk.number, lines


def _room(client: Any) -> int:
    """How many chunks may be on the cluster: workers come and go."""
    threads: dict[str, int] = client.nthreads()
    return AHEAD * max(1, sum(threads.values()))


def _lines(future: Any, chunk: Chunk, job: Job, distributed: Any) -> bytes:
    try:
        lines: bytes = future.result()
    except distributed.KilledWorker:
        return one_by_one(chunk, job)
    except RubricKitError:
        raise
    except ImportError as error:
        raise BatchError(f"A worker of the cluster lacks something ({error}). Install rubric-kit there.") from error
    return lines


def _client(address: str, distributed: Any) -> Any:
    """In a thread, since the library waits for ever for what takes a connection but is no scheduler."""
    answered: Future[Any] = Future()

    def connect() -> None:
        try:
            answered.set_result(distributed.Client(address, timeout=ANSWER, set_as_default=False))
        except BaseException as error:  # all of them go to the thread that waits
            answered.set_exception(error)

    Thread(target=connect, daemon=True).start()
    return answered.result(2 * ANSWER)


@contextmanager
def _connected(address: str) -> Iterator[tuple[Any, Any]]:
    if not ADDRESS.fullmatch(address):
        raise BatchError(f"{address!r} is no address of a cluster. Write it as tcp://host:8786 or tls://host:8786.")
    try:
        distributed: Any = import_module("distributed")
    except ImportError as error:
        raise BatchError(f"{INSTALL}.") from error
    logging.getLogger("distributed").setLevel(logging.CRITICAL)  # what goes wrong is told by us
    warnings.filterwarnings("ignore", module="distributed")
    try:
        client = _client(address, distributed)
    except (OSError, ValueError, TypeError, RuntimeError) as error:
        what = f"no cluster answers there ({_in_words(error)})"
        raise BatchError(f"{address}: {what}. Check the address of its scheduler.") from error
    try:
        _wait_for_a_worker(client, address)
        yield client, distributed
    except (RubricKitError, KeyboardInterrupt, GeneratorExit):
        raise
    except Exception as error:  # of a connection that breaks, its library raises almost anything
        raise BatchError(f"{address}: the cluster failed ({_in_words(error)}). {RESUME}.") from error
    finally:
        client.close(timeout=ANSWER)


def _wait_for_a_worker(client: Any, address: str) -> None:
    try:
        client.wait_for_workers(1, timeout=ANSWER)
    except TimeoutError as error:
        raise BatchError(f"{address}: the cluster has no workers. Start some: dask worker {address}") from error


def _in_words(error: Exception) -> str:
    return ": ".join([type(error).__name__, *str(error).splitlines()[:1]])
