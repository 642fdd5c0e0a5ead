"""Syllables of a word that no dictionary has, from its letters.

For each letter that can carry a syllable, the weights of the letter patterns around it are added up; above zero it
carries one. The patterns were learned by logistic regression from nine tenths of CMUdict
(tests/measures/build_syllable_patterns.py), and the tenth kept back measures them (tests/measures/test_syllables.py).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from importlib.resources import files

CARRIERS = frozenset("aeiouylmnrw")  # letters that carry a syllable in CMUdict more often than once in 500
BEFORE, AFTER, LONGEST = 4, 5, 8  # letters before and after in a pattern, and in all; from trials on folds 1 to 5
NOT_A_WORD = 60  # letters; longer than any word in a dictionary, so not worth the patterns
DRAWN_OUT = re.compile(r"(.)\1|sh")  # hmm, brr, psst, shh: a noise, where bcd would be letters
VOWELS = re.compile("[aeiouy]+")


def syllables_by_letters(word: str) -> int:
    """Syllables (at least 1) of a word in lower-case letters a to z."""
    if len(word) > NOT_A_WORD:
        return max(1, len(VOWELS.findall(word)))
    if not VOWELS.search(word):
        return 1 if DRAWN_OUT.search(word) else spelled_out(word)
    weights, base = _patterns()
    carried = (
        base + sum(weights.get(pattern, 0) for pattern in patterns(word, place)) > 0
        for place, letter in enumerate(word)
        if letter in CARRIERS
    )
    return max(1, sum(carried))


def spelled_out(letters: str) -> int:
    """Syllables of letters said by their names: one each, three for w."""
    return len(letters) + 2 * letters.count("w")


def patterns(word: str, place: int) -> Iterator[str]:
    """The patterns around one letter: "bl.e$" is an e after b and l that ends the word; ^ and $ are its ends."""
    marked = f"^{word}$"
    at = place + 1
    for before in range(min(BEFORE, at) + 1):
        for after in range(min(AFTER, len(marked) - at - 1, LONGEST - 1 - before) + 1):
            yield f"{marked[at - before : at]}.{marked[at : at + after + 1]}"


@cache
def _patterns() -> tuple[dict[str, int], int]:
    lines = (files("rubric_kit.measures") / "data" / "syllable_patterns.txt").read_text("utf-8").splitlines()
    weights = {}
    for line in lines:
        if not line.startswith("#"):
            pattern, weight = line.split()
            weights[pattern] = int(weight)
    return weights, weights.pop("base")
