"""What it costs to mistype or misremember one word as another, letter by letter."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import accumulate, pairwise, product

from rubric_kit.measures.spelling.columns import Column, costs_to_the_end
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


def slip_costs(written: str, others: Iterable[str]) -> dict[str, float]:
    """The cheapest set of slips that turns each of the others into ``written``; 0 for the same word."""
    put_in = [_put_in(written, i) for i in range(len(written))]
    changes = [_changes(letter) for letter in written]

    def following(meant: str, columns: list[Column]) -> Column:
        letter, before, last = meant[-1], meant[-2:-1], columns[-1]
        left_out = _left_out(meant)
        straight = [cost + change[letter] for cost, change in zip(last, changes, strict=False)]
        if before and before != letter and f"{letter}{before}" in written:
            for i, letters in enumerate(pairwise(written), start=1):
                if letters == (letter, before):
                    straight[i] = min(straight[i], columns[-2][i - 1] + SWAP)
        here = last[0] + left_out
        column = [here]
        for cost, before_it, extra in zip(straight, last[1:], put_in, strict=True):
            # Without min(), which takes longer than all the rest.
            without = before_it + left_out
            here += extra
            here = cost if cost < here else here
            here = without if without < here else here
            column.append(here)
        return column

    return costs_to_the_end(others, list(accumulate(put_in, initial=0.0)), following)


def _left_out(meant: str) -> float:
    """The last letter of what was meant is not written."""
    if meant[-2:-1] == meant[-1]:
        return HALVED
    return SOFT if meant[-1] in SOFT_LETTERS else OTHER


def _put_in(written: str, i: int) -> float:
    letter = written[i]
    if i and written[i - 1] == letter:
        return DOUBLED
    if letter == "'":
        return APOSTROPHE
    if letter == "e" and i == len(written) - 1:
        return FINAL_E
    return SOFT if letter in SOFT_LETTERS else OTHER


class _Changes(dict[str, float]):
    """What each letter costs that is written as ``written``, worked out when it is first asked for."""

    def __init__(self, written: str) -> None:
        self.written = written

    def __missing__(self, meant: str) -> float:
        pair = (self.written, meant)
        if self.written == meant:
            cost = 0.0
        elif VOWEL_LETTERS.issuperset(pair):
            cost = VOWEL
        else:
            cost = ALIKE_LETTER if pair in ALIKE else TOUCHING_KEY if pair in TOUCHING else OTHER_LETTER
        self[meant] = cost
        return cost


@lru_cache(maxsize=LETTERS)
def _changes(written: str) -> _Changes:
    return _Changes(written)
