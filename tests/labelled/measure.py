"""How well the finders and the levels do on a half of the labelled essays.

    python tests/labelled/measure.py [tune|report]     prints the table that DEVELOPERS.md shows

Roles, thesis, restated thesis and hook count as right when the very sentence is found, or rightly none. Evidence and
topic sentences are compared sentence by sentence; words by their written form within an essay.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from labelled import Labelled, half

from rubric_kit.measures.found import Found
from rubric_kit.scoring.agreement import agreement
from rubric_kit.scoring.score import score
from rubric_kit.scoring.sheet import ScoreSheet

WORDS = {
    "misspellings": ("spelling", "confused_words"),
    "capitals": ("capitals",),
    "repeated_words": ("repeated_words",),
}
SENTENCES = {"run_ons": "run_ons", "fragments": "fragments"}


@dataclass
class Tally:
    """Found rightly, found wrongly, missed."""

    right: int = 0
    wrong: int = 0
    missed: int = 0

    @property
    def precision(self) -> float:
        return self.right / max(1, self.right + self.wrong)

    @property
    def recall(self) -> float:
        return self.right / max(1, self.right + self.missed)

    @property
    def f1(self) -> float:
        return 2 * self.right / max(1, 2 * self.right + self.wrong + self.missed)

    def add(self, found: Counter[object], labelled: Counter[object]) -> None:
        self.right += (found & labelled).total()
        self.wrong += (found - labelled).total()
        self.missed += (labelled - found).total()


@dataclass
class Measured:
    """Shares right, tallies, and pairs of (proposed, labelled) levels by criterion."""

    shares: dict[str, list[bool]] = field(default_factory=dict)
    tallies: dict[str, Tally] = field(default_factory=dict)
    levels: dict[str, list[tuple[int, int]]] = field(default_factory=dict)

    def share(self, name: str) -> float:
        return sum(self.shares[name]) / len(self.shares[name])

    @property
    def pairs(self) -> list[tuple[int, int]]:
        return [pair for pairs in self.levels.values() for pair in pairs]


def measure_half(name: str) -> Measured:
    measured = Measured()
    for labelled in half(name):
        sheet = score(labelled.essay, labelled.labels["grade"], labelled.labels["form"])
        _structure(labelled, sheet, measured)
        _mechanics(labelled, sheet, measured)
        for key, level in labelled.labels["levels"].items():
            measured.levels.setdefault(key, []).append((sheet.criterion(key).level, level))
    return measured


def _structure(labelled: Labelled, sheet: ScoreSheet, measured: Measured) -> None:
    found = sheet.measures.structure
    roles, wanted = [p.role for p in found.paragraphs], labelled.labels["roles"]
    same = [a == b for a, b in zip(roles, wanted, strict=False)] if len(roles) == len(wanted) else [False] * len(wanted)
    measured.shares.setdefault("roles", []).extend(same)
    for name in ("thesis", "restated_thesis", "hook"):
        part = getattr(found, name)
        starts = {s.start for s in labelled.sentences(name)}
        measured.shares.setdefault(name, []).append(part.start in starts if part else not starts)
    topics = [p.topic_sentence for p in found.paragraphs if p.topic_sentence]
    _compare(labelled, "topic_sentences", topics, measured)
    _compare(labelled, "evidence", found.evidence, measured)
    _compare(labelled, "new_claims", found.new_claims, measured)
    written = Counter[object](_plain(t.text) for t in found.transitions)
    wanted_words = Counter[object](_plain(t) for t in labelled.labels["transitions"])
    measured.tallies.setdefault("transitions", Tally()).add(written, wanted_words)


def _mechanics(labelled: Labelled, sheet: ScoreSheet, measured: Measured) -> None:
    found = sheet.measures.mechanics
    for name, kinds in WORDS.items():
        written = [_plain(f.text) for kind in kinds for f in getattr(found, kind)]
        labels = [_plain(entry if isinstance(entry, str) else entry[0]) for entry in labelled.labels[name]]
        tally = measured.tallies.setdefault(name, Tally())
        for word in written:
            match = next(
                (label for label in labels if word == label or word in label.split() or label in word.split()), None
            )
            if match is None:
                tally.wrong += 1
            else:
                tally.right += 1
                labels.remove(match)
        tally.missed += len(labels)
    for name, kind in SENTENCES.items():
        _compare(labelled, name, getattr(found, kind), measured)


def _compare(labelled: Labelled, name: str, found: Iterable[Found], measured: Measured) -> None:
    """By the sentences that the found items and the labels stand in."""
    starts = {s.start for f in found for s in labelled.essay.sentences if s.start <= f.start < s.end}
    wanted = {s.start for s in labelled.sentences(name)}
    measured.tallies.setdefault(name, Tally()).add(Counter[object](starts), Counter[object](wanted))


def _plain(text: str) -> str:
    return " ".join(text.lower().replace("\u2019", "'").split())


def table(name: str) -> str:
    """The figures as a Markdown table."""
    measured = measure_half(name)
    lines = ["| what | figure |", "|---|---|"]
    lines += [
        f"| {part.replace('_', ' ')} | {measured.share(part):.1%} of {len(values)} right |"
        for part, values in measured.shares.items()
    ]
    lines += [
        f"| {part.replace('_', ' ')} | precision {t.precision:.2f}, recall {t.recall:.2f}, F1 {t.f1:.2f} "
        f"({t.right + t.missed} labelled) |"
        for part, t in measured.tallies.items()
    ]
    for key, pairs in [("all levels", measured.pairs), *measured.levels.items()]:
        agreed = agreement([p for p, _ in pairs], [r for _, r in pairs])
        lines.append(
            f"| levels: {key} | exact {agreed.exact:.0%}, within one {agreed.adjacent:.0%}, "
            f"quadratic weighted kappa {agreed.quadratic_kappa or 0:.2f} |"
        )
    return "\n".join(lines)


if __name__ == "__main__":
    print(table(sys.argv[1] if len(sys.argv) > 1 else "report"))
