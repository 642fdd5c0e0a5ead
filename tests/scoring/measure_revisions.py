"""How well two drafts are compared, on the pairs labelled by hand (tests/scoring/labelled_revisions.py).

python tests/scoring/measure_revisions.py          the half that nothing was tuned on
python tests/scoring/measure_revisions.py tune     the half that the constants were chosen on
python tests/scoring/measure_revisions.py tune -v  and every difference from the labels
"""

from __future__ import annotations

import sys
from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

import rubric_kit as rk
from rubric_kit.reading import Essay
from rubric_kit.scoring.changes import Change, Span
from rubric_kit.scoring.revision import Revision

sys.path.insert(0, str(Path(__file__).parent))
from labelled_revisions import Labelled, Pair, pairs

KINDS = ("kept", "rewritten", "added", "cut", "moved", "split", "joined")
OPPOSITE = {("taken", "not yet"), ("not yet", "taken")}


@dataclass(slots=True)
class Figures:
    """Counts by kind of change, and of next steps by (label, found)."""

    right: Counter[str] = field(default_factory=Counter)
    found: Counter[str] = field(default_factory=Counter)
    labelled: Counter[str] = field(default_factory=Counter)
    steps: Counter[tuple[str, str]] = field(default_factory=Counter)

    def precision(self, kind: str) -> float:
        return self.right[kind] / self.found[kind] if self.found[kind] else 0.0

    def recall(self, kind: str) -> float:
        return self.right[kind] / self.labelled[kind]

    def f1(self, kind: str) -> float:
        return 2 * self.right[kind] / (self.found[kind] + self.labelled[kind])

    @property
    def steps_right(self) -> float:
        return sum(n for (label, found), n in self.steps.items() if label == found) / self.steps.total()

    @property
    def steps_by_habit(self) -> float:
        """The share right if the commonest label were always given."""
        labels = Counter(label for label, _ in self.steps.elements())
        return max(labels.values()) / labels.total()

    @property
    def steps_opposite(self) -> float:
        return sum(n for pair, n in self.steps.items() if pair in OPPOSITE) / self.steps.total()


def revision(pair: Pair) -> Revision:
    first, second = (rk.score(rk.read_text(text), pair.grade, pair.form) for text in (pair.first, pair.second))
    return rk.compare(first, second)


def numbered(changes: Iterable[Change], before: Essay, after: Essay) -> set[Labelled]:
    """Changes with the numbers of their sentences, as the labels have them."""

    def numbers(essay: Essay, spans: Iterable[Span]) -> tuple[int, ...]:
        return tuple(bisect_right(essay.sentences, span.start, key=lambda s: s.start) - 1 for span in spans)

    return {(c.kind, numbers(before, c.before), numbers(after, c.after)) for c in changes}


def figures(half: str, tell: bool = False) -> Figures:
    """The figures of one half, "tune" or "report"."""
    total = Figures()
    for pair in pairs(half):
        found = revision(pair)
        changes = numbered(found.changes, found.before.measures.essay, found.after.measures.essay)
        total.right.update(kind for kind, _, _ in changes & pair.changes)
        total.found.update(kind for kind, _, _ in changes)
        total.labelled.update(kind for kind, _, _ in pair.changes)
        by_measure = {step.measure: step for step in reversed(found.steps) if step.measure in pair.steps}
        total.steps.update((pair.steps[measure], step.taken) for measure, step in by_measure.items())
        if tell:
            for name, those in (("found", changes - pair.changes), ("labelled", pair.changes - changes)):
                for kind, ours, theirs in sorted(those):
                    first = [pair.first_sentences[i] for i in ours]
                    print(f"{pair.name}: {name} {kind} {first} -> {[pair.second_sentences[j] for j in theirs]}")
            for measure, step in by_measure.items():
                if step.taken != pair.steps[measure]:
                    print(f"{pair.name}: {measure} labelled {pair.steps[measure]}, found {step.taken}: {step.why}")
    return total


def table(half: str = "report") -> str:
    """The figures as a table of a page."""
    got = figures(half)
    rows = ["| what | figure |", "|---|---|"]
    for kind in KINDS:
        numbers = f"precision {got.precision(kind):.2f}, recall {got.recall(kind):.2f}, F1 {got.f1(kind):.2f}"
        rows.append(f"| sentences: {kind} | {numbers} ({got.labelled[kind]} labelled) |")
    steps = f"{got.steps_right:.0%} of {got.steps.total()} right ({got.steps_by_habit:.0%} if it always said the same)"
    steps = f"{steps}, {got.steps_opposite:.0%} the opposite"
    return "\n".join([*rows, f"| next steps: taken, partly or not yet | {steps} |"])


if __name__ == "__main__":
    half = next((arg for arg in sys.argv[1:] if not arg.startswith("-")), "report")
    if "-v" in sys.argv:
        figures(half, tell=True)
    print(table(half))
