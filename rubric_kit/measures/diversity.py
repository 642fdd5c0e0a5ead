"""How varied a run of words is: formulas that take tokens (small letters, in order) and return one number."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

MATTR_WINDOW = 50  # words; the usual window for short texts: a paragraph of a grade 5 child fills it
MTLD_THRESHOLD = 0.72  # type-token ratio at which a factor is full (McCarthy & Jarvis 2010)
HDD_SAMPLE = 42  # words drawn (McCarthy & Jarvis 2007)


def type_token_ratio(tokens: Sequence[str]) -> float:
    """Types / tokens. Falls as a text grows: compare only texts of the same length."""
    return len(set(tokens)) / len(tokens)


def mattr(tokens: Sequence[str], window: int = MATTR_WINDOW) -> float:
    """Mean type-token ratio of all runs of ``window`` words (Covington & McFall 2010); needs that many tokens."""
    inside = Counter(tokens[:window])
    total = len(inside)
    for leaving, entering in zip(tokens, tokens[window:], strict=False):
        inside[leaving] -= 1
        if not inside[leaving]:
            del inside[leaving]
        inside[entering] += 1
        total += len(inside)
    return total / (len(tokens) - window + 1) / window


def mtld(tokens: Sequence[str]) -> float:
    """Mean length of runs that keep the type-token ratio above 0.72, forwards and backwards (McCarthy & Jarvis 2010).

    A factor is full when the ratio *reaches* 0.72, as the paper and the lexicalrichness package have it; some other
    programs wait until it falls below. With no word repeated there is no factor, full or partial, and no value
    (ZeroDivisionError): the catalogue says so before it comes to that.
    """
    return (len(tokens) / _factors(tokens) + len(tokens) / _factors(reversed(tokens))) / 2


def _factors(tokens: Iterable[str]) -> float:
    full, types, length = 0, set[str](), 0
    for token in tokens:
        types.add(token)
        length += 1
        if len(types) / length <= MTLD_THRESHOLD:
            full, types, length = full + 1, set(), 0
    return full + ((1 - len(types) / length) / (1 - MTLD_THRESHOLD) if length else 0)


def hdd(tokens: Sequence[str], sample: int = HDD_SAMPLE) -> float:
    """Expected type-token ratio of a random draw of 42 words, by the hypergeometric distribution (McCarthy & Jarvis
    2007); needs that many tokens.
    """
    by_frequency = Counter(Counter(tokens).values())
    return sum(n * (1 - _absent(len(tokens), times, sample)) for times, n in by_frequency.items()) / sample


def _absent(tokens: int, times: int, sample: int) -> float:
    """The chance that a type which stands ``times`` times is not drawn at all."""
    chance = 1.0
    for i in range(times):
        chance *= max(0, tokens - sample - i) / (tokens - i)
    return chance
