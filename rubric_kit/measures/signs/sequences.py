"""How surprising the shapes of an essay's sentences are, by what follows what in edited prose."""

from __future__ import annotations

import gzip
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from importlib.resources import files
from math import log2
from typing import NamedTuple

LENGTH = 3  # shapes in a row
START, END = "<s>", "</s>"


class Counts(NamedTuple):
    """After a history of shapes: how often each shape followed, and all of them together."""

    of: Mapping[str, int]
    total: int


class Model:
    """Trigrams of shapes, interpolated with bigrams and single shapes (Witten & Bell 1991, IEEE Transactions on
    Information Theory 37(4), method C).
    """

    def __init__(self, rows: Iterable[tuple[Sequence[str], str, int]]) -> None:
        """rows: history (none, one or two shapes), shape, times."""
        table: dict[tuple[str, ...], dict[str, int]] = {}
        for history, follows, times in rows:
            table.setdefault(tuple(history), {})[follows] = times
        self.table = {history: Counts(of, sum(of.values())) for history, of in table.items()}
        self.shapes = len(self.table[()].of) + 1  # one for a shape never seen

    def excess(self, shapes: Sequence[str]) -> Iterator[float]:
        """For each shape of a sentence, and its end: bits of surprise in its place, beyond those of the shape alone."""
        padded = [*[START] * (LENGTH - 1), *shapes, END]
        for place in range(LENGTH - 1, len(padded)):
            history, follows = tuple(padded[place - LENGTH + 1 : place]), padded[place]
            yield log2(self._chance((), follows) / self._chance(history, follows))

    def _chance(self, history: tuple[str, ...], follows: str) -> float:
        shorter = 1 / self.shapes if not history else self._chance(history[1:], follows)
        seen = self.table.get(history)
        if seen is None:
            return shorter
        kinds = len(seen.of)
        return (seen.of.get(follows, 0) + kinds * shorter) / (seen.total + kinds)


@cache
def model() -> Model:
    """The model of data/sequences.tsv.gz, written by tests/measures/build_choices.py."""
    packed = (files("rubric_kit.measures.signs") / "data/sequences.tsv.gz").read_bytes()
    lines = gzip.decompress(packed).decode("utf-8").splitlines()
    rows = (line.split("\t") for line in lines if not line.startswith("#"))
    return Model((history.split(), follows, int(times)) for history, follows, times in rows)
