"""The hand-labelled essays: their texts with the labels turned into sentences of the essay as read."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rubric_kit.reading import Essay, Sentence
from rubric_kit.reading.layout import essay_from_text

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Labelled:
    name: str
    essay: Essay
    labels: dict[str, Any]

    def sentence(self, quoted: str) -> Sentence | None:
        """The essay's sentence that holds the middle of a quoted label; None for an empty label."""
        if not quoted:
            return None
        middle = self.essay.text.index(quoted) + len(quoted) // 2
        return next((s for s in self.essay.sentences if s.start <= middle < s.end), None)

    def sentences(self, label: str) -> list[Sentence]:
        quoted = self.labels[label]
        quoted = [quoted] if isinstance(quoted, str) else quoted
        return [s for q in quoted if q and (s := self.sentence(q)) is not None]


def half(name: str) -> Iterator[Labelled]:
    """The essays of "tune" (which the weights are fitted on) or "report" (which nothing is fitted on)."""
    for path in sorted((HERE / name).glob("*.toml")):
        labels = tomllib.loads(path.read_text("utf-8"))
        yield Labelled(path.stem, essay_from_text(labels["text"], path.name), labels)
