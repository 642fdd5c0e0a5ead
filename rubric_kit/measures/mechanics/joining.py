"""Words that join clauses, and the marks around them: shared by run-ons and fragments."""

from __future__ import annotations

import tomllib
from bisect import bisect_left
from functools import cache, lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING

from rapidfuzz.distance import OSA

from rubric_kit.measures.clauses import clause_words
from rubric_kit.measures.spelling.known import is_known

if TYPE_CHECKING:
    from rubric_kit.measures.tree import Tree

SLIPS_IN_BECAUSE = 2  # letters; the joining word that children misspell most: "becouse", "becuz", "becas"
LEAST_BECAUSE = 5  # letters
SLIPS_IN_TAKER = 1  # letters or two changed about: "beleived", "relized"
LEAST_TAKER = 5  # letters; shorter words are too near to others
ENDINGS = ("", "s", "d", "ed")
REMEMBERED = 10_000  # words
ALIKE = 3  # tokens from "and" to the verb that a row of like clauses repeats: "and the badger has"


@cache
def sentence_words(name: str) -> frozenset[str]:
    """One list of ``data/sentence_words.toml``."""
    lists = tomllib.loads((files("rubric_kit.measures.mechanics") / "data" / "sentence_words.toml").read_text("utf-8"))
    return frozenset(lists[name].split())


@lru_cache(maxsize=REMEMBERED)
def joins_clauses(word: str) -> bool:
    """A conjunction, a relative or a question word, or a misspelled one; ``word`` in small letters."""
    if word in sentence_words("joiners"):
        return True
    return (
        len(word) >= LEAST_BECAUSE
        and word.startswith(("bec", "beac"))
        and word[:5] not in {"becom", "becam"}
        and OSA.distance(word, "because") <= SLIPS_IN_BECAUSE
    )


@lru_cache(maxsize=REMEMBERED)
def takes_clause(word: str, lemma: str) -> bool:
    """A clause without "that" may follow as its object ("I think it works"); also when the word is misspelled."""
    takers = clause_words("complement_takers")
    if lemma in takers or word in sentence_words("clause_takers"):
        return True
    if len(word) < LEAST_TAKER or is_known(word):
        return False
    roots = [word.removesuffix(ending) for ending in ENDINGS]
    long = [taker for taker in takers if len(taker) >= LEAST_TAKER]
    return any(OSA.distance(root, taker) <= SLIPS_IN_TAKER for root in roots for taker in long)


@lru_cache(maxsize=1)  # asked of one sentence at each of its joins in turn
def has_comparison(tree: Tree, start: int, end: int) -> bool:
    """As in "The more you read, the more you know"."""
    pairs = sum(tree.words[i] == "the" and tree.tags[i + 1] in {"JJR", "RBR"} for i in range(start, end - 1))
    return pairs > 1


def goes_on_alike(tree: Tree, subjects: tuple[int, int], verbs: tuple[int, int], end: int) -> bool:
    """Two clauses have the same subject or verb, and before ``end`` so has a third one after an "and".

    As in "He was fair, he was kind and he kept calm", "Ann has a cat, Ben has a dog and the girls have birds".
    """
    ands = _ands(tree)
    ands = ands[bisect_left(ands, verbs[1]) : bisect_left(ands, end - ALIKE)]
    subject, verb = (_common(tree.words, pair) for pair in (subjects, verbs))
    if tree.lemmas[verbs[0]] == "be":  # too common to show a row
        verb = None
    return any(tree.words[k + 1] == subject or verb in tree.words[k + 2 : k + 1 + ALIKE] for k in ands)


@lru_cache(maxsize=1)
def _ands(tree: Tree) -> list[int]:
    return [k for k, word in enumerate(tree.words) if word == "and"]


def _common(words: list[str], pair: tuple[int, int]) -> str | None:
    one, two = (words[k] for k in pair)
    return one if one == two else None
