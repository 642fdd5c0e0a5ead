"""Percents in exact arithmetic, rounded once: half up, to one decimal. So 89.95 is 90.0 on every computer."""

from __future__ import annotations

from fractions import Fraction
from math import floor

DECIMALS = 1  # of a percent as shown


def as_written(number: float) -> Fraction:
    """A finite number as it was written: 0.1 is a tenth."""
    return Fraction(repr(float(number)))


def rounded(value: Fraction) -> Fraction:
    """Half up to one decimal: the only rounding there is."""
    return Fraction(floor(value * 10**DECIMALS + Fraction(1, 2)), 10**DECIMALS)
