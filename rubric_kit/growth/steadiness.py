"""How steady the one reader is, from pieces marked a second time without sight of the first marks."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from importlib.resources import files
from math import sqrt
from statistics import fmean, variance
from typing import NamedTuple

from rubric_kit.growth.reliable import Drift, ReaderError, drift, reader_error, sem_from_pairs
from rubric_kit.scoring.agreement import Agreement, agreement
from rubric_kit.scoring.score import READER_SPREAD

ENOUGH = 8  # pieces marked twice: from here the upper limit of a 95% interval is at most about twice the error found
STEPS = (1.0, 0.5)  # levels are given whole or in halves


class Remark(NamedTuple):
    """One criterion of one piece marked twice by the same reader; ``date`` is that of the second marking, and ``piece``
    tells pieces of one day apart.
    """

    date: date
    criterion: str
    first: float
    second: float
    piece: int | str = ""


class KnownError(NamedTuple):
    """A standard error of measurement in levels, and where it comes from."""

    value: float
    source: str


@dataclass(frozen=True, slots=True)
class Steadiness:
    """What second markings show of a reader.

    essays        pieces marked twice
    step          1 where all levels were given whole, else 0.5
    agreement     second against first marks, all criteria together; ``mean_difference`` is second minus first
    drift         of the mean difference of each piece
    by_criterion  the reader's error on each criterion
    pooled        the same over all criteria, each with its own shift; the interval counts pieces, as the criteria of
                  one piece are not independent
    whole         of the mean of a piece's criteria, smaller than that of one criterion
    words         all this for the reader
    """

    essays: int
    step: float
    agreement: Agreement
    drift: Drift
    by_criterion: Mapping[str, ReaderError]
    pooled: ReaderError
    whole: ReaderError
    words: str

    def error(self, criterion: str | None = None) -> KnownError:
        """The error to judge a change on a criterion by; without a name, on the whole piece. Own figures count from
        eight pieces on, the criterion's own before the pooled one; before that the spread of readers on labelled
        essays. It is never taken as less than rounding hides: a level spread evenly over its step, step / sqrt(12), and
        for a whole piece, the mean of k criteria, 1 / sqrt(k) of that.
        """
        least = self.step / sqrt(12 * (1 if criterion else max(1, len(self.by_criterion))))
        own = self.by_criterion.get(criterion) if criterion else self.whole
        for found, source in ((own, "own" if criterion else "whole"), (self.pooled, "pooled")):
            if found and found.value is not None and min(found.n, self.essays) >= ENOUGH:
                return KnownError(max(found.value, least), words()[source])
        return KnownError(READER_SPREAD, words()["default"])


def steadiness(remarks: Iterable[Remark]) -> Steadiness:
    """Compare a reader with the same reader earlier. Raises UnusableSeriesError for marks that are not finite."""
    pairs = sorted(remarks, key=lambda pair: (pair.date, str(pair.piece), pair.criterion, pair.first, pair.second))
    by_criterion: dict[str, list[Remark]] = {}
    by_piece: dict[tuple[date, int | str], list[Remark]] = {}
    for pair in pairs:
        by_criterion.setdefault(pair.criterion, []).append(pair)
        by_piece.setdefault((pair.date, pair.piece), []).append(pair)
    first = [fmean(pair.first for pair in piece) for piece in by_piece.values()]
    second = [fmean(pair.second for pair in piece) for piece in by_piece.values()]
    result = Steadiness(
        essays=len(by_piece),
        step=next((s for s in STEPS if all(m % s == 0 for pair in pairs for m in pair[2:4])), STEPS[-1]),
        agreement=agreement([pair.second for pair in pairs], [pair.first for pair in pairs]),
        drift=drift([day for day, _ in by_piece], [b - a for a, b in zip(first, second, strict=True)]),
        by_criterion={name: _error(group) for name, group in by_criterion.items()},
        pooled=_pooled(list(by_criterion.values()), len(by_piece)),
        whole=sem_from_pairs(first, second),
        words="",
    )
    return replace(result, words=_in_words(result))


def _error(pairs: Sequence[Remark]) -> ReaderError:
    return sem_from_pairs([pair.first for pair in pairs], [pair.second for pair in pairs])


def _pooled(groups: Sequence[Sequence[Remark]], essays: int) -> ReaderError:
    n = sum(len(group) for group in groups)
    known = [[pair.second - pair.first for pair in group] for group in groups if len(group) > 1]
    if not known or essays < 2:
        return ReaderError(None, None, n)
    squares = sum(variance(group) * (len(group) - 1) for group in known)
    return reader_error(squares / sum(len(group) - 1 for group in known), essays - 1, n)


def _in_words(found: Steadiness) -> str:
    say, error = words(), found.error()
    if found.essays < ENOUGH:
        pieces = f"{found.essays} piece{'s' * (found.essays != 1)}"
        return say["few"].format(essays=pieces, enough=ENOUGH, error=error.value, source=error.source)
    agreed, lean = found.agreement, found.drift
    parts = [say["agree"].format(n=agreed.n, exact=agreed.exact, adjacent=agreed.adjacent)]
    if found.pooled.value and found.pooled.interval:
        low, high = found.pooled.interval
        parts.append(say["error"].format(error=found.pooled.value, low=low, high=high))
    else:
        of_one = found.error(next(iter(found.by_criterion)))
        parts.append(say["no_error"].format(error=of_one.value))
    mean = lean.mean or 0.0
    if lean.beyond_chance:
        low, high = sorted(map(abs, lean.interval or (mean, mean)))
        between = say["between"].format(low=low, high=high) if lean.interval else ""
        parts.append(say["gentler" if mean > 0 else "stricter"].format(mean=abs(mean), between=between))
    else:
        parts.append(say["level"].format(mean=mean))
    if lean.trend.beyond_chance:
        parts.append(say["drifting"].format(direction=lean.trend.direction))
    return " ".join(parts)


@cache
def words() -> dict[str, str]:
    return tomllib.loads((files("rubric_kit.growth") / "data" / "steadiness.toml").read_text("utf-8"))
