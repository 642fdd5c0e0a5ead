"""What there is to talk about with a child: what grew, a line that works, one next step, earlier goals."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from rubric_kit.measures.found import Found
from rubric_kit.reading import Essay
from rubric_kit.records.family import Family
from rubric_kit.records.pieces import Piece, piece, pieces
from rubric_kit.records.rows import Conference
from rubric_kit.scoring.feedback import Strength, next_steps, strengths
from rubric_kit.scoring.sheet import NextStep, ScoreSheet
from rubric_kit.showing.charts import Chart
from rubric_kit.showing.charts.tables import levels_table, terms_table
from rubric_kit.showing.conference.grown import grown
from rubric_kit.showing.counting import judged
from rubric_kit.showing.inert import inert, short

SENTENCE = 220  # characters of the child's sentence, so that a run-on of a whole page leaves room for the rest
TITLE = 60  # characters


@dataclass(frozen=True, slots=True)
class Earlier:
    """A goal from an earlier talk, and what became of it."""

    id: int
    day: date
    about: str
    goal: str
    outcome: str


@dataclass(frozen=True, slots=True)
class Talk:
    """All text is inert (showing/inert.py); words are for the child, sentences are the child's own ("" for none).

    today_s  the talk about this piece that was noted on this day already, or none
    """

    draft_id: int
    day: date
    child: str
    title: str
    grade: int
    grew: str
    chart: Chart | None
    worked: str
    worked_sentence: str
    step: str
    step_sentence: str
    exercise: str
    earlier: tuple[Earlier, ...]
    today_s: Conference | None


def talk(family: Family, draft_id: int, today: date | None = None) -> Talk:
    """A talk about a draft. Raises RecordsError where there is no such draft, or its file is gone; NotEnglishError."""
    about, day = piece(family, draft_id), today or date.today()
    sheet = judged(family.sheets.score(about.draft), about.own)
    strength, step = said(sheet)
    before = [each for each in pieces(family, about.student.id) if each.date <= about.date]
    seen = grown(levels_table(before), about.form, terms_table(family))
    held = family.conferences.of_student(about.student.id)
    own = next((c for c in held if c.draft_id == draft_id and c.held_on == day), None)
    essay = sheet.measures.essay
    return Talk(
        draft_id=draft_id,
        day=day,
        child=short(about.student.name, TITLE),
        title=short(essay.title.text if essay.title else about.task.title, TITLE),
        grade=about.grade,
        grew=seen.words,
        chart=seen.chart,
        worked=strength.words,
        worked_sentence=_sentence(essay, strength.shown),
        step=step.child,
        step_sentence=_sentence(essay, [step.sentence] if step.sentence else ()),
        exercise=step.exercise,
        earlier=_earlier(family, [c for c in held if c is not own and c.goal]),
        today_s=own,
    )


def said(sheet: ScoreSheet) -> tuple[Strength, NextStep]:
    """The strongest strength that shows in a line of its own, not the one of the next step; and that step."""
    step = next_steps(sheet)[0]
    ranked = strengths(sheet)
    for strength in ranked:
        elsewhere = tuple(found for found in strength.shown if not _within(found, step.sentence))
        if elsewhere:
            return Strength(strength.words, elsewhere), step
    return next((s for s in ranked if s.shown), ranked[0]), step


def _within(found: Found, sentence: Found | None) -> bool:
    return sentence is not None and sentence.start <= found.start < sentence.end


def _sentence(essay: Essay, shown: Sequence[Found]) -> str:
    """The whole sentence of the first of these places."""
    if not shown:
        return ""
    first = shown[0]
    whole = next((s for s in essay.sentences if s.start <= first.start < s.end), first)
    return short(essay.text[whole.start : whole.end], SENTENCE)


def _earlier(family: Family, held: Sequence[Conference]) -> tuple[Earlier, ...]:
    """The last first."""
    named: dict[int, Piece] = {each.draft_id: piece(family, each.draft_id) for each in held}
    return tuple(
        Earlier(
            c.id, c.held_on, short(named[c.draft_id].task.title, TITLE), inert(c.goal).strip(), inert(c.outcome).strip()
        )
        for c in reversed(held)
    )
