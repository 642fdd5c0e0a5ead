"""A chunk of rows becomes lines of JSON, one a row: what goes into the results, or what is wrong and what to do.

This is all that a process or a cluster's worker does. Numbers are written so that they are read back to the last bit.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from os.path import splitext
from threading import Lock
from typing import Any

from rubric_kit.batching.columns import values
from rubric_kit.batching.job import Job, versions
from rubric_kit.batching.rows import BatchError, Chunk, Row
from rubric_kit.errors import RubricKitError
from rubric_kit.reading import Essay, read_bytes, read_text
from rubric_kit.scoring.rubric import GRADES
from rubric_kit.scoring.rubric_file import FORMS
from rubric_kit.scoring.score import HandedIn, score, score_many
from rubric_kit.scoring.sheet import ScoreSheet

WHOLE_NUMBER = re.compile(r"([0-9]{1,3})(?:\.0+)?")  # 8, or 8.0 as some tables have it
SOURCE = "essay"  # what errors call every essay: which it is stands beside them
PARSER = Lock()  # a cluster's worker may have several threads, and the parser is for one


class RowError(RubricKitError):
    """A row cannot be scored as it stands."""


def scored(chunk: Chunk, job: Job) -> bytes:
    """Lines of JSON in the order of the rows. Raises BatchError for other versions here than the job's."""
    if job.versions != versions():
        raise BatchError(_other_versions(job))
    try:
        with PARSER:
            return "".join(f"{json.dumps(line)}\n" for line in _lines(chunk, job)).encode()
    except RubricKitError:
        raise
    except Exception as error:
        rows = f"rows {chunk.rows[0].number} to {chunk.rows[-1].number}"
        what = f"{type(error).__name__}: {error}"
        raise BatchError(f"rubric-kit failed on {rows} ({what}). Please report this line.") from error


def lost(row: Row) -> bytes:
    """The line of a row that a process was twice ended over."""
    wrong = "the process that scored it was ended by the system. Hand it in alone, and with more memory"
    return f"{json.dumps(_line(row, RowError(wrong), ()))}\n".encode()


def _lines(chunk: Chunk, job: Job) -> Iterator[dict[str, Any]]:
    criteria = job.criteria()
    handed_in = [_handed_in(row, job) for row in chunk.rows]
    sheets = iter(_sheets([each for each in handed_in if isinstance(each, HandedIn)]))
    for row, each in zip(chunk.rows, handed_in, strict=True):
        yield _line(row, next(sheets) if isinstance(each, HandedIn) else each, criteria)


def _handed_in(row: Row, job: Job) -> HandedIn | Exception:
    try:
        if row.wrong:
            raise RowError(row.wrong)
        grade, form = _grade(row.grade), _form(row.form)
        return HandedIn(_essay(row), grade or job.grade, form or job.form, job.own_rubric())
    except Exception as error:  # a fault of ours in one essay must not cost the others
        return error


def _essay(row: Row) -> Essay:
    return read_bytes(row.data, SOURCE + splitext(row.id)[1]) if row.data else read_text(row.text, SOURCE)


def _grade(written: str) -> int | None:
    if not written:
        return None
    match = WHOLE_NUMBER.fullmatch(written)
    if not match or int(match[1]) not in GRADES:
        raise RowError(f"its grade is {written[:40]!r}. Write a number from {GRADES[0]} to {GRADES[-1]}, or nothing.")
    return int(match[1])


def _form(written: str) -> str | None:
    form = written.lower()
    if form and form not in FORMS:
        raise RowError(f"its form is {written[:40]!r}. Write one of {', '.join(FORMS)}, or nothing.")
    return form or None


def _sheets(handed_in: Sequence[HandedIn]) -> Sequence[ScoreSheet | Exception]:
    try:
        return list(score_many(handed_in))
    except RubricKitError:  # the language model, say: no essay is at fault
        raise
    except Exception:  # of one of them, so each alone
        return list(_one_by_one(handed_in))


def _one_by_one(handed_in: Sequence[HandedIn]) -> Iterator[ScoreSheet | Exception]:
    for each in handed_in:
        try:
            yield score(*each)
        except Exception as error:
            yield error


def _line(row: Row, outcome: ScoreSheet | Exception, criteria: Sequence[str]) -> dict[str, Any]:
    if isinstance(outcome, ScoreSheet):
        return {"row": row.number, "values": values(row, outcome, criteria)}
    wrong, do = _in_words(row, outcome)
    return {"row": row.number, "id": row.id, "wrong": wrong, "do": do}


def _in_words(row: Row, error: Exception) -> tuple[str, str]:
    """What is wrong, and what to do: in that order and in sentences of their own, as all our errors have it."""
    if not isinstance(error, RubricKitError | ValueError):
        return f"rubric-kit failed on it ({type(error).__name__}: {error})", "Please report this line."
    message = str(error).removeprefix(f"{SOURCE}{splitext(row.id)[1] if row.data else ''}: ")
    wrong, _, do = message.partition(". ")
    return wrong, f"{do.removesuffix('.')}." if do else ""


def _other_versions(job: Job) -> str:
    here = versions()
    other = [f"{k} {here.get(k, 'not there')} (ours: {v})" for k, v in job.versions.items() if here.get(k) != v]
    return f"A worker has other versions than this machine: {', '.join(other)}. Install the same on both."
