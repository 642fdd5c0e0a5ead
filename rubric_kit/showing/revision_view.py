"""Two drafts side by side in the words and the order in which a person reads them; the pages and the terminal show it.

All text in a ``RevisionView`` is inert (showing/inert.py); lengths are not limited.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rubric_kit.scoring.changes import Change, Span
from rubric_kit.scoring.revision import MeasureMove, Revision
from rubric_kit.scoring.revision_feedback import revision_feedback
from rubric_kit.scoring.rubric import LEVEL_NAMES
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.scoring.steps_taken import StepTaken, figure
from rubric_kit.showing.inert import inert
from rubric_kit.showing.view import byline

LABELS = {
    "kept": "as it was",
    "rewritten": "rewritten",
    "added": "new",
    "cut": "cut",
    "moved": "moved",
    "split": "split",
    "joined": "joined",
}
WAYS = {1: "up", 0: "the same", -1: "down"}
CAUTION = (
    "Sentences are paired by the words that they share and by their order, not by what they mean: one that was said "
    "anew in other words shows as cut and new. Whether a step was taken is a hint: on drafts judged by hand it was "
    "right about six times in ten. You see what was meant."
)


@dataclass(frozen=True, slots=True)
class Bit:
    """Some characters; ``changed`` where they stand in one draft only."""

    text: str
    changed: bool


@dataclass(frozen=True, slots=True)
class Row:
    """What stands side by side; an empty side has no bits and paragraph 0.

    opens  the paragraph of the second draft that begins here, from 1; 0 where none does
    """

    kind: str
    label: str
    opens: int
    before: tuple[Bit, ...]
    after: tuple[Bit, ...]
    before_paragraph: int
    after_paragraph: int


@dataclass(frozen=True, slots=True)
class LevelRow:
    """A criterion's levels in words; ``way`` is up, down or the same."""

    name: str
    before: str
    after: str
    way: str


@dataclass(frozen=True, slots=True)
class StepRow:
    """A next step of the first draft, whether it was taken, and why that is said; ``sentence`` may be ""."""

    name: str
    step: str
    child: str
    taken: str
    why: str
    sentence: str


@dataclass(frozen=True, slots=True)
class MeasureRow:
    """A measure that moved, with its values in words."""

    name: str
    before: str
    after: str
    unit: str
    toward: str
    criteria: str


@dataclass(frozen=True, slots=True)
class RevisionView:
    """Everything that a page shows, in reading order."""

    title: str
    before_name: str
    after_name: str
    before_byline: str
    after_byline: str
    before_mark: str
    after_mark: str
    summary: tuple[str, ...]
    child: tuple[str, ...]
    levels: tuple[LevelRow, ...]
    steps: tuple[StepRow, ...]
    rows: tuple[Row, ...]
    measures: tuple[MeasureRow, ...]
    notes: tuple[str, ...]
    caution: str


def revision_view(revision: Revision) -> RevisionView:
    """The whole revision in words."""
    before, after = revision.before, revision.after
    told = revision_feedback(revision)
    return RevisionView(
        title=_title(after),
        before_name=inert(before.measures.essay.source),
        after_name=inert(after.measures.essay.source),
        before_byline=byline(before),
        after_byline=byline(after),
        before_mark=_mark(before),
        after_mark=_mark(after),
        summary=tuple(inert(line) for line in told.parent),
        child=tuple(inert(line) for line in told.child),
        levels=tuple(
            LevelRow(
                inert(m.name), _level(m.before), _level(m.after), WAYS[(m.after > m.before) - (m.after < m.before)]
            )
            for m in revision.levels
        ),
        steps=tuple(_step(step) for step in revision.steps),
        rows=_rows(revision.changes),
        measures=tuple(_measure(m) for m in revision.measures),
        notes=tuple(inert(note) for note in revision.notes),
        caution=CAUTION,
    )


def _title(sheet: ScoreSheet) -> str:
    title = sheet.measures.essay.title
    return " ".join(inert(title.text).split()) if title else inert(sheet.measures.essay.source)


def _mark(sheet: ScoreSheet) -> str:
    return f"{sheet.percent:g} out of 100, {inert(sheet.letter)}"


def _level(level: int) -> str:
    return f"{level} {LEVEL_NAMES[level]}"


def _step(step: StepTaken) -> StepRow:
    sentence = step.step.sentence.text if step.step.sentence else ""
    return StepRow(
        name=inert(step.name),
        step=inert(step.step.what),
        child=inert(step.step.child),
        taken=step.taken,
        why=inert(step.why),
        sentence=" ".join(inert(sentence).split()),
    )


def _measure(move: MeasureMove) -> MeasureRow:
    before, after = ("cannot say" if v is None else figure(v) for v in (move.before, move.after))
    criteria = inert(", ".join(move.criteria))
    return MeasureRow(move.measure.replace("_", " "), before, after, move.unit, move.toward, criteria)


def _rows(changes: Sequence[Change]) -> tuple[Row, ...]:
    rows, paragraph = [], 0
    for change in changes:
        opens = change.after[0].paragraph if change.after and change.after[0].paragraph != paragraph else 0
        paragraph = opens or paragraph
        rows.append(
            Row(
                kind=change.kind,
                label=_label(change),
                opens=opens,
                before=_bits(change.before, [e.before for e in change.edits], whole=change.kind == "cut"),
                after=_bits(change.after, [e.after for e in change.edits], whole=change.kind == "added"),
                before_paragraph=change.before[0].paragraph if change.before else 0,
                after_paragraph=change.after[0].paragraph if change.after else 0,
            )
        )
    return tuple(rows)


def _label(change: Change) -> str:
    if change.kind == "moved":
        was, now = change.before[0].paragraph, change.after[0].paragraph
        moved = "moved" if was == now else f"moved, was in paragraph {was}"
        return f"{moved}; rewritten" if change.edits else moved
    return LABELS[change.kind]


def _bits(sentences: Sequence[Span], edited: Iterable[Span], whole: bool) -> tuple[Bit, ...]:
    """The sentences cut where their words changed, with a space between two of them."""
    bits: list[Bit] = []
    changed = [span for span in edited if span.text]
    for number, sentence in enumerate(sentences):
        if number:
            bits.append(Bit(" ", False))
        spans = ((max(s.start, sentence.start), min(s.end, sentence.end)) for s in changed)
        marked = [(start, end) for start, end in spans if start < end]
        cuts = sorted({sentence.start, sentence.end, *(at for span in marked for at in span)})
        for start, end in pairwise(cuts):
            text = inert(sentence.text[start - sentence.start : end - sentence.start])
            bits.append(Bit(text, whole or any(s <= start and end <= e for s, e in marked)))
    return tuple(bits)
