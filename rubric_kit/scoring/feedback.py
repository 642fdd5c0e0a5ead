"""Feedback in two voices: to the child, in words no harder than the child's grade, and to the parent."""

from __future__ import annotations

from dataclasses import dataclass

from rubric_kit.measures.counts import count
from rubric_kit.measures.readability import READABILITY
from rubric_kit.reading.layout import essay_from_text
from rubric_kit.scoring.advice import advice
from rubric_kit.scoring.rubric import LEVEL_NAMES, LEVELS
from rubric_kit.scoring.score import MIDDLE
from rubric_kit.scoring.sheet import CriterionScore, NextStep, Reason, ScoreSheet
from rubric_kit.scoring.spans import SHOW

QUOTED_WORDS = (14, 10, 7, 4, 2, 0)  # of the child's sentence; fewer where more would be hard to read, at worst none
STEPS = 2  # next steps at most: more than two are not taken
REASONS = 2  # reasons told to the parent for each criterion
SURE_WORDS = ((0.75, "quite sure"), (0.5, "fairly sure"), (0.0, "not sure"))


@dataclass(frozen=True, slots=True)
class Feedback:
    """What to say, a paragraph an item.

    child   one strength and one or two next steps, each with the child's own words
    parent  each criterion's level with its reasons, and what to teach next
    """

    child: tuple[str, ...]
    parent: tuple[str, ...]


def feedback(sheet: ScoreSheet) -> Feedback:
    """Feedback on a scored essay; the child's part has a Flesch-Kincaid grade not above the child's own."""
    return Feedback(_to_child(sheet), _to_parent(sheet))


def grade_of(lines: tuple[str, ...]) -> float:
    """The Flesch-Kincaid grade of some paragraphs."""
    return READABILITY["flesch_kincaid_grade"].function(count(essay_from_text("\n\n".join(lines), "feedback")))


def sure_in_words(sure: float) -> str:
    """How sure a level is, in words."""
    return next(words for least, words in SURE_WORDS if sure >= least)


def quoted(text: str, limit: int) -> str:
    """The first words of a sentence in quotation marks, without its end mark."""
    words = text.split()
    shown = " ".join(words[:limit]).rstrip(".!?,;: ").replace('"', "'").replace("\u201c", "'").replace("\u201d", "'")
    return f"\u201c{shown} \u2026\u201d" if len(words) > limit else f"\u201c{shown}\u201d"


def _to_child(sheet: ScoreSheet) -> tuple[str, ...]:
    """The longest quotations that keep it easy enough to read."""
    for limit in QUOTED_WORDS:
        lines = _child_lines(sheet, limit)
        if grade_of(lines) <= sheet.grade:
            break
    return lines


def _child_lines(sheet: ScoreSheet, limit: int) -> tuple[str, ...]:
    strengths = ((r.level, c.weight * r.weight, r) for c in sheet.criteria for r in c.reasons)
    strength = max(strengths, key=lambda s: s[:2], default=(0.0, 0.0, None))[2]
    lines = [_worked(strength, sheet, limit)] if strength else []
    lowest = sorted((c for c in sheet.criteria if c.level < LEVELS[-1]), key=lambda c: c.score) or list(sheet.criteria)
    steps = {c.next_step.child: c.next_step for c in lowest}
    return (*lines, *(_try_next(step, limit) for step in list(steps.values())[:STEPS]))


def _worked(reason: Reason, sheet: ScoreSheet, limit: int) -> str:
    row = advice()[reason.measure]
    shown = SHOW[row["praise" if "praise" in row else "show"]](sheet.measures)
    good = max(shown, key=lambda f: f.sure, default=None) if reason.level >= MIDDLE else None
    told = (
        row["worked"]
        if reason.level >= MIDDLE
        else "You put your own thoughts on paper. That is where all good work starts."
    )
    return f"What worked: {told}" + (f" You wrote: {quoted(good.text, limit)}." if good and limit else "")


def _try_next(step: NextStep, limit: int) -> str:
    line = f" Here is your line: {quoted(step.sentence.text, limit)}." if step.sentence and limit else ""
    return f"Try this next. {step.child}{line} For five minutes: {step.exercise}"


def _to_parent(sheet: ScoreSheet) -> tuple[str, ...]:
    return tuple(_criterion(c) for c in sheet.criteria)


def _criterion(score: CriterionScore) -> str:
    why = " ".join(r.text for r in score.reasons[:REASONS])
    return (
        f"{score.name.capitalize()}: level {score.level}, {LEVEL_NAMES[score.level]} ({sure_in_words(score.sure)}). "
        f"{why} Teach next: {score.next_step.what}. Only you can judge {score.not_judged}."
    )
