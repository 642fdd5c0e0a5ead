"""What surrounds a word: the features by which one of several easily confused words is chosen."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rubric_kit.measures.tree import Tree

EDGE = ("<>", "<>")  # stands for the neighbours of the first and the last word of a sentence
REACH = 3  # words on each side
SUFFIX = 3  # letters; enough to tell -ing, -ed and -ly, and it works for misspelled neighbours too

Neighbour = tuple[str, str]  # the word in small letters, its Penn Treebank tag


class Tagged(NamedTuple):
    """The tokens of one sentence as columns: places in the text (characters), words and tags."""

    starts: list[int]
    ends: list[int]
    words: list[Neighbour]


def tagged(tree: Tree, tokens: Iterable[int]) -> Tagged:
    """Lay the tokens of one sentence out for lookup by place; spaces are left out."""
    kept = [token for token in tokens if not tree.texts[token].isspace()]
    return Tagged(
        [tree.starts[token] for token in kept],
        [tree.starts[token] + len(tree.texts[token]) for token in kept],
        [(tree.words[token], tree.tags[token]) for token in kept],
    )


def around(sentence: Tagged, start: int, end: int) -> tuple[list[Neighbour], list[Neighbour]]:
    """The neighbours before ``start`` and after ``end``, the nearest first, ``REACH`` of each."""
    before = bisect_right(sentence.ends, start)
    after = bisect_left(sentence.starts, end)
    left = [EDGE] * REACH + sentence.words[max(before - REACH, 0) : before]
    right = sentence.words[after : after + REACH] + [EDGE] * REACH
    return left[: -REACH - 1 : -1], right[:REACH]


def features(left: Sequence[Neighbour], right: Sequence[Neighbour]) -> list[str]:
    """Name every feature of a gap between ``left`` and ``right``, both with the nearest neighbour first."""
    (b1, p1), (b2, p2), (b3, _) = left  # words before, their tags
    (a1, n1), (a2, n2), (a3, n3) = right  # words after, their tags
    # fmt: off
    return [
        f"w-1={b1}", f"w-2={b2}", f"w-3={b3}", f"w+1={a1}", f"w+2={a2}", f"w+3={a3}",
        f"t-1={p1}", f"t-2={p2}", f"t+1={n1}", f"t+2={n2}",
        f"t-2-1={p2} {p1}", f"t-1+1={p1} {n1}", f"t+1+2={n1} {n2}", f"t+1+2+3={n1} {n2} {n3}",
        f"t-2-1+1={p2} {p1} {n1}", f"t-1+1+2={p1} {n1} {n2}",
        f"w-2-1={b2} {b1}", f"w-1+1={b1} {a1}", f"w+1+2={a1} {a2}", f"w-1+1+2={b1} {a1} {a2}",
        f"w-1t+1={b1} {n1}", f"t-1w+1={p1} {a1}", f"w+1t+2={a1} {n2}", f"w-1t+1+2={b1} {n1} {n2}",
        f"s-1={b1[-SUFFIX:]}", f"s+1={a1[-SUFFIX:]}", f"s+2={a2[-SUFFIX:]}",
        *{f"near={word}" for word, _ in (*left, *right)},
    ]
    # fmt: on
