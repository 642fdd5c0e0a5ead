"""How well words go together: "best friend" is met far oftener than its words are common, "best fiend" is not."""

from __future__ import annotations

from functools import cache, lru_cache

from rubric_kit.measures.frequency import zipf_of_words
from rubric_kit.measures.spelling.words import list_body

UNLISTED = -6.7  # log10 of the share of all pairs that an unlisted pair has at most: half of the rarest listed one's
REMEMBERED = 500  # rows read; each holds up to some hundred words
ONE = 9.0  # Zipf of a word that is every word


def beside(first: str, second: str) -> float:
    """Log10 of how much oftener ``second`` follows ``first`` than chance has it (pointwise mutual information).

    Both in plain small letters. 0 where nothing is known: for "" (no neighbour), for rare words, and for unlisted pairs
    that chance would make rarer than the list goes.
    """
    rows = _rows()
    if first not in rows or second not in rows:
        return 0.0
    by_chance = zipf_of_words()[first] + zipf_of_words()[second] - 2 * ONE
    share = _after(first).get(second)
    return min(0.0, UNLISTED - by_chance) if share is None else share - by_chance


def is_listed_pair(first: str, second: str) -> bool:
    """Is ``second`` often met after ``first``?"""
    return first in _rows() and second in _after(first)


@cache
def _rows() -> dict[str, str]:
    """First word to its row, unread: an essay needs few of them."""
    return {
        first: row for first, _, row in (line.partition("\t") for line in list_body("word_pairs.txt.gz").split("\n"))
    }


@lru_cache(maxsize=REMEMBERED)
def _after(first: str) -> dict[str, float]:
    """The words listed after ``first``, with log10 of the pair's share of all pairs."""
    shares = {}
    for level in _rows()[first].split("\t"):
        share, *words = level.split(" ")
        shares.update(dict.fromkeys(words, int(share) / 10))
    return shares
