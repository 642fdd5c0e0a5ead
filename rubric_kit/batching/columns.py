"""The columns of the results: which, of what kind, and what stands in them for one essay."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.metadata import version
from typing import NamedTuple

from rubric_kit.batching.rows import Row
from rubric_kit.measures.measured import FAMILIES
from rubric_kit.scoring.sheet import ScoreSheet

TEXT, WHOLE, NUMBER = "text", "whole", "number"
Value = str | int | float | None


class Column(NamedTuple):
    """A name, and what is in it: text, whole numbers or numbers."""

    name: str
    kind: str


ABOUT = (
    Column("row", WHOLE),
    Column("id", TEXT),
    Column("grade", WHOLE),
    Column("form", TEXT),
    Column("rubric", TEXT),
    Column("rubric_version", WHOLE),
    Column("rubric_kit", TEXT),
    Column("percent", NUMBER),
    Column("letter", TEXT),
    Column("paragraphs", WHOLE),
    Column("sentences", WHOLE),
    Column("words", WHOLE),
)
OF_CRITERION = {"level": WHOLE, "score": NUMBER, "sure": NUMBER}
MEASURES = tuple(name for table in FAMILIES.values() for name in table)


def columns(criteria: Sequence[str]) -> list[Column]:
    """What the essay is and its counts; level, score and sure of each criterion; every measure; the cautions."""
    return [
        *ABOUT,
        *(Column(f"{what}_{key}", kind) for key in criteria for what, kind in OF_CRITERION.items()),
        *(Column(name, NUMBER) for name in MEASURES),
        Column("cautions", TEXT),
    ]


def values(row: Row, sheet: ScoreSheet, criteria: Sequence[str]) -> list[Value]:
    """What stands in the columns; None where the rubric has no such criterion or a measure cannot be said."""
    measured = sheet.measures
    scores = {score.key: score for score in sheet.criteria}
    return [
        row.number,
        row.id,
        sheet.grade,
        measured.form,
        sheet.rubric.name,
        sheet.rubric.version,
        version("rubric-kit"),
        sheet.percent,
        sheet.letter,
        len(measured.essay.paragraphs),
        len(measured.essay.sentences),
        measured.counts.words,
        *(getattr(scores.get(key), what, None) for key in criteria for what in OF_CRITERION),
        *(_number(measured[name].value) for name in MEASURES),
        " ".join(sheet.cautions),
    ]


def _number(value: float | None) -> float | None:
    """Some measures are whole numbers: in a table all are written alike."""
    return None if value is None else float(value)
