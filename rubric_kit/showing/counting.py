"""The reader's own levels on a score sheet: what counts, whose it is, and what was proposed beside it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.inert import inert

PROPOSED = "a proposal: your own levels are final"
NOT_ALL = "a proposal: not every criterion has a level of yours"


@dataclass(frozen=True, slots=True)
class Counting:
    """The percent and letter that count; ``whose`` says whether they are the reader's, with the proposal beside."""

    percent: str
    letter: str
    whose: str


def counting(sheet: ScoreSheet, own: Mapping[str, int]) -> Counting:
    """The reader's, where each criterion has a level of hers by its key; else the proposal's."""
    proposed = Counting(number(sheet.percent), inert(sheet.letter), NOT_ALL if own else PROPOSED)
    if any(c.key not in own for c in sheet.rubric.criteria):
        return proposed
    percent = sheet.rubric.percent_for(own)
    whose = f"yours; proposed: {proposed.percent}, {proposed.letter}"
    return Counting(number(percent), inert(sheet.rubric.letter_for(percent)), whose)


def judged(sheet: ScoreSheet, own: Mapping[str, int]) -> ScoreSheet:
    """The sheet with the reader's own levels, by criterion key, in the place of the proposed ones."""
    levels = tuple(replace(c, level=own[c.key], score=float(own[c.key])) if c.key in own else c for c in sheet.criteria)
    return replace(sheet, criteria=levels)


def number(value: float) -> str:
    """One decimal, none where it is zero."""
    return f"{value:.1f}".removesuffix(".0")
