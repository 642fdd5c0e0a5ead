"""The grade of one draft: what its levels are worth on its rubric, down to the sentences behind each level."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Any

from rubric_kit.records.family import Family
from rubric_kit.records.pieces import Piece
from rubric_kit.records.rows import KeptRubric, Sheet
from rubric_kit.records.worked import Grade, Worked, exact, figure, letter_for, mean, plain
from rubric_kit.scoring.rubric import LEVEL_NAMES, Criterion, Rubric
from rubric_kit.scoring.rubric_file import parse_rubric, shipped

PROPOSED = "provisional, from the proposal: the grade is yours to give"
RUBRICS = 32  # kept parsed: a family has few, and each takes as long to parse as all the rest of a piece's grade

Scored = Mapping[str, Mapping[str, Any]]  # the criteria of a proposal by key, as scoring/as_json.py writes them


def piece_grade(family: Family, piece: Piece) -> Grade:
    """The grade of one draft, nothing taken off: the parent's levels, where one lacks the proposed one, and says so.

    The letter is the rubric's own.
    """
    sheet = _sheet_of(family, piece)
    rubric = _rubric_of(family, piece, sheet)
    worked, provisional = _draft(piece, rubric, _criteria_of(piece, sheet))
    letter = "" if worked.value is None else letter_for([(name, least) for least, name in rubric.letters], worked.value)
    graded = int(worked.value is not None)
    return Grade("piece", piece.task.title, piece.student.name, worked.value, letter, provisional, graded, (), worked)


def of_levels(rubric: Rubric, levels: Mapping[str, int]) -> tuple[Fraction, str]:
    """What levels by criterion key are worth, and its arithmetic: each level's percent by the criterion's weight."""
    return mean([(exact(c.weight), exact(rubric.percent[levels[c.key]])) for c in rubric.criteria])


def _draft(piece: Piece, rubric: Rubric, scored: Scored) -> tuple[Worked, bool]:
    """A draft's percent by its levels, and whether any of them is only proposed."""
    levels = {key: int(criterion["level"]) for key, criterion in scored.items()} | dict(piece.own)
    parts = tuple(_criterion(rubric, c, piece.own.get(c.key), scored.get(c.key)) for c in rubric.criteria)
    name = f"draft {piece.draft.number}, handed in {piece.date}"
    if any(c.key not in levels for c in rubric.criteria):
        return Worked(f"{name}: no level yet for every criterion", None, parts), True
    value, sum_ = of_levels(rubric, levels)
    proposed = [c.name for c in rubric.criteria if c.key not in piece.own]
    whose = f" ({PROPOSED})" if not piece.own else f" ({', '.join(proposed)}: {PROPOSED})" if proposed else ""
    comment = (Worked(f"your comment: {piece.mark.comment}"),) if piece.mark and piece.mark.comment else ()
    return Worked(f"{name}: weights x percent of the levels, {sum_}{whose}", value, parts + comment), bool(proposed)


def _criterion(rubric: Rubric, criterion: Criterion, own: int | None, scored: Mapping[str, Any] | None) -> Worked:
    proposed = int(scored["level"]) if scored else None
    level = own or proposed
    if level is None:
        return Worked(f"{criterion.name}: no level yet")
    worth = exact(rubric.percent[level])
    source = "the proposed level" if own is None else "your level"
    beside = f"; proposed was {proposed}" if own and proposed and own != proposed else ""
    text = (
        f"{criterion.name}, weight {plain(exact(criterion.weight))}: {source} {level} ({LEVEL_NAMES[level]}) "
        f"is worth {figure(worth)}{beside}. {criterion.descriptors[level]}"
    )
    return Worked(text, worth, tuple(_reasons(scored)) if scored else ())


def _reasons(scored: Mapping[str, Any]) -> Iterator[Worked]:
    """What the sheet said for its own level, and the sentences that it rests on, each quoted once."""
    quoted: dict[str, tuple[int, list[str]]] = {}
    for found in scored["evidence"]:
        quoted.setdefault(found["text"], (found["paragraph"], []))[1].append(found["why"])
    sentences = tuple(
        Worked(f"“{text}” (paragraph {paragraph}): {'; '.join(dict.fromkeys(whys))}")
        for text, (paragraph, whys) in quoted.items()
    )
    because = " ".join(scored["reasons"]) or "The whole piece."
    yield Worked(f"the sheet proposed level {scored['level']}: {because}", None, sentences)


def _sheet_of(family: Family, piece: Piece) -> Sheet | None:
    """The proposal that the mark was made beside, else the latest."""
    beside = family.database.rows(Sheet, "id = ?", [piece.mark.sheet_id]) if piece.own and piece.mark else []
    return beside[0] if beside else piece.sheet


def _criteria_of(piece: Piece, sheet: Sheet | None) -> Scored:
    if sheet is None:
        return {}
    body = piece.body if piece.sheet and sheet.id == piece.sheet.id else json.loads(sheet.body)
    return {criterion["key"]: criterion for criterion in body["criteria"]}


def _rubric_of(family: Family, piece: Piece, sheet: Sheet | None) -> Rubric:
    """The rubric of the proposal; a piece that was marked without one goes by the rubric of its task."""
    kept_id = sheet.rubric_id if sheet else piece.assignment.rubric_id
    if kept_id is None:
        return _parsed(shipped(piece.assignment.form), f"{piece.assignment.form}.toml")
    kept = family.database.row(KeptRubric, kept_id)
    return _parsed(kept.text, kept.name)


@lru_cache(RUBRICS)
def _parsed(text: str, name: str) -> Rubric:
    return parse_rubric(text, name)
