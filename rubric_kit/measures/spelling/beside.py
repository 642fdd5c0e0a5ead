"""How well words go together: "best friend" is met far oftener than its words are common, "best fiend" is not."""

from __future__ import annotations

from functools import cache, lru_cache

from rubric_kit.measures.frequency import zipf_of_words
from rubric_kit.measures.spelling.words import list_body

UNLISTED = -6.7  # log10 of the share of all pairs that an unlisted pair has at most: half of the rarest listed one's
REMEMBERED = 10_000  # pairs
ONE = 9.0  # Zipf of a word that is every word


@lru_cache(maxsize=REMEMBERED)
def beside(first: str, second: str) -> float:
    """Log10 of how much oftener ``second`` follows ``first`` than chance has it (pointwise mutual information).

    Both in plain small letters. 0 where nothing is known: for "" (no neighbour), for rare words, and for unlisted pairs
    that chance would make rarer than the list goes.
    """
    rows = _rows()
    if first not in rows or second not in rows:
        return 0.0
    by_chance = zipf_of_words()[first] + zipf_of_words()[second] - 2 * ONE
    share = _share(first, second)
    return min(0.0, UNLISTED - by_chance) if share is None else share - by_chance


def is_listed_pair(first: str, second: str) -> bool:
    """Is ``second`` often met after ``first``?"""
    return first in _rows() and _share(first, second) is not None


@cache
def _rows() -> dict[str, str]:
    """First word to its row, unread: an essay needs few of them."""
    return {
        first: row for first, _, row in (line.partition("\t") for line in list_body("word_pairs.txt.gz").split("\n"))
    }


def _share(first: str, second: str) -> float | None:
    r"""Log10 of the listed pair's share of all pairs; None for an unlisted pair.

    A row has a list of words for each share: "-45 of to\t-46 in". It is searched as it is: to take it apart takes long.
    """
    row = _rows()[first]
    sought = f" {second}"
    at = len(row) - len(sought) if row.endswith(sought) else max(row.rfind(f"{sought} "), row.rfind(f"{sought}\t"))
    if at < 0:
        return None
    start = row.rfind("\t", 0, at) + 1
    return int(row[start : row.index(" ", start)]) / 10
