"""What it costs to mistype or misremember one word as another, letter by letter."""

from __future__ import annotations

from itertools import product

from rubric_kit.measures.spelling.sounds import NEAR, VOWEL_LETTERS

KEYBOARD = ("qwertyuiop", "asdfghjkl", "zxcvbnm")


def _neighbours() -> frozenset[tuple[str, str]]:
    """Pairs of letters whose keys touch."""
    place = {letter: (x + y / 2, y) for y, row in enumerate(KEYBOARD) for x, letter in enumerate(row)}
    pairs = product(place.items(), repeat=2)
    return frozenset((a, b) for (a, (x, y)), (b, (u, v)) in pairs if a != b and abs(x - u) <= 1 and abs(y - v) <= 1)


TOUCHING = _neighbours()
ALIKE = frozenset((a, b) for a, near in NEAR.items() for b in near) | {("c", "s"), ("c", "k"), ("k", "c"), ("s", "c")}

# Costs of one slip; the smallest are the commonest. Found by trying other costs, one at a time, on half of
# the misspelling lists (tests/measures/spelling_lists.py).
DOUBLING = 0.45  # a letter written once for twice, or twice for once
SWAP = 0.34  # two letters the wrong way round
VOWEL = 1.06  # one vowel letter for another
SOFT = 0.6  # a vowel letter, h, w or r left out or put in
ALIKE_LETTER = 0.6  # a letter of a like sound
TOUCHING_KEY = 0.9
OTHER = 1.0  # any other letter left out or put in
OTHER_LETTER = 1.3  # any other letter for a letter
SOFT_LETTERS = VOWEL_LETTERS | {"h", "r", "'"}


def slip_cost(written: str, meant: str) -> float:
    """The cheapest set of slips that turns ``meant`` into ``written``; 0 for the same word."""
    before_last: list[float] = []
    last = [0.0]
    for j in range(len(meant)):
        last.append(last[-1] + _one(meant, j))
    for i, w in enumerate(written):
        extra = _one(written, i)
        row = [last[0] + extra]
        for j, m in enumerate(meant):
            if w == m:
                cost = last[j]
            else:
                cost = last[j] + _other_letter(w, m)
                if i and j and w == meant[j - 1] and written[i - 1] == m:
                    cost = min(cost, before_last[j - 1] + SWAP)
            row.append(min(cost, last[j + 1] + extra, row[j] + _one(meant, j)))
        before_last, last = last, row
    return last[-1]


def _one(word: str, i: int) -> float:
    """Cost of leaving out, or putting in, the letter at this place."""
    if i and word[i - 1] == word[i]:
        return DOUBLING
    return SOFT if word[i] in SOFT_LETTERS else OTHER


def _other_letter(written: str, meant: str) -> float:
    if written in VOWEL_LETTERS and meant in VOWEL_LETTERS:
        return VOWEL
    pair = (written, meant)
    return ALIKE_LETTER if pair in ALIKE else TOUCHING_KEY if pair in TOUCHING else OTHER_LETTER
