"""From the words of an essay to the tokens of its parse."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable

from rubric_kit.measures.parse import Parse
from rubric_kit.reading import Word


def first_tokens(words: Iterable[Word], parse: Parse) -> list[int]:
    """For each word the index of the token that it starts in: "don't" is one word and two tokens."""
    return [bisect_right(parse.tree.starts, word.start) - 1 for word in words]
