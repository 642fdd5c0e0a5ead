"""Words that stand side by side, and how seldom printed books put them there: "could of", "they was", "the the"."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from rubric_kit.measures.found import Found
from rubric_kit.measures.frequency import zipf_of_words
from rubric_kit.measures.remembered import Remembered
from rubric_kit.measures.spelling.beside import ONE, UNLISTED, beside
from rubric_kit.reading import Essay, Word

REMEMBERED = 10_000  # pairs
ODD = 1.5  # powers of ten rarer than chance; how often such a pair is a slip: data/trust.toml
WHY = "these two words seldom stand side by side; a word, an ending or a comma may be amiss"


class Neighbours(NamedTuple):
    """Two words with nothing but space between them, how many powers of ten rarer than chance the pair is, and in which
    paragraph (from 1).
    """

    first: Word
    second: Word
    strain: float
    paragraph: int


def neighbours(essay: Essay, misspelled: Collection[int] = ()) -> Iterator[Neighbours]:
    """Pairs of words in one sentence that can be judged; ``misspelled`` are the places of words spelled wrong."""
    for number, paragraph in enumerate(essay.paragraphs, start=1):
        for sentence in paragraph.sentences:
            judged, before, plain_before = _AT_THE_START, None, ""
            for word in sentence.words:
                plain = "" if word.start in misspelled else judged[word.text]
                if before and plain and plain_before and essay.text[before.end : word.start].isspace():
                    yield Neighbours(before, word, _strain(plain_before, plain), number)
                judged, before, plain_before = _INSIDE, word, plain


def odd_pairs(essay: Essay, pairs: Iterable[Neighbours]) -> tuple[Found, ...]:
    """Pairs thirty times rarer than chance or more, in order. Not every one is a slip: they are for reading aloud."""
    return tuple(
        Found(essay.text[first.start : second.end], first.start, second.end, "odd pair", WHY, paragraph)
        for first, second, strain, paragraph in pairs
        if strain >= ODD
    )


def _plain(text: str) -> str:
    """A word in small letters; "" for one that cannot be judged, since the counts say too little of what stands beside
    it: a contraction, a rare word.
    """
    small = text.lower()
    return small if text.isalpha() and small in zipf_of_words() else ""


def _plain_inside(text: str) -> str:
    """... and inside a sentence a name."""
    return _plain(text) if text in {text.lower(), "I"} else ""


_AT_THE_START = Remembered(_plain)
_INSIDE = Remembered(_plain_inside)


@lru_cache(maxsize=REMEMBERED)
def _strain(first: str, second: str) -> float:
    by_chance = zipf_of_words()[first] + zipf_of_words()[second] - 2 * ONE
    # Of two words as rare as that a listed pair is commoner than chance, and an unlisted one says nothing.
    return 0.0 if by_chance <= UNLISTED else max(0.0, -beside(first, second))
