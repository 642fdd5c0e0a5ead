"""Matching a written word with many others at once, column by column: words that begin alike share their columns."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from rapidfuzz.distance import Prefix

# What it costs at least to match the first 0, 1, 2 ... letters of the written word with the beginning of another.
Column = list[float]
NextColumn = Callable[[str, list[Column]], Column]


def costs_to_the_end(others: Iterable[str], first: Column, following: NextColumn) -> dict[str, float]:
    """What it costs to match the whole written word with each of the others.

    ``first`` is the column of an empty beginning; ``following(beginning, columns)`` gives the next beginning's, which
    is one letter longer, from the columns of all shorter ones.
    """
    columns, done = [first], ""
    costs = {}
    for other in sorted(others):
        shared = Prefix.similarity(done, other)
        del columns[shared + 1 :]
        for end in range(shared + 1, len(other) + 1):
            columns.append(following(other[:end], columns))
        costs[other], done = columns[-1][-1], other
    return costs
