"""Feedback in two voices: to the child, in words no harder than the child's grade, and to the parent."""

from __future__ import annotations

from dataclasses import dataclass

from rubric_kit.measures.counts import count
from rubric_kit.measures.found import Found
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


@dataclass(frozen=True, slots=True)
class Strength:
    """One thing that worked, in words for the child, and where it shows, the surest place first."""

    words: str
    shown: tuple[Found, ...]


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


def strengths(sheet: ScoreSheet) -> list[Strength]:
    """What worked, the strongest first; those of a criterion that is below grade as a whole come last."""
    reasons = [(c.level >= MIDDLE, r.level, c.weight * r.weight, r) for c in sheet.criteria for r in c.reasons]
    return [_strength(reason, sheet) for *_, reason in sorted(reasons, key=lambda r: r[:3], reverse=True)]


def next_steps(sheet: ScoreSheet) -> list[NextStep]:
    """What to try next, that of the weakest criterion first, none twice."""
    lowest = sorted((c for c in sheet.criteria if c.level < LEVELS[-1]), key=lambda c: c.score) or list(sheet.criteria)
    return list({c.next_step.child: c.next_step for c in lowest}.values())


def _child_lines(sheet: ScoreSheet, limit: int) -> tuple[str, ...]:
    worked = [_worked(strength, limit) for strength in strengths(sheet)[:1]]
    return (*worked, *(_try_next(step, limit) for step in next_steps(sheet)[:STEPS]))


def _strength(reason: Reason, sheet: ScoreSheet) -> Strength:
    if reason.level < MIDDLE:
        return Strength("You put your own thoughts on paper. That is where all good work starts.", ())
    row = advice(sheet.measures.form)[reason.measure]
    shown = SHOW[row["praise" if "praise" in row else "show"]](sheet.measures)
    return Strength(row["worked"], tuple(sorted(shown, key=lambda f: -f.sure)))


def _worked(strength: Strength, limit: int) -> str:
    wrote = f" You wrote: {quoted(strength.shown[0].text, limit)}." if strength.shown and limit else ""
    return f"What worked: {strength.words}{wrote}"


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
