"""Words that stand side by side, and how seldom printed books put them there: "could of", "they was", "the the"."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import pairwise
from typing import NamedTuple

from rubric_kit.measures.found import Found
from rubric_kit.measures.frequency import zipf_of_words
from rubric_kit.measures.spelling.beside import beside
from rubric_kit.reading import Essay, Paragraph, Word

ODD = 1.5  # powers of ten rarer than chance; how often such a pair is a slip: data/trust.toml
WHY = "these two words seldom stand side by side; a word, an ending or a comma may be amiss"


class Neighbours(NamedTuple):
    """Two words with nothing but space between them, and how many powers of ten rarer than chance the pair is."""

    first: Word
    second: Word
    strain: float


def neighbours(essay: Essay, misspelled: Collection[int] = ()) -> Iterator[Neighbours]:
    """Pairs of words in one sentence that can be judged; ``misspelled`` are the places of words spelled wrong."""
    for paragraph in essay.paragraphs:
        yield from _in_paragraph(essay, paragraph, misspelled)


def odd_pairs(essay: Essay, misspelled: Collection[int] = ()) -> tuple[Found, ...]:
    """Pairs thirty times rarer than chance or more, in order. Not every one is a slip: they are for reading aloud."""
    return tuple(
        Found(essay.text[first.start : second.end], first.start, second.end, "odd pair", WHY, number)
        for number, paragraph in enumerate(essay.paragraphs, start=1)
        for first, second, strain in _in_paragraph(essay, paragraph, misspelled)
        if strain >= ODD
    )


def _in_paragraph(essay: Essay, paragraph: Paragraph, misspelled: Collection[int]) -> Iterator[Neighbours]:
    for sentence in paragraph.sentences:
        judged = [_can_be_judged(word, place, misspelled) for place, word in enumerate(sentence.words)]
        for place, (first, second) in enumerate(pairwise(sentence.words)):
            if judged[place] and judged[place + 1] and essay.text[first.end : second.start].isspace():
                yield Neighbours(first, second, max(0.0, -beside(first.text.lower(), second.text.lower())))


def _can_be_judged(word: Word, place: int, misspelled: Collection[int]) -> bool:
    """Names, contractions and rare words cannot: the counts say too little of what stands beside them."""
    plain = place == 0 or word.text.islower() or word.text == "I"
    common = word.text.isalpha() and word.text.lower() in zipf_of_words()
    return plain and common and word.start not in misspelled
