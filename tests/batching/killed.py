"""Scoring that ends its process over one essay, as the system does where memory is short. Imported by processes."""

from __future__ import annotations

import os
import signal
from multiprocessing.connection import Connection

from rubric_kit.batching import pool, scored
from rubric_kit.batching.job import Job
from rubric_kit.batching.rows import Chunk

OVER = "child 25"
whole_score, whole_scored = pool._score, scored.scored


def scored_or_killed(chunk: Chunk, work: Job) -> bytes:
    if any(row.id == OVER for row in chunk.rows):
        os.kill(os.getpid(), signal.SIGKILL)
    return whole_scored(chunk, work)


def score_or_be_killed(connection: Connection, work: Job) -> None:
    scored.scored = scored_or_killed
    whole_score(connection, work)
