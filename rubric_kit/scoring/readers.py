"""How experienced readers would score an essay on six traits and overall, 1 to 5, and which measures say so.

A linear model on named measures: an estimate is a centre plus one contribution from every measure, and nothing else.
The weights (data/readers.toml) were fitted to readers' scores of essays by students of grades 8 to 12 who are learning
English; that file says how well estimates agree with readers on other prompts.

Where it does not carry over. The writers were older than the children this package is for, and wrote in a second
language: over half of what sets their overall estimates apart is slips of form and unexpected phrasing, which in a
child of nine mean something else, and their range of words is that of writers in their teens. The essays argue a point
in some 400 words; of a paragraph or a story nothing is known. So these estimates propose no level and are no norm:
compare two drafts, or two essays of one older writer, and look at what the contributions say.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple

from rubric_kit.measures.catalogue import Result
from rubric_kit.measures.measured import Measures
from rubric_kit.measures.signs import signs

TRAITS = ("cohesion", "syntax", "vocabulary", "phraseology", "grammar", "conventions", "overall")
CAUTION = (
    "These estimates follow readers of essays by students of grades 8 to 12 who are learning English. "
    "For younger children, for native speakers and for other forms of writing they are not norms and propose no level."
)
LOWEST, HIGHEST = 1.0, 5.0  # of the readers' scale, in half steps


class Contribution(NamedTuple):
    """What one measure adds to an estimate.

    value   the measure's own value; None where it could not be said, and then it counts as usual
    points  what it adds (or takes away) on the scale of 1 to 5, beside an essay with the fitted essays' mean value
    """

    measure: str
    family: str
    value: float | None
    points: float


@dataclass(frozen=True, slots=True)
class TraitEstimate:
    """An estimate of the score that readers would give, 1 to 5, with no bounds put on it.

    centre         the fitted essays' mean score; ``value`` is centre + the points of all contributions
    low, high      readers' scores lay between them for nine essays of ten on prompts not fitted to
    contributions  the largest first
    """

    trait: str
    value: float
    low: float
    high: float
    centre: float
    contributions: tuple[Contribution, ...]

    @property
    def by_family(self) -> dict[str, float]:
        """Points by family of measures: structure, vocabulary, slips, phrasing, word range, everyday words."""
        points: dict[str, float] = {}
        for part in self.contributions:
            points[part.family] = points.get(part.family, 0.0) + part.points
        return points

    @property
    def rounded(self) -> float:
        """In half steps from 1 to 5. Estimates keep nearer the middle than scores do, so they are spread first."""
        stretch: float = _table()["stretch"]
        spread = self.centre + stretch * (self.value - self.centre)
        return min(HIGHEST, max(LOWEST, math.floor(2 * spread + 0.5) / 2))


@dataclass(frozen=True, slots=True)
class ReadersView:
    """Estimates by trait, and the caution that belongs beside them."""

    traits: Mapping[str, TraitEstimate]
    caution: str = CAUTION

    def __getitem__(self, trait: str) -> TraitEstimate:
        return self.traits[trait]


def readers_view(measured: Measures) -> ReadersView:
    """Estimate readers' scores of a measured essay; it is parsed once more for the signs that only this view needs."""
    results = {**measured, **signs(measured)}
    table = _table()
    rows = [
        (name, family, results[name], row) for family, part in table["measures"].items() for name, row in part.items()
    ]
    scores = [(name, family, result.value, points(result, row)) for name, family, result, row in rows]
    estimates = {}
    for place, trait in enumerate(table["traits"]):
        parts = [Contribution(name, family, value, by_trait[place]) for name, family, value, by_trait in scores]
        centre = table["centre"][place]
        value = centre + math.fsum(part.points for part in parts)
        estimates[trait] = TraitEstimate(
            trait=trait,
            value=value,
            low=value + table["below"][place],
            high=value + table["above"][place],
            centre=centre,
            contributions=tuple(sorted(parts, key=lambda part: -abs(part.points))),
        )
    return ReadersView(estimates)


def points(result: Result, row: Mapping[str, Any]) -> list[float]:
    """What a measure adds to the estimate of each trait."""
    z = standard(result, row)
    return [weight * z for weight in row["weights"]]


def standard(result: Result, row: Mapping[str, Any]) -> float:
    """A measure as its distance from the fitted essays' mean in standard deviations, cut at their 1st and 99th
    percentile; one that cannot be said is the usual one.
    """
    value: float = row["usual"]
    if result.value is not None:
        value = math.log(result.value + row["log"]) if "log" in row else result.value
    within = min(row["high"], max(row["low"], value))
    distance: float = (within - row["mean"]) / row["spread"]
    return distance


@cache
def _table() -> Mapping[str, Any]:
    return tomllib.loads((files("rubric_kit.scoring") / "data/readers.toml").read_text("utf-8"))
