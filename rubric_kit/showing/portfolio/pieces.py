"""Pieces in full, with the parent's levels and comment, what she said in talks, and what the program suggests."""

from __future__ import annotations

from collections.abc import Sequence

from rubric_kit.errors import RubricKitError
from rubric_kit.reading import Essay
from rubric_kit.records.pieces import Piece
from rubric_kit.records.rows import Conference
from rubric_kit.scoring.feedback import feedback
from rubric_kit.scoring.rubric import LEVEL_NAMES, Rubric
from rubric_kit.scoring.rubric_file import parse_rubric
from rubric_kit.showing.counting import judged, number
from rubric_kit.showing.marked import marked_essay
from rubric_kit.showing.portfolio.material import Material
from rubric_kit.showing.portfolio.names import Names
from rubric_kit.showing.portfolio.views import Block, LevelView, PieceView
from rubric_kit.showing.portfolio.words import day_in_words, grade_in_words, words

SAID_TO_WRITER = ("worked", "next_step", "goal")  # of a talk
WORKED, TRY_NEXT = "What worked: ", "Try this next. "  # how the lines of scoring/feedback.py begin

Chosen = tuple[Piece, str]  # and why it was chosen


class UnknownPieceError(RubricKitError, ValueError):
    """A piece that is none of the child's in that school year."""


def chosen(material: Material, wanted: Sequence[int] | None) -> list[Chosen]:
    """The pieces of these draft numbers by date, or the first, middle and last of the year's last drafts.

    Raises UnknownPieceError.
    """
    named = words()["chosen"]
    if wanted is None:
        rows = material.last_drafts
        places = {len(rows) // 2: "middle", len(rows) - 1: "last", 0: "first"} if rows else {}
        return [(rows[place], named[why]) for place, why in sorted(places.items())]
    unknown = set(wanted) - {piece.draft.id for piece in material.drafts}
    if unknown:
        known = ", ".join(f"{p.draft.id} ({p.task.title})" for p in material.drafts) or "none"
        raise UnknownPieceError(
            f"{material.student.name} has no draft number {min(unknown)} in this school year. There are: {known}."
        )
    return [(piece, named["other"]) for piece in material.drafts if piece.draft.id in wanted]


def piece_view(chosen_piece: Chosen, material: Material) -> PieceView:
    """One of them. Raises RecordsError where its file is gone or was changed."""
    piece, why = chosen_piece
    names, essay = material.names, material.family.drafts.essay(piece.draft)
    talked = material.family.conferences.of_student(material.student.id)
    talks = [talk for talk in talked if talk.draft_id == piece.draft.id]
    told, told_note = suggested(piece, material)
    comment = piece.mark.comment if piece.mark else ""
    book = [names(piece.book.title)] if piece.book and piece.book.title != piece.task.title else []
    about = (
        f"for the task {piece.task.title}",
        *book,
        names(piece.form),
        grade_in_words(piece.grade),
        f"draft {piece.draft.number}, handed in {day_in_words(piece.date)}",
    )
    return PieceView(
        why=why,
        title=names(essay.title.text) if essay.title else piece.task.title,
        about=" · ".join(about),
        text=_text(essay, names),
        levels_note=_levels_note(piece),
        levels=_levels(piece, material),
        grade=names(_grade(piece)),
        comment=names(comment),
        talk=tuple(
            (words()["conferences"][name], names(text))
            for talk in talks
            for name in SAID_TO_WRITER
            if (text := getattr(talk, name))
        ),
        told=_not_said(told, talks),
        told_note=told_note,
    )


def suggested(piece: Piece, material: Material) -> tuple[tuple[str, ...], str]:
    """What the program would say to the child, by the levels that count; or why there is none."""
    try:
        sheet = material.family.sheets.score(piece.draft)
    except RubricKitError as error:
        return (), material.names(words()["levels"]["unscored"].format(why=error))
    return tuple(map(material.names, feedback(judged(sheet, piece.own)).child)), ""


def rubric_of(piece: Piece, material: Material) -> Rubric:
    """The rubric of the proposal; of a piece that was marked without one, the rubric of its task."""
    if piece.rubric is not None:
        return piece.rubric
    name, text = material.family.sheets.rubric_for(piece.draft)
    return parse_rubric(text, name)


def _text(essay: Essay, names: Names) -> tuple[Block, ...]:
    """Everything the child wrote, in order."""
    blocks = []
    for block in marked_essay(essay, ()):
        lines = ["".join(piece.text for piece in line.pieces) for line in block.lines]
        if block.kind == "heading":
            blocks.append(Block(block.kind, tuple(map(names.heading, lines))))
        else:
            whole = ["".join(lines)] if block.kind == "paragraph" else lines
            blocks.append(Block(block.kind, tuple(map(names, whole))))
    return tuple(blocks)


def _not_said(told: Sequence[str], talks: Sequence[Conference]) -> tuple[str, ...]:
    """The suggestions without those in whose place the parent said something of her own."""
    worked = any(talk.worked for talk in talks)
    next_one = any(talk.next_step or talk.goal for talk in talks)
    return tuple(
        line
        for line in told
        if not (worked and line.startswith(WORKED)) and not (next_one and line.startswith(TRY_NEXT))
    )


def _levels(piece: Piece, material: Material) -> tuple[LevelView, ...]:
    levels = {**piece.proposed, **piece.own}
    return tuple(
        LevelView(
            criterion=material.names(criterion.name),
            level=levels[criterion.key],
            level_name=LEVEL_NAMES[levels[criterion.key]],
            descriptor=material.names(criterion.descriptors[levels[criterion.key]]),
            whose="" if criterion.key in piece.own else "proposed",
        )
        for criterion in rubric_of(piece, material).criteria
        if criterion.key in levels
    )


def _levels_note(piece: Piece) -> str:
    say = words()["levels"]
    if piece.mark and piece.own:
        kind = "own" if piece.proposed.keys() <= piece.own.keys() else "partly"
        return say[kind].format(day=day_in_words(piece.mark.marked_on))
    return say["proposed" if piece.proposed else "none"]


def _grade(piece: Piece) -> str:
    """The percent of this draft by its rubric."""
    if piece.percent is None or piece.rubric is None:
        return ""
    whose = "" if piece.own else " (proposed)"
    return f"{number(piece.percent)} out of 100, {piece.rubric.letter_for(piece.percent)}{whose}"
