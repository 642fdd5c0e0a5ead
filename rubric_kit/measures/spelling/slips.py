"""What it costs to mistype or misremember one word as another, letter by letter."""

from __future__ import annotations

from functools import lru_cache
from itertools import accumulate, product

from rubric_kit.measures.spelling.sounds import NEAR, VOWEL_LETTERS

KEYBOARD = ("qwertyuiop", "asdfghjkl", "zxcvbnm")


def _neighbours() -> frozenset[tuple[str, str]]:
    """Pairs of letters whose keys touch."""
    place = {letter: (x + y / 2, y) for y, row in enumerate(KEYBOARD) for x, letter in enumerate(row)}
    pairs = product(place.items(), repeat=2)
    return frozenset((a, b) for (a, (x, y)), (b, (u, v)) in pairs if a != b and abs(x - u) <= 1 and abs(y - v) <= 1)


TOUCHING = _neighbours()
ALIKE = frozenset((a, b) for a, near in NEAR.items() for b in near) | {("c", "s"), ("c", "k"), ("k", "c"), ("s", "c")}

# Costs of one slip; the smallest are the commonest. Found by trying other costs, one at a time, on half of the
# misspelling lists (tests/measures/spelling_lists.py), then corrected by the weights that a count of each kind of slip
# got when fitted beside them.
HALVED = 0.59  # a letter written once for twice
DOUBLED = 0.4  # twice for once
SWAP = 0.25  # two letters the wrong way round
VOWEL = 1.06  # one vowel letter for another
SOFT = 0.6  # a vowel letter, h, w or r left out or put in
FINAL_E = 0.25  # a silent e put at the end
APOSTROPHE = 1.6  # put where there is none; left out it is SOFT
ALIKE_LETTER = 0.55  # a letter of a like sound
TOUCHING_KEY = 1.1
OTHER = 1.0  # any other letter left out or put in
OTHER_LETTER = 1.5  # any other letter for a letter
LETTERS = 100  # remembered: more than children write
SOFT_LETTERS = VOWEL_LETTERS | {"h", "r", "'"}


def slip_cost(written: str, meant: str) -> float:
    """The cheapest set of slips that turns ``meant`` into ``written``; 0 for the same word."""
    before_last: list[float] = []
    left_out = [_left_out(meant, j) for j in range(len(meant))]
    last = list(accumulate(left_out, initial=0.0))
    for i, w in enumerate(written):
        extra = _put_in(written, i)
        other_letters = _other_letters(w)
        here = last[0] + extra
        row = [here]
        for j, m in enumerate(meant):  # without min(), which takes longer than all the rest
            cost = last[j] if w == m else last[j] + other_letters[m]
            if i and j and w == meant[j - 1] and written[i - 1] == m and w != m:
                swapped = before_last[j - 1] + SWAP
                cost = swapped if swapped < cost else cost
            put_in, left = last[j + 1] + extra, here + left_out[j]
            cost = put_in if put_in < cost else cost
            here = left if left < cost else cost
            row.append(here)
        before_last, last = last, row
    return last[-1]


def _left_out(meant: str, i: int) -> float:
    if i and meant[i - 1] == meant[i]:
        return HALVED
    return SOFT if meant[i] in SOFT_LETTERS else OTHER


def _put_in(written: str, i: int) -> float:
    letter = written[i]
    if i and written[i - 1] == letter:
        return DOUBLED
    if letter == "'":
        return APOSTROPHE
    if letter == "e" and i == len(written) - 1:
        return FINAL_E
    return SOFT if letter in SOFT_LETTERS else OTHER


class _OtherLetters(dict[str, float]):
    """What each letter costs that is written as ``written``, worked out when it is first asked for."""

    def __init__(self, written: str) -> None:
        self.written = written

    def __missing__(self, meant: str) -> float:
        pair = (self.written, meant)
        if VOWEL_LETTERS.issuperset(pair):
            cost = VOWEL
        else:
            cost = ALIKE_LETTER if pair in ALIKE else TOUCHING_KEY if pair in TOUCHING else OTHER_LETTER
        self[meant] = cost
        return cost


@lru_cache(maxsize=LETTERS)
def _other_letters(written: str) -> _OtherLetters:
    return _OtherLetters(written)
