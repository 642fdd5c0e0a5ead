"""How common a word is, by wordfreq's small list (the large one takes ten times as long to load)."""

from __future__ import annotations

import math
from functools import cache

UNLISTED = 2.0  # Zipf for words rarer than the list's last (Zipf 3.0): halfway to the rarest word we suggest


@cache
def _frequencies() -> dict[str, float]:
    from wordfreq import get_frequency_dict

    return dict(get_frequency_dict("en", "small"))


def zipf(word: str) -> float:
    """log10 of uses in a thousand million words: 7 is "the", 5 is "school", 3 is "wizards"."""
    frequency = _frequencies().get(word.lower())
    return round(math.log10(frequency) + 9, 2) if frequency else UNLISTED
