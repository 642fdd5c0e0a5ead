"""How steady the one reader is: old pieces offered to be marked again unseen, the pairs that come of it, and her
standards as learned from all she has marked.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from hashlib import sha256

from rubric_kit.errors import RecordsError
from rubric_kit.records.family import Family
from rubric_kit.records.pieces import Piece, pieces
from rubric_kit.records.rows import Mark
from rubric_kit.records.work import AGAIN, FIRST
from rubric_kit.scoring.standards import Standards, learn

FORGOTTEN_AFTER = 28  # days until a piece can be marked again as if new; common practice, no source
EVERY = 5  # pieces marked for each old one that is offered: enough for a few pairs a term, and no burden


@dataclass(frozen=True, slots=True)
class Pair:
    """One criterion of a piece as marked at first and again."""

    draft_id: int
    criterion: str
    first_on: date
    again_on: date
    first: int
    again: int


def offer(family: Family, today: date, *, now_and_then: bool = True) -> Piece | None:
    """An old piece to mark again unseen, or none: none is due, or none is old enough.

    now_and_then  only one for every five pieces marked; else any that is old enough

    Which one is drawn by lot, but the same one all day, whoever asks how often.
    """
    marked = [p for p in pieces(family) if p.mark is not None]
    again = [p for p in marked if family.marks.of(p.draft.id, AGAIN)]
    if now_and_then and len(marked) // EVERY <= len(again):
        return None
    done = {p.draft.id for p in again}
    old = [
        p for p in marked if p.draft.id not in done and p.mark and (today - p.mark.marked_on).days >= FORGOTTEN_AFTER
    ]
    return min(old, key=lambda p: sha256(f"{today} {p.draft.id}".encode()).digest(), default=None)


def mark_again(family: Family, draft_id: int, levels: dict[str, int], *, today: date) -> Mark:
    """Keep the levels of an old piece marked again; the grade stays with the first marking.

    Raises RecordsError for a piece that was never marked, or a level that cannot be.
    """
    if not family.marks.of(draft_id, FIRST):
        raise RecordsError(f"Draft {draft_id} was not marked yet, so it cannot be marked again.")
    return family.marks.add(draft_id, levels, marked_on=today, seen_proposal=False, occasion=AGAIN)


def pairs(family: Family) -> list[Pair]:
    """Every criterion that was marked twice: as it was before, and again; by the date of the second marking."""
    found = []
    for piece in pieces(family):
        for again in family.marks.of(piece.draft.id, AGAIN):
            before = [m for m in family.marks.of(piece.draft.id) if m.marked_on <= again.marked_on]
            if before:
                first, second = family.marks.levels(before[-1].id), family.marks.levels(again.id)
                dates = before[-1].marked_on, again.marked_on
                found += [Pair(piece.draft.id, c, *dates, first[c], second[c]) for c in first if c in second]
    return sorted(found, key=lambda pair: (pair.again_on, pair.draft_id))


def standards(family: Family) -> Standards:
    """What can be learned of the reader from the last draft marked of each task, against the proposal that it had."""
    marked = [p for p in pieces(family) if p.mark is not None and p.sheet is not None]
    latest = {p.assignment.id: p for p in sorted(marked, key=lambda p: p.draft.number)}.values()
    proposed = [_proposed(family, p) for p in latest]
    return learn([{c: (own, at[c]) for c, own in p.own.items()} for p, at in zip(latest, proposed, strict=True)])


def _proposed(family: Family, piece: Piece) -> dict[str, float]:
    """Scores before rounding, of the proposal that stood there when the piece was marked."""
    of_mark = piece.mark.sheet_id if piece.mark else None
    body = json.loads(family.sheets.get(of_mark).body) if of_mark else piece.body
    return {c["key"]: c["score"] for c in body["criteria"]}


def as_you_mark(family: Family, piece: Piece) -> dict[str, int]:
    """The levels that the reader would likely give a piece, by what was learned of her; {} where that is switched off
    (setting use_reader_standards), nothing is learned yet, or the piece has no proposal.
    """
    if not family.settings.get("use_reader_standards") or piece.sheet is None:
        return {}
    known = standards(family)
    if not known.offsets:
        return {}
    return {c["key"]: known.level(c["key"], c["score"]) for c in piece.body["criteria"]}
