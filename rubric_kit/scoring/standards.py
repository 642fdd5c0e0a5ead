"""How one reader's levels differ from the proposals, learned with care from the pieces she has marked.

For each criterion the mean of (own level - proposed score) is drawn toward what she does in general, and that toward no
difference, the more the fewer pieces there are (an empirical Bayes estimate with known variances: Efron & Morris 1977,
Scientific American 236(5)). Nothing is learned in silence: what was learned is a sentence for each criterion, beside
the proposal, and can be switched off.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rubric_kit.scoring.rubric import LEVELS
from rubric_kit.scoring.score import READER_SPREAD

FEWEST = 8  # marked pieces before anything is learned
# How far readers lie apart, as standard deviations in levels: in general, and on one criterion beyond that. Common
# practice, no source; tests/scoring/test_standards.py shows what is gained where readers lie apart as far, and that
# next to nothing is lost where they do not.
BETWEEN_READERS = 0.3
BETWEEN_CRITERIA = 0.2
SAME = 0.15  # of a level: less is no difference to speak of


@dataclass(frozen=True, slots=True)
class Standards:
    """What was learned of a reader.

    pieces   how many marked pieces it rests on
    offsets  by criterion key: how far her levels lie above the proposed scores; empty below FEWEST pieces
    """

    pieces: int
    offsets: Mapping[str, float]

    def level(self, criterion: str, score: float) -> int:
        """The level she would likely give where ``score`` (1.0 to 4.0) is proposed."""
        return min(LEVELS[-1], max(LEVELS[0], math.floor(score + self.offsets.get(criterion, 0.0) + 0.5)))

    def words(self, names: Mapping[str, str]) -> tuple[str, ...]:
        """What was learned, a sentence for each criterion; ``names`` by key."""
        if not self.offsets:
            more = FEWEST - self.pieces
            return (f"Your standards are not known yet: {more} more marked {'piece' if more == 1 else 'pieces'}.",)
        return tuple(_sentence(names.get(key, key), offset) for key, offset in self.offsets.items())


def learn(marked: Sequence[Mapping[str, tuple[int, float]]]) -> Standards:
    """Learn a reader's standards.

    marked  a mapping for each marked piece: by criterion key, her own level and the proposed score before rounding
    """
    differences: dict[str, list[float]] = {}
    for piece in marked:
        for key, (own, proposed) in piece.items():
            differences.setdefault(key, []).append(own - proposed)
    if len(marked) < FEWEST:
        return Standards(len(marked), {})
    every = [d for values in differences.values() for d in values]
    # One piece's five levels scatter together, so a piece counts once for what a reader does in general.
    general = _shrunken(every, len(marked), BETWEEN_READERS)
    return Standards(
        len(marked),
        {
            key: general + _shrunken([d - general for d in values], len(values), BETWEEN_CRITERIA)
            for key, values in differences.items()
        },
    )


def _shrunken(values: Sequence[float], pieces: int, between: float) -> float:
    """The mean, drawn toward 0 by how much of its scatter is chance."""
    return math.fsum(values) / len(values) * pieces / (pieces + (READER_SPREAD / between) ** 2)


def _sentence(name: str, offset: float) -> str:
    if abs(offset) < SAME:
        return f"{name}: your levels are about those proposed."
    return f"{name}: your levels are about {abs(offset):.1f} {'above' if offset > 0 else 'below'} those proposed."
