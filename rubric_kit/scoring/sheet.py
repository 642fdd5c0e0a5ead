"""What a scored essay is: for each criterion a proposed level, the sentences behind it, and what to try next."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

from rubric_kit.measures.found import Found
from rubric_kit.measures.measured import Measures
from rubric_kit.scoring.rubric import LEVEL_NAMES, Rubric


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing that was looked for, and what it says.

    measure  name of the measure; value its value; level the level (1.0 to 4.0) it speaks for; weight its share (0 to 1)
    text     the reason in plain words, for the parent
    """

    measure: str
    value: float
    level: float
    weight: float
    text: str


@dataclass(frozen=True, slots=True)
class NextStep:
    """One thing to try next: what, an exercise of about five minutes, and the child's own sentence to try it on.

    child  the same step in words for the child
    """

    what: str
    exercise: str
    child: str
    sentence: Found | None


@dataclass(frozen=True, slots=True)
class CriterionScore:
    """A proposed level with everything behind it.

    level       1 to 4; the person's own level, kept elsewhere, is final
    score       the same before rounding, 1.0 to 4.0
    sure        0 to 1: the chance that an experienced reader gives the same level, as measured
    evidence    the spans of the essay that the level rests on
    not_judged  what no program can judge here
    """

    key: str
    name: str
    weight: float
    level: int
    score: float
    sure: float
    descriptor: str
    reasons: tuple[Reason, ...]
    evidence: tuple[Found, ...]
    not_judged: str
    next_step: NextStep


@dataclass(frozen=True, slots=True)
class ScoreSheet:
    """A proposal: levels by criterion, what they are worth, and what to be careful about."""

    measures: Measures
    rubric: Rubric
    grade: int
    criteria: tuple[CriterionScore, ...]
    percent: float
    letter: str
    cautions: tuple[str, ...]

    def criterion(self, key: str) -> CriterionScore:
        """The score for one criterion by its key (KeyError where the rubric has no such criterion)."""
        for score in self.criteria:
            if score.key == key:
                return score
        raise KeyError(key)

    def _repr_html_(self) -> str:
        """The levels as a small table; ``rubric_kit.showing.show`` gives the whole page."""
        rows = "".join(
            f"<tr><th scope='row'>{escape(c.name)}</th><td>{c.level} {LEVEL_NAMES[c.level]}</td>"
            f"<td>{escape(c.descriptor)}</td></tr>"
            for c in self.criteria
        )
        caption = f"{self.percent:g} out of 100, {escape(self.letter)}: a proposal, your own levels are final"
        return f"<table><caption>{caption}</caption>{rows}</table>"
