"""Which pieces of one child may stand on one line."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from math import isfinite
from typing import NamedTuple

from rubric_kit.growth.trend import Trend, fewest, trend


class Piece(NamedTuple):
    """One piece of one child: when, in which form, at which grade, and its value (a level or a measure; None where it
    could not be said).
    """

    date: date
    form: str
    grade: int
    value: float | None


@dataclass(frozen=True, slots=True)
class Comparable:
    """Pieces by form, most pieces first, each group in order of date.

    groups    the forms with enough pieces for a trend
    left_out  the other pieces
    notes     what was left out and why, and what else to keep in mind, in words
    """

    groups: Mapping[str, tuple[Piece, ...]]
    left_out: tuple[Piece, ...]
    notes: tuple[str, ...]

    def trends(self) -> dict[str, Trend]:
        """The trend of each form."""
        return {
            form: trend([piece.date for piece in group], [piece.value for piece in group if piece.value is not None])
            for form, group in self.groups.items()
        }


def comparable(pieces: Iterable[Piece]) -> Comparable:
    """Sort one child's pieces into groups that may be compared: each form has its own line, as a paragraph and a
    five-paragraph essay ask for different things. Never put the pieces of two children in, and of
    each task the same draft only (all first ones, or all last ones): drafts of one task are no separate pieces.
    """
    ordered = sorted(pieces, key=lambda piece: (piece.date, piece.form))
    valued = [piece for piece in ordered if piece.value is not None and isfinite(piece.value)]
    by_form: dict[str, list[Piece]] = {}
    for piece in valued:
        by_form.setdefault(piece.form, []).append(piece)
    by_size = sorted(by_form.items(), key=lambda item: (-len(item[1]), item[0]))
    groups = {form: tuple(group) for form, group in by_size if len(group) >= fewest()}
    few = [(form, len(group)) for form, group in by_size if form not in groups]
    kept = {id(piece) for group in groups.values() for piece in group}
    notes = [f"{form}: {_pieces(n)}, too few for a line of its own (it wants {fewest()})." for form, n in few]
    if len(ordered) > len(valued):
        notes.append(f"{_pieces(len(ordered) - len(valued))} without a value left out.")
    notes += [note for form, group in groups.items() if (note := _grades(form, group))]
    return Comparable(groups, tuple(piece for piece in ordered if id(piece) not in kept), tuple(notes))


def _pieces(n: int) -> str:
    return f"{n} piece{'s' * (n != 1)}"


def _grades(form: str, group: tuple[Piece, ...]) -> str:
    grades = [piece.grade for piece in group]
    if len(set(grades)) == 1:
        return ""
    return (
        f"{form}: pieces of grades {min(grades)} to {max(grades)} together. A level is judged by what its grade "
        "expects, so a step up a grade can look like a fall."
    )
