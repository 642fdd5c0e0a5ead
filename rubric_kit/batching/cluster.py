"""Chunks are scored by the workers of a Dask cluster; a worker that is lost costs only time."""

from __future__ import annotations

import logging
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from itertools import islice
from typing import Any

from rubric_kit.batching.job import Job
from rubric_kit.batching.pool import one_by_one
from rubric_kit.batching.rows import BatchError, Chunk
from rubric_kit.errors import RubricKitError

AHEAD = 2  # chunks for each thread of a worker: one at work, one waiting, so that none stands idle
ANSWER = 20  # seconds for the scheduler to answer, and for a first worker to be there
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


@contextmanager
def _connected(address: str) -> Iterator[tuple[Any, Any]]:
    try:
        distributed: Any = import_module("distributed")
    except ImportError as error:
        raise BatchError(f"{INSTALL}.") from error
    logging.getLogger("distributed").setLevel(logging.CRITICAL)  # what goes wrong is told by us
    warnings.filterwarnings("ignore", module="distributed")
    try:
        client = distributed.Client(address, timeout=ANSWER, set_as_default=False)
    except (OSError, ValueError, TypeError, RuntimeError) as error:
        raise BatchError(
            f"{address}: no cluster answers there ({error}). Check the address of its scheduler."
        ) from error
    try:
        client.wait_for_workers(1, timeout=ANSWER)
        yield client, distributed
    except TimeoutError as error:
        raise BatchError(f"{address}: the cluster has no workers. Start some: dask worker {address}") from error
    except (RubricKitError, KeyboardInterrupt, GeneratorExit):
        raise
    except Exception as error:  # of a connection that breaks, its library raises almost anything
        what = ": ".join([type(error).__name__, *str(error).splitlines()[:1]])
        raise BatchError(f"{address}: the cluster failed ({what}). {RESUME}.") from error
    finally:
        client.close(timeout=ANSWER)
