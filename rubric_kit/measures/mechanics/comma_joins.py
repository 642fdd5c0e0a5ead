"""Comma splices that the parser hides: a pronoun with its verb right after the comma of a full statement.

The parser hangs such a clause on the one before it as if it were its object or its quotation. What can be seen without
it is enough: "The teacher says she isn't in any grade, she is just herself"; "We ate, then we left".
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubric_kit.measures.clauses import FINITE_TAGS, clause_words
from rubric_kit.measures.mechanics.joining import goes_on_alike, joins_clauses, sentence_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rubric_kit.measures.tree import Tree

BREAKS = frozenset({";", ":", "-", "--", "...", "(", ")", "?"})
COORDINATORS = frozenset({"and", "or", "but"})
POINTING = frozenset({"this", "that", "these", "those"})
NOUNS = frozenset({"NN", "NNS", "NNP", "NNPS", "PRP"})
BEFORE_STATEMENT = COORDINATORS | {"so", "then", "also"}
AFTER_ITS = frozenset({"DT", "RB", "IN", "PRP$", "VBG"})  # "its like", "its probably": it stands for "it's"
LEAST_STATEMENT = 3  # tokens: "they stayed home"; shorter ones are asides ("I think", "you see")
LONGEST_SUBJECT = 4  # tokens after "then": "then the old man left"


def comma_joins(tree: Tree, start: int, end: int) -> Iterator[int]:
    """Where a clause opens that only a comma joins to the statement before it, in a sentence of tokens start to end.

    "Then" is no conjunction; after it any subject may stand.
    """
    words = tree.words
    if any(words[k] in BREAKS for k in range(start, end)):
        return
    for comma in range(start + LEAST_STATEMENT, end - LEAST_STATEMENT):
        if words[comma] != "," or tree.marks_of_speech(start, comma) % 2:
            continue
        verb = _verb_opened(tree, comma + 1, end)
        if verb is None or _is_aside(tree, verb) or not _is_stated(tree, start, comma):
            continue
        if words[comma + 1] == "then" or not _in_series(tree, _opening(tree, start, comma), comma + 1, verb, end):
            yield comma + 1


def _verb_opened(tree: Tree, first: int, end: int) -> int | None:
    """The finite verb of the clause that a pronoun or "then" opens here."""
    then = tree.words[first] == "then"
    subject = first + then
    word = tree.words[subject]
    if word == "its":
        return subject if tree.tags[subject + 1] in AFTER_ITS else None
    pronoun = word in sentence_words("nominatives") | POINTING | {"there"}
    if not pronoun and not then:
        return None
    verb = subject + 1
    if not pronoun:
        reach = range(verb, min(verb + LONGEST_SUBJECT, end - 1))
        verb = next((k for k in reach if tree.tags[k] in FINITE_TAGS), end)
        if tree.tags[verb - 1] not in NOUNS or any(joins_clauses(tree.words[k]) for k in range(subject, verb)):
            return None
    elif word not in POINTING and tree.tags[verb] == "RB":  # "that never" may be no subject
        verb += 1
    if verb >= end - 1 or tree.tags[verb] not in FINITE_TAGS:
        return None
    return verb if word != "there" or tree.lemmas[verb] == "be" else None


def _is_aside(tree: Tree, verb: int) -> bool:
    """As in "It is late, he said", "It is, I think, late"."""
    return tree.lemmas[verb] in clause_words("complement_takers") | sentence_words("reporting")


def _in_series(tree: Tree, one: int, two: int, verb: int, end: int) -> bool:
    """Before a later clause stands ", and"; or "and", and it begins like the clauses at ``one`` and ``two``."""
    last = any(tree.words[k] in COORDINATORS and tree.words[k - 1] == "," for k in range(verb + 2, end))
    return last or goes_on_alike(tree, (one, two), (one + 1, verb), end)


def _is_stated(tree: Tree, start: int, comma: int) -> bool:
    """What ends at the comma is a statement that wants no other: it has no "when" and no "if"."""
    words = tree.words
    opening = _opening(tree, start, comma)
    if any(words[k] in sentence_words("conditions") for k in range(start, opening)):
        return False
    verb = next((k for k in range(opening, comma) if tree.tags[k] in FINITE_TAGS), comma)
    if verb == comma or comma - opening < LEAST_STATEMENT or tree.deps[verb] in {"relcl", "acl"}:
        return False
    before = range(opening, verb)
    if any(joins_clauses(words[k]) or tree.tags[k] == "IN" for k in before):  # "When he came", "In case he came"
        return False
    if not any(tree.tags[k] in NOUNS for k in before) or tree.lemmas[comma - 1] in clause_words("complement_takers"):
        return False
    # "It was so hot, we swam"; "She says that if he comes, she goes"
    return not any(words[k] in {"so", "such"} or _hung_condition(tree, k) for k in range(verb + 1, comma))


def _opening(tree: Tree, start: int, comma: int) -> int:
    """Where the statement begins that ends at the comma."""
    opening = max((k + 1 for k in range(start, comma) if tree.words[k] == ","), default=start)
    while tree.words[opening] in BEFORE_STATEMENT:
        opening += 1
    return opening


def _hung_condition(tree: Tree, k: int) -> bool:
    """An "if" after "that" or a verb of saying, which what follows the comma completes."""
    hung = joins_clauses(tree.words[k - 1]) or tree.lemmas[k - 1] in clause_words("complement_takers")
    return hung and tree.words[k] in sentence_words("conditions")
