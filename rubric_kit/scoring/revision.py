"""Two drafts of one piece side by side: what changed, what moved, and which next steps were taken."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from html import escape
from typing import Literal

from rubric_kit.scoring.changes import Change, changes
from rubric_kit.scoring.rubric import LEVELS, LookFor
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.scoring.steps_taken import StepTaken, better, figure, steps_taken

Toward = Literal["a higher level", "a lower level", "no other level"]
HARDLY_ANY = 0.2  # of the first draft's sentences; with fewer found again it may be another piece


@dataclass(frozen=True, slots=True)
class MeasureMove:
    """A measure that the rubric looks for and whose value moved; a value is None where it cannot be said.

    criteria  the names of the criteria that look for it
    """

    measure: str
    criteria: tuple[str, ...]
    before: float | None
    after: float | None
    unit: str
    toward: Toward


@dataclass(frozen=True, slots=True)
class LevelMove:
    """A criterion's proposed levels (1 to 4), whether they differ or not."""

    key: str
    name: str
    before: int
    after: int


@dataclass(frozen=True, slots=True)
class Revision:
    """A first and a second draft compared.

    changes   every sentence of both drafts, each once, in the order of the second
    measures  those that moved; levels those of all criteria that both rubrics have
    steps     each next step of the first sheet; notes what to be careful about
    """

    before: ScoreSheet
    after: ScoreSheet
    changes: tuple[Change, ...]
    measures: tuple[MeasureMove, ...]
    levels: tuple[LevelMove, ...]
    steps: tuple[StepTaken, ...]
    notes: tuple[str, ...]

    @property
    def counts(self) -> Mapping[str, int]:
        """How many changes there are of each kind; 0 for a kind without any."""
        return Counter(change.kind for change in self.changes)

    def _repr_html_(self) -> str:
        """What was done, in numbers; ``rubric_kit.show`` gives the whole page."""
        rows = "".join(f"<tr><th scope='row'>{escape(k)}</th><td>{n}</td></tr>" for k, n in self.counts.items())
        return f"<table><caption>Sentences, by what was done</caption>{rows}</table>"


def compare(before: ScoreSheet, after: ScoreSheet) -> Revision:
    """Compare two scored drafts of one piece, the earlier one first."""
    done = changes(before.measures.essay, after.measures.essay)
    return Revision(
        before=before,
        after=after,
        changes=done,
        measures=tuple(_measures(before, after)),
        levels=tuple(_levels(before, after)),
        steps=steps_taken(before, after, done),
        notes=tuple(_notes(before, after, done)),
    )


def _levels(before: ScoreSheet, after: ScoreSheet) -> Iterator[LevelMove]:
    now = {c.key: c for c in after.criteria}
    for was in before.criteria:
        if was.key in now:
            yield LevelMove(was.key, was.name, was.level, now[was.key].level)


def _measures(before: ScoreSheet, after: ScoreSheet) -> Iterator[MeasureMove]:
    """In the order of the second sheet's rubric."""
    looked: dict[str, list[tuple[str, LookFor]]] = {}
    for criterion in after.rubric.criteria:
        for look in criterion.look_for:
            looked.setdefault(look.measure, []).append((criterion.name, look))
    for measure, looks in looked.items():
        was, now = before.measures[measure], after.measures[measure]
        if was.value != now.value and _said(was.value) != _said(now.value):
            toward = _toward([look for _, look in looks], after.grade, was.value, now.value)
            names = tuple(dict.fromkeys(name for name, _ in looks))
            yield MeasureMove(measure, names, was.value, now.value, now.unit, toward)


def _said(value: float | None) -> str:
    return "" if value is None else figure(value)


def _toward(looks: list[LookFor], grade: int, before: float | None, after: float | None) -> Toward:
    """By the criterion that looks for it with most weight; past the top nothing is gained or lost."""
    look = max(looks, key=lambda look: look.weight)
    if before is None or after is None or look.level(before, grade) == look.level(after, grade) == LEVELS[-1]:
        return "no other level"
    return "a higher level" if better(look, grade, before, after) > 0 else "a lower level"


def _notes(before: ScoreSheet, after: ScoreSheet, done: tuple[Change, ...]) -> Iterator[str]:
    if (before.rubric.name, before.rubric.version) != (after.rubric.name, after.rubric.version):
        yield "The drafts were scored on different rubrics: their levels do not compare."
    if before.grade != after.grade:
        yield f"The drafts were scored at grades {before.grade} and {after.grade}: their levels do not compare."
    found_again = sum(len(c.before) for c in done if c.after)
    if not [c for c in done if c.kind != "kept"]:
        yield "The two drafts are the same, word for word."
    elif found_again < HARDLY_ANY * len(before.measures.essay.sentences):
        yield "Hardly a sentence of the first draft is found again: it was written anew, or this is another piece."
