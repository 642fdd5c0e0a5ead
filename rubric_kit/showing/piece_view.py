"""A piece of the records on a terminal: whose it is, the proposed levels, and the reader's own beside them."""

from __future__ import annotations

from collections.abc import Mapping

from rubric_kit.records.pieces import Piece
from rubric_kit.records.rows import Conference
from rubric_kit.scoring.rubric import LEVEL_NAMES, Rubric
from rubric_kit.showing.inert import short
from rubric_kit.showing.lines import Lines

NAME = 40  # characters of a name or title in a heading


def called(piece: Piece) -> str:
    """A piece in a few words: "Wren, Treasure Island, draft 1"."""
    return f"{short(piece.student.name, NAME)}, {short(piece.task.title, NAME)}, draft {piece.draft.number}"


def print_piece(piece: Piece, rubric: Rubric) -> None:
    """Whose it is and when, the levels, the percent that counts, and the reader's comment."""
    out = Lines()
    out.say(called(piece), "bold")
    received = f"{piece.draft.file_name}, handed in {piece.date}"
    out.say(received + (f", marked {piece.mark.marked_on}" if piece.mark else ", not marked"), "dim")
    out.blank()
    print_levels(rubric, proposed=piece.proposed, own=piece.own)
    if piece.percent is not None:
        whose = "yours" if piece.own else "proposed"
        out.say(f"{piece.percent:g} out of 100, {rubric.letter_for(piece.percent)} ({whose})", "bold")
    if piece.mark and piece.mark.comment:
        out.say(f"Your comment: {piece.mark.comment}")


def print_levels(rubric: Rubric, **by: Mapping[str, int]) -> None:
    """A row for each criterion, a column for each set of levels that is not empty."""
    heads = {"proposed": "proposed", "as_you_mark": "as you mark", "own": "yours", "first": "at first", "again": "now"}
    shown = {heads[name]: levels for name, levels in by.items() if levels}
    rows = [(c.name, *(_level(levels.get(c.key)) for levels in shown.values())) for c in rubric.criteria]
    if shown:
        Lines().table(("criterion", *shown), rows)


def print_own_levels(rubric: Rubric, first: Piece, last: Piece) -> None:
    """The reader's levels of two drafts with the proposed ones in brackets; nothing unless both are marked."""
    if not (first.own and last.own):
        return
    out = Lines()
    out.heading("Your own levels, and in brackets the proposed ones")
    rows = [
        (c.name, *(_beside(each.own.get(c.key), each.proposed.get(c.key)) for each in (first, last)))
        for c in rubric.criteria
    ]
    out.table(("criterion", "first draft", "second draft"), rows)
    if first.percent is not None and last.percent is not None:
        out.say(f"All in all from {first.percent:g} to {last.percent:g} out of 100 (yours)", "bold")


def print_conference(conference: Conference, about: Piece) -> None:
    """A talk about a piece: what was said, line by line."""
    out = Lines()
    out.say(f"{conference.id}. {conference.held_on}: {called(about)}", "bold")
    said = {"worked": "Worked", "next_step": "Next step", "goal": "Goal", "outcome": "What became of it"}
    for name, label in said.items():
        text = getattr(conference, name)
        if text:
            out.say(f"{label}: {text}", indent=2)


def _beside(own: int | None, proposed: int | None) -> str:
    return _level(own) if proposed is None else f"{_level(own) or '–'} ({proposed})"


def _level(level: int | None) -> str:
    return "" if level is None else f"{level} {LEVEL_NAMES[level]}"
