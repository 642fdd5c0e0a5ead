"""A measure is arithmetic on counts plus one row: formula, unit, source and smallest sample are data."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Generic, NamedTuple, TypeVar

Basis = TypeVar("Basis")


@dataclass(frozen=True, slots=True)
class Measure(Generic[Basis]):
    """One row of the catalogue.

    function  the formula, from its counts (``Basis``) to a number
    formula   the same formula in print
    source    author and year of the published definition
    at_least  counts below which the formula cannot be worked out at all
    wants     counts below which the result is only indicative
    """

    name: str
    function: Callable[[Basis], float]
    formula: str
    unit: str
    source: str
    at_least: Mapping[str, int] = field(default_factory=dict)
    wants: Mapping[str, int] = field(default_factory=dict)


class Result(NamedTuple):
    """A value, or the reason why there is none; ``note`` says when a value is only indicative."""

    name: str
    value: float | None
    unit: str
    source: str
    why_not: str = ""
    note: str = ""


def run(measure: Measure[Basis], basis: Basis) -> Result:
    """Work out one measure. "Cannot say" is a result with a reason, never a zero, a nan or an exception."""
    lacking = _short_of(measure.at_least, basis)
    if lacking:
        return Result(measure.name, None, measure.unit, measure.source, why_not=lacking)
    short = _short_of(measure.wants, basis)
    note = f"indicative: {short}" if short else ""
    return Result(measure.name, measure.function(basis), measure.unit, measure.source, note=note)


def by_name(measures: Iterable[Measure[Basis]]) -> dict[str, Measure[Basis]]:
    """Index measures by name; a name used twice is a mistake in the catalogue (ValueError)."""
    index: dict[str, Measure[Basis]] = {}
    for measure in measures:
        if measure.name in index:
            raise ValueError(f"two measures are called {measure.name}")
        index[measure.name] = measure
    return index


def _short_of(minimum: Mapping[str, int], basis: object) -> str:
    short: list[str] = []
    for name, least in minimum.items():
        has = getattr(basis, name)
        if has < least:
            short.append(f"wants {least} {name.replace('_', ' ')}, has {has}")
    return "; ".join(short)
