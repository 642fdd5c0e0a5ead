"""Which next steps of a first draft the second one took: by the sentence each was about and the measure behind it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from rubric_kit.measures.found import Found
from rubric_kit.scoring.advice import advice
from rubric_kit.scoring.changes import Change, Span
from rubric_kit.scoring.rubric import LookFor
from rubric_kit.scoring.score import costliest
from rubric_kit.scoring.sheet import CriterionScore, NextStep, ScoreSheet
from rubric_kit.scoring.spans import SHOW

# Chosen on tests/scoring/revisions/tune; tests/scoring/test_revision_figures.py would notice a change.
MUCH = 0.33  # of a measure's first value: so much better, and what was asked for was done
SOME = 0.15  # the same, from which a beginning was made
MOST = 0.5  # share of the body paragraphs that have new support, or of the sentences that grew, which is enough
GROWN = 0.25  # of a paragraph's words: so many more is a beginning
BIGGER = 3  # words more, and a sentence has grown

CHANGED = frozenset({"rewritten", "split", "joined"})
Taken = Literal["taken", "partly", "not yet"]


@dataclass(frozen=True, slots=True)
class StepTaken:
    """A next step of the first draft, and whether the second took it.

    key, name  the criterion's; measure the name of the measure that the step was about, "" for a stretch
    why        the reason in plain words, for the parent
    change     what was done to the sentence that the step was about; None where it was about none
    """

    key: str
    name: str
    step: NextStep
    measure: str
    taken: Taken
    why: str
    change: Change | None


@cache
def revision_words() -> Mapping[str, Any]:
    """What is said of a revision (data/revision.toml)."""
    return tomllib.loads((files("rubric_kit.scoring") / "data/revision.toml").read_text("utf-8"))


def steps_taken(before: ScoreSheet, after: ScoreSheet, changes: Sequence[Change]) -> tuple[StepTaken, ...]:
    """Each next step of the first sheet, in its order."""
    return tuple(_step(criterion, before, after, changes) for criterion in before.criteria)


def better(look: LookFor, grade: int, before: float, after: float) -> float:
    """How much better a value is by what a rubric looks for: a share of the first value, below 0 where it is worse."""
    expected = look.at_grade(grade)
    change = after - before if expected[-1] >= expected[0] else before - after
    return change / abs(before) if before else change


def figure(value: float) -> str:
    """A measure's value with two decimals at most."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _step(criterion: CriterionScore, before: ScoreSheet, after: ScoreSheet, changes: Sequence[Change]) -> StepTaken:
    weakest = costliest(criterion.reasons)
    measure = weakest.measure if weakest else ""
    sentence = criterion.next_step.sentence
    change = next((c for c in changes if sentence and _has(c.before, sentence)), None)
    gain = _gain(criterion.key, measure, before, after)
    how = revision_words()["judged_by"].get(measure, "sentence")
    if how == "support":
        taken, first = _support(measure, after, changes)
    elif how == "paragraph" and sentence:
        taken, first = _paragraph(sentence, changes)
    elif how == "sentences":
        taken, first = _sentences(change, changes)
    elif how == "whole":
        taken, first = _level(gain or 0.0, MUCH), _sentence(change)
    else:
        changed = change is not None and change.kind in CHANGED
        taken, first = _both(changed, (gain or 0.0) >= SOME), _sentence(change)
    why = f"{first}; {_moved(measure, gain, before, after)}."
    return StepTaken(criterion.key, criterion.name, criterion.next_step, measure, taken, why, change)


def _both(changed: bool, improved: bool) -> Taken:
    if changed and improved:
        return "taken"
    return "partly" if changed or improved else "not yet"


def _level(gain: float, much: float) -> Taken:
    if gain >= much:
        return "taken"
    return "partly" if gain >= SOME else "not yet"


def _support(measure: str, after: ScoreSheet, changes: Sequence[Change]) -> tuple[Taken, str]:
    """By the body paragraphs in which a sentence that is all new holds what was asked for."""
    new = [span for c in changes if c.kind == "added" for span in c.after]
    body = {part.number for part in after.measures.structure.with_role("body")}
    found = {
        f.paragraph
        for f in SHOW[advice()[measure]["show"]](after.measures)
        if f.paragraph in body and any(s.start <= f.start < s.end for s in new)
    }
    words = revision_words()["support"]["some" if found else "none"].format(found=len(found), of=len(body))
    if not found:
        return "not yet", words
    return ("taken" if len(found) >= MOST * len(body) else "partly"), words


def _paragraph(sentence: Found, changes: Sequence[Change]) -> tuple[Taken, str]:
    """By what is new where the paragraph's first sentence is now, and by how much its sentences grew."""
    words = revision_words()["paragraph"]
    stayed = [c for c in changes if c.before and c.after and c.before[0].paragraph == sentence.paragraph]
    homes = {c.after[0].paragraph for c in stayed[:1]}
    if any(c.kind == "added" and c.after[0].paragraph in homes for c in changes):
        return "taken", words["added"]
    had = sum(len(span.text.split()) for c in stayed for span in c.before)
    has = sum(len(span.text.split()) for c in stayed for span in c.after)
    return ("partly", words["grown"]) if has - had >= GROWN * max(had, 1) else ("not yet", words["same"])


def _sentences(change: Change | None, changes: Sequence[Change]) -> tuple[Taken, str]:
    """By whether the sentence that it was tried on grew or was joined, and how many others did."""
    grew = [c for c in changes if c.before and c.after and c.kind != "split" and _grew(c)]
    grown, of = (sum(len(c.before) for c in those) for those in (grew, changes))
    words = f"{_sentence(change)}; {revision_words()['sentences']['grown'].format(grown=grown, of=of)}"
    if change in grew or grown >= MOST * of:
        return "taken", words
    return ("partly" if grown >= SOME * of else "not yet"), words


def _grew(change: Change) -> bool:
    had, has = (sum(len(span.text.split()) for span in side) for side in (change.before, change.after))
    return change.kind == "joined" or has >= had + BIGGER


def _has(spans: Sequence[Span], found: Found) -> bool:
    return any(span.start <= found.start < span.end for span in spans)


def _sentence(change: Change | None) -> str:
    return str(revision_words()["sentence"][change.kind if change else "none"])


def _gain(key: str, measure: str, before: ScoreSheet, after: ScoreSheet) -> float | None:
    """How much better the measure is by the first sheet's own rubric; None where one of its values is not known."""
    looks = (look for c in before.rubric.criteria if c.key == key for look in c.look_for)
    look = next((look for look in looks if look.measure == measure), None)
    if look is None:
        return None
    was, now = before.measures[measure].value, after.measures[measure].value
    return None if was is None or now is None else better(look, before.grade, was, now)


def _moved(measure: str, gain: float | None, before: ScoreSheet, after: ScoreSheet) -> str:
    words = revision_words()["measure"]
    name = measure.replace("_", " ")
    if not measure:
        return str(words["none"])
    was, now = before.measures[measure].value, after.measures[measure].value
    if gain is None or was is None or now is None:
        return str(words["unknown"].format(name=name))
    way = "same" if figure(was) == figure(now) else "up" if gain > 0 else "down"
    return str(words[way].format(name=name, before=figure(was), after=figure(now)))
