"""What each feature of a sentence counts for, as fitted (data/weights.toml), and the chance that comes of it."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from operator import mul
from typing import Any


@dataclass(frozen=True, slots=True)
class Weights:
    """A logistic model of one part of an essay; threshold is the chance from which the part is said to be there."""

    intercept: float
    threshold: float
    weight: Mapping[str, float]

    def chance(self, features: Mapping[str, float]) -> float:
        """How likely (0 to 1) a sentence with these features is the part; features without a weight do not count."""
        total = self.intercept + sum(map(mul, self.weight.values(), map(features.__getitem__, self.weight)))
        return 1 / (1 + math.exp(-total))


@cache
def weights(part: str) -> Weights:
    """The fitted weights of a part: "thesis", "topic_sentence", "evidence", "restated_thesis", "hook", "new_claim"."""
    row = _table()[part]
    return Weights(row["intercept"], row["threshold"], row["weight"])


@cache
def _table() -> dict[str, dict[str, Any]]:
    return tomllib.loads((files("rubric_kit.measures.structure") / "data/weights.toml").read_text("utf-8"))
