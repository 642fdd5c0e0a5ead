"""The shape of a sentence: function words as they stand, every other word as its part of speech."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from spacy.tokens import Token

CLOSED = frozenset({"DT", "IN", "TO", "MD", "PRP", "PRP$", "CC", "WDT", "WP", "WRB", "WP$", "EX", "RP", "PDT", "POS"})
MARKS = {".": ".", ",": ",", ":": ":", "``": '"', "''": '"', "HYPH": "-"}
OTHER_MARKS = frozenset({"-LRB-", "-RRB-", "NFP"})


def shape(token: Token) -> str:
    """A function word in small letters, a mark, or a Penn Treebank tag: "the NN of PRP$"."""
    if token.tag_ in MARKS:
        return MARKS[token.tag_]
    if token.tag_ in OTHER_MARKS:
        return "("
    return token.lower_ if token.tag_ in CLOSED or token.lower_ in _kept() else token.tag_


def written(tokens: Iterable[Token]) -> list[Token]:
    """The tokens that are not mere space."""
    return [token for token in tokens if not token.is_space]


@cache
def _kept() -> frozenset[str]:
    lines = (files("rubric_kit.measures.signs") / "data/kept_words.txt").read_text("utf-8").splitlines()
    return frozenset(word for line in lines if not line.startswith("#") for word in line.split())
