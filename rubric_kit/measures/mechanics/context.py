"""What surrounds a word: the features by which one of several easily confused words is chosen."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable

    from spacy.tokens import Token

EDGE = ("<>", "<>")  # stands for the neighbours of the first and the last word of a sentence
SUFFIX = 3  # letters; enough to tell -ing, -ed and -ly, and it works for misspelled neighbours too

Neighbour = tuple[str, str]  # the word in small letters, its Penn Treebank tag


class Tagged(NamedTuple):
    """The tokens of one sentence as columns: places in the text (characters), words and tags."""

    starts: list[int]
    ends: list[int]
    words: list[Neighbour]


def tagged(tokens: Iterable[Token]) -> Tagged:
    """Lay the tokens of one sentence out for lookup by place; spaces are left out."""
    kept = [token for token in tokens if not token.is_space]
    return Tagged(
        [token.idx for token in kept],
        [token.idx + len(token) for token in kept],
        [(token.lower_, token.tag_) for token in kept],
    )


def around(sentence: Tagged, start: int, end: int) -> tuple[list[Neighbour], list[Neighbour]]:
    """The two neighbours before ``start`` and the three after ``end``, fewer at the edges of the sentence."""
    before = bisect_right(sentence.ends, start)
    after = bisect_left(sentence.starts, end)
    return sentence.words[max(before - 2, 0) : before], sentence.words[after : after + 3]


def features(left: Sequence[Neighbour], right: Sequence[Neighbour]) -> Iterator[str]:
    """Name every feature of a gap between ``left`` and ``right``, the neighbours inside its sentence in order."""
    (word_2, tag_2), (word_1, tag_1) = (EDGE, EDGE, *left)[-2:]
    (next_1, after_1), (next_2, after_2), (_, after_3) = (*right[:3], EDGE, EDGE, EDGE)[:3]
    yield from (f"w-1={word_1}", f"w-2={word_2}", f"w+1={next_1}", f"w+2={next_2}")
    yield from (f"t-1={tag_1}", f"t-2={tag_2}", f"t+1={after_1}", f"t+2={after_2}")
    yield from (f"t-2-1={tag_2} {tag_1}", f"t-1+1={tag_1} {after_1}", f"t+1+2={after_1} {after_2}")
    yield f"t+1+2+3={after_1} {after_2} {after_3}"
    yield from (f"w-2-1={word_2} {word_1}", f"w-1+1={word_1} {next_1}", f"w+1+2={next_1} {next_2}")
    yield from (f"w-1t+1={word_1} {after_1}", f"t-1w+1={tag_1} {next_1}", f"w+1t+2={next_1} {after_2}")
    yield from (f"s-1={word_1[-SUFFIX:]}", f"s+1={next_1[-SUFFIX:]}")
