"""Fit the weights of the evidence for a suggestion, on the half of each list meant for it, and write ranking.toml.

A conditional logit: over the candidates for one misspelling, the intended word should have the greatest weight.
Run from the project's root:

    python tests/measures/fit_spelling.py
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

sys.path.insert(0, str(Path(__file__).parent))
from spelling_lists import is_for_fitting, pairs

from rubric_kit.measures.spelling.ranking import evidence

WEIGHTS = Path("rubric_kit/measures/spelling/data/ranking.toml")
HEADER = """# Weights of the evidence that a word was meant (log-linear: a conditional logit over the candidates).
# Fitted by tests/measures/fit_spelling.py to half of three lists: R. Mitton's aspell and Wikipedia collections (only
# these numbers come from them) and our own of children's slips. MIT, as the package.
"""
LISTS = {"aspell": 1.5, "wikipedia": 1.0, "children": 2.0}  # children's own slips count most, the list is the smallest
RIDGE = 0.5  # keeps the weights of evidence that comes together from running apart
Case = tuple[int, NDArray[np.float64], float]


def cases(names: list[str], found: list[tuple[str, str, float, list[tuple[str, dict[str, float]]]]]) -> list[Case]:
    """(place of the intended word, evidence by candidate, how much the case counts)."""
    usable = []
    for _, meant, counts, candidates in found:
        places = [i for i, (word, _) in enumerate(candidates) if word.lower() == meant.lower()]
        if places:
            table = np.array([[evidence.get(name, 0.0) for name in names] for _, evidence in candidates])
            usable.append((places[0], table, counts))
    return usable


def fit(usable: list[Case], size: int) -> NDArray[np.float64]:
    def loss(weights: NDArray[np.float64]) -> tuple[float, NDArray[np.float64]]:
        total, slope = RIDGE * float(weights @ weights), 2 * RIDGE * weights
        for place, table, counts in usable:
            scores = table @ weights
            scores -= scores.max()
            chances = np.exp(scores) / np.exp(scores).sum()
            total -= counts * float(np.log(chances[place]))
            slope = slope - counts * (table[place] - chances @ table)
        return total, slope

    result: NDArray[np.float64] = minimize(loss, np.zeros(size), jac=True, method="L-BFGS-B").x
    return result


def main() -> None:
    found = [
        (written, meant, counts, evidence(written.lower()))
        for name, counts in LISTS.items()
        for written, meant in pairs(name)
        if is_for_fitting(meant)
    ]
    names = sorted({name for *_, candidates in found for _, of in candidates for name in of})
    weights = fit(cases(names, found), len(names))
    rows = "".join(f"{name} = {weight:.3f}\n" for name, weight in zip(names, weights, strict=True))
    WEIGHTS.write_text(f"{HEADER}[weights]\n{rows}", "utf-8")


if __name__ == "__main__":
    main()
