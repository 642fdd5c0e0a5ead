"""Finite clauses and T-units (Hunt 1965) from the dependency parse."""

from __future__ import annotations

import tomllib
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from rubric_kit.measures.tree import AUXILIARIES, Tree

FINITE_TAGS = frozenset({"VBD", "VBP", "VBZ", "MD"})
FILLED = frozenset({"dobj", "attr", "acomp", "oprd", "ccomp"})
MAIN_OPENERS = frozenset({"how", "once"})  # "Once there was a king", "How big it was"
ALWAYS_SUBORDINATE = frozenset({"acl", "csubj", "csubjpass", "pcomp", "xcomp"})
JOINERS = frozenset({"IN", "WRB", "WDT", "WP", "WP$"})


@dataclass(frozen=True, slots=True)
class Clause:
    """A finite clause: the place of its predicate among the tokens, and how it stands.

    main     heads a T-unit
    passive  its predicate is in the passive
    """

    predicate: int
    main: bool
    passive: bool


@cache
def clause_words(name: str) -> frozenset[str]:
    """One list of ``data/clause_words.toml``."""
    lists = tomllib.loads((files("rubric_kit.measures") / "data" / "clause_words.toml").read_text("utf-8"))
    return frozenset(lists[name].split())


def finite_clauses(tree: Tree) -> dict[int, Clause]:
    """Every clause of Hunt's definition, by its predicate: a subject, said or (in commands) understood, with a finite
    verb or several coordinated ones.
    """
    found: dict[int, Clause] = {}
    depth = sorted((i for i in range(len(tree.tags)) if _has_own_predicate(tree, i)), key=lambda i: _depth(tree, i))
    for i in depth:  # heads first: a coordinate clause stands as the clause that it is joined to
        found[i] = Clause(i, main=_is_main(tree, i, found), passive=bool(tree.find(i, frozenset({"auxpass"}))))
    return found


def compound_predicates(tree: Tree) -> int:
    """Verbs that share the subject of an earlier finite verb: "opened the door *and ran* outside"."""
    return sum(
        dep == "conj" and tree.tags[i] in FINITE_TAGS | {"VB"} and not tree.subjects(i)
        for i, dep in enumerate(tree.deps)
    )


def _depth(tree: Tree, token: int) -> int:
    steps = 0
    while tree.heads[token] != token:
        token, steps = tree.heads[token], steps + 1
    return steps


def _has_own_predicate(tree: Tree, i: int) -> bool:
    tag, dep = tree.tags[i], tree.deps[i]
    if dep in AUXILIARIES:
        return False
    if not (tag.startswith("VB") or tag == "MD"):  # a root with a subject is a verb, whatever the tagger took it for
        return dep == "ROOT" and bool(tree.subjects(i))
    if not _is_finite(tree, i):
        return False
    if tree.subjects(i):
        return True
    return dep == "ROOT" or (dep in {"ccomp", "parataxis"} and tag == "VB" and tree.quoted(i, tree.heads[i]))


def _is_finite(tree: Tree, i: int) -> bool:
    tag, dep = tree.tags[i], tree.deps[i]
    helpers = tree.find(i, AUXILIARIES)
    if any(tree.tags[child] == "TO" for child in helpers):
        return False
    if tag in FINITE_TAGS or any(tree.tags[child] in FINITE_TAGS for child in helpers):
        return True
    independent = dep in {"ROOT", "parataxis"} or tree.quoted(i, tree.heads[i])
    if tag == "VB":  # a command, or a child's "he run home"
        return independent or (dep == "conj" and bool(tree.subjects(i)))
    return tag == "VBN" and independent and bool(tree.subjects(i))  # "we seen it"


def _is_main(tree: Tree, i: int, found: dict[int, Clause]) -> bool:
    dep, head = tree.deps[i], tree.heads[i]
    if dep == "ROOT":
        return not _is_detached(tree, i)
    if dep == "conj":
        joined = found.get(_first_conjunct(tree, i))
        return (joined is None or joined.main) and not _has_subordinator(tree, i)
    if dep == "ccomp":
        return not _has_subordinator(tree, i) and not _is_complement(tree, i, head)
    if dep == "relcl":
        return not _has_subordinator(tree, i) and not _is_bare_relative(tree, i, head)
    return dep not in ALWAYS_SUBORDINATE and not _has_subordinator(tree, i)


def _first_conjunct(tree: Tree, i: int) -> int:
    """The clause that a coordinate clause is joined to; compound predicates in between are stepped over."""
    i = tree.heads[i]
    while tree.deps[i] == "conj" and not tree.subjects(i):
        i = tree.heads[i]
    return i


def _has_subordinator(tree: Tree, i: int) -> bool:
    """A subordinator of its own opens the clause; a bare "so" coordinates ("so we went home"), "so that" does not."""
    words = [tree.words[k] for k in range(tree.start(i), i) if tree.tags[k] in JOINERS and _clause_of(tree, k) == i]
    return words != ["so"] and any(word in clause_words("subordinators") for word in words)


def _clause_of(tree: Tree, k: int) -> int:
    """The verb that a joining word belongs to; a plain preposition ("after a rest") joins no clause."""
    if tree.deps[k] == "prep":
        return -1
    while tree.heads[k] != k:
        k = tree.heads[k]
        if tree.tags[k].startswith("VB") and tree.deps[k] not in AUXILIARIES:
            break
    return k


def _is_complement(tree: Tree, i: int, head: int) -> bool:
    """A clause with nothing to join it is the object of what is said or thought; else it is a run-on.

    After a quoted object, what is quoted next stands for itself: "I can't," she said, "it is too hard."
    """
    joined = (*_between(tree.children[head], head, i), *_between(tree.children[i], head, i))
    if any(tree.deps[k] == "cc" for k in joined):
        return False
    if tree.quoted(i, head):
        return not any(k < head < i and tree.quoted(k, head) for k in tree.find(head, frozenset({"ccomp"})))
    if i < head and any(k > head for k in tree.find(head, frozenset({"ccomp"}))):
        return False  # "We saw a whale the captain said it was big": what is said comes after
    return tree.lemmas[head] in clause_words("complement_takers")


def _between(children: Sequence[int], one: int, other: int) -> Sequence[int]:
    return children[bisect_right(children, one) : bisect_left(children, other)]


def _is_bare_relative(tree: Tree, i: int, head: int) -> bool:
    """A relative clause with no "that" follows its noun and leaves a gap ("the cake my aunt baked"); else, a run-on."""
    between = tree.tags[head + 1 : tree.start(i)]
    if tree.tags[head] in {"NNP", "PRP"} or "," in between or FINITE_TAGS.intersection(between):
        return False
    if tree.lemmas[head] in clause_words("gapless_nouns"):
        return True
    stranded = any(tree.deps[k] == "prep" and not tree.find(k, frozenset({"pobj", "pcomp"})) for k in tree.children[i])
    return stranded or not tree.find(i, FILLED)


def _is_detached(tree: Tree, i: int) -> bool:
    """A subordinate clause punctuated as a sentence: "Because it was raining" and no more."""
    subjects = tree.subjects(i)
    if not subjects or tree.asks(i):
        return False
    inverted = any(tree.tags[k] in FINITE_TAGS and k < subjects[0] for k in [*tree.find(i, AUXILIARIES), i])
    return not inverted and _has_subordinator(tree, i) and tree.words[tree.start(i)] not in MAIN_OPENERS
