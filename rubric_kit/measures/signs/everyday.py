"""How often each of the commonest English words comes: writers of more experience use them in other shares."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from rubric_kit.measures.catalogue import Measure, by_name

if TYPE_CHECKING:
    from rubric_kit.reading import Essay

SOURCE = "after Mosteller & Wallace 1963, JASA 58(302), who told writers apart by such words; choice of words our own"
STEADY_WORDS = 100  # a word of two in a hundred comes about twice


@dataclass(frozen=True, slots=True)
class EverydayCounts:
    """How often each word comes, in small letters; parts of contractions count as words ("don't": do and n't)."""

    words: int
    times: Mapping[str, int]


def everyday_counts(essay: Essay) -> EverydayCounts:
    """Count the words of the list."""
    spoken = (word.text.lower().replace("\u2019", "'") for word in essay.words)
    times = Counter(part for word in spoken for part in _parts(word))
    return EverydayCounts(len(essay.words), times)


def _parts(word: str) -> list[str]:
    if word.endswith("n't"):
        return [word[:-3]]
    return [word.split("'", maxsplit=1)[0]]


@cache
def everyday_words() -> tuple[str, ...]:
    """The words of data/everyday_words.txt, the commonest first."""
    lines = (files("rubric_kit.measures.signs") / "data/everyday_words.txt").read_text("utf-8").splitlines()
    return tuple(word for line in lines if not line.startswith("#") for word in line.split())


def _row(word: str) -> Measure[EverydayCounts]:
    return Measure(
        f"uses_of_{word}",
        lambda counts: 100 * counts.times.get(word, 0) / counts.words,
        f"100 * uses of “{word}” / words",
        "per 100 words",
        SOURCE,
        at_least={"words": 1},
        wants={"words": STEADY_WORDS},
    )


EVERYDAY: dict[str, Measure[EverydayCounts]] = by_name(_row(word) for word in everyday_words())
