"""How far two pieces of text speak of the same things: lemmas, word families and near words, weighted by rarity.

Not a language model: it can see that "an owl's hearing" and "owls hear well" touch, not that two claims agree.
"""

from __future__ import annotations

import gzip
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache
from importlib.resources import files
from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

from rubric_kit.measures.frequency import zipf
from rubric_kit.measures.remembered import Remembered

if TYPE_CHECKING:
    from spacy.tokens import Token

CONTENT = {"NOUN", "PROPN", "VERB", "ADJ", "ADV", "NUM"}
FAMILY = 0.9  # teach ~ teacher: nearly the word itself
NEAR = 0.45  # brave ~ bold: touches; below half, so that two near words do not outweigh one repeated word
RARE = 7.5  # zipf at which a word says nothing ("the" is 7.7); weight is the distance below it
UNSEEN = 2.5  # zipf given to words outside wordfreq's short list, whose rarest is 3
EMPTY = {
    "thing", "lot", "way", "get", "make", "go", "do", "be", "have", "say", "think", "reason", "also", "really", "very",
    "people", "would", "could", "know", "want", "when", "so", "then", "just", "even", "how", "why", "here", "there",
    "now", "first", "second", "third", "last", "one", "two", "three", "many", "much", "good", "more", "most", "other",
    "example", "conclusion", "essay", "paragraph", "book", "story", "author", "chapter", "page",
}  # fmt: skip

Terms = Mapping[str, float]


class Related(NamedTuple):
    """A common word's family, its near words, and its kinds: idea or thing as a noun, deed as a verb."""

    family: tuple[str, ...]
    near: tuple[str, ...]
    kinds: tuple[str, ...]


UNRELATED = Related((), (), ())


@lru_cache(maxsize=20_000)
def related(lemma: str) -> Related:
    """From WordNet 3 (Princeton University); see the data file's header. Empty for a word outside the file."""
    row = _rows().get(lemma)
    if row is None:
        return UNRELATED
    family, near, kinds = row.split("\t")
    return Related(tuple(family.split()), tuple(near.split()), tuple(kinds.split()))


@cache
def _rows() -> dict[str, str]:
    packed = (files("rubric_kit.measures") / "data/related_words.tsv.gz").read_bytes()
    lines = gzip.decompress(packed).decode("utf-8").splitlines()
    return dict(line.split("\t", 1) for line in lines if line[0] != "#")


@lru_cache(maxsize=20_000)
def rarity(lemma: str) -> float:
    """How much a word says: 7.5 minus its Zipf value (Speer 2022, wordfreq), at least 0."""
    return max(0.0, RARE - (zipf(lemma) or UNSEEN))


def terms(tokens: Iterable[Token]) -> dict[str, float]:
    """The content lemmas of some tokens, each with its weight (0 to 5)."""
    return weighed([token.lemma_ for token in tokens if token.pos_ in CONTENT])


def weighed(content: Iterable[str]) -> dict[str, float]:
    """Lemmas of content words, each with its weight (0 to 5); those that say nothing are left out."""
    # In order, so that sums come out the same to the last bit wherever they are worked out.
    lemmas = dict.fromkeys(map(str.lower, content))
    return {lemma: weight for lemma in lemmas if (weight := _WEIGHTS[lemma]) is not None}


def _weight(lemma: str) -> float | None:
    """What a term weighs; None for a lemma that is none."""
    return None if lemma in EMPTY or not any(map(str.isalnum, lemma)) else rarity(lemma)


_WEIGHTS = Remembered(_weight)


def reach(words: Terms) -> dict[str, float]:
    """Every word that these terms touch, and how closely (1 the word itself, less for family and near words)."""
    rows = [related(lemma) for lemma in words]
    reached = dict.fromkeys(chain.from_iterable(row.near for row in rows), NEAR)
    reached.update(dict.fromkeys(chain.from_iterable(row.family for row in rows), FAMILY))
    reached.update(dict.fromkeys(words, 1.0))
    return reached


def shared(words: Terms, reached: Mapping[str, float]) -> float:
    """The share (0 to 1) of the terms' weight that is met in what another text reaches; 0 for no terms."""
    if reached.keys().isdisjoint(words):
        return 0.0  # as often as not
    total = sum(words.values())
    met = sum([weight * reached[lemma] for lemma, weight in words.items() if lemma in reached])
    return met / total if total else 0.0
