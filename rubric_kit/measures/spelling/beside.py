"""How well words go together: "best friend" is met far oftener than its words are common, "best fiend" is not."""

from __future__ import annotations

from functools import cache

from rubric_kit.measures.frequency import zipf_of_words
from rubric_kit.measures.spelling.words import list_body

UNLISTED = -6.7  # log10 of the share of all pairs that an unlisted pair has at most: half of the rarest listed one's
ONE = 9.0  # Zipf of a word that is every word


def beside(first: str, second: str) -> float:
    """Log10 of how much oftener ``second`` follows ``first`` than chance has it (pointwise mutual information).

    Both in plain small letters. 0 where nothing is known: for "" (no neighbour), for rare words, and for unlisted pairs
    that chance would make rarer than the list goes.
    """
    rows, zipf = _rows(), zipf_of_words()
    if first not in rows or second not in rows:
        return 0.0
    by_chance = zipf[first] + zipf[second] - 2 * ONE
    share = _shares(first).get(second)
    return min(0.0, UNLISTED - by_chance) if share is None else share - by_chance


def is_listed_pair(first: str, second: str) -> bool:
    """Is ``second`` often met after ``first``?"""
    return first in _rows() and second in _shares(first)


@cache
def _rows() -> dict[str, str]:
    """First word to its row, unread: an essay needs few of them."""
    return {
        first: row for first, _, row in (line.partition("\t") for line in list_body("word_pairs.txt.gz").split("\n"))
    }


@cache
def _shares(first: str) -> dict[str, float]:
    r"""Log10 of the share that each pair listed under ``first`` has of all pairs, by its second word.

    A row has a list of words for each share: "-45 of to\t-46 in".
    """
    lists = (words.split(" ") for words in _rows()[first].split("\t"))
    return {second: int(share) / 10 for share, *seconds in lists for second in seconds}
