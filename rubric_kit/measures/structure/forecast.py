"""The points that a thesis names ahead, and which body paragraph takes up which."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from rubric_kit.measures.found import Found
from rubric_kit.measures.meaning import shared, terms
from rubric_kit.measures.structure.facts import Facts
from rubric_kit.measures.structure.relations import reach_of
from rubric_kit.reading import Essay

if TYPE_CHECKING:
    from spacy.tokens import Token

FEWEST = 2  # points; a single one is the thesis itself
MOST = 12  # points; a longer row is a list of things, and its phrases would take hours to tell apart
SURE_WITHOUT_ANSWER = 3  # a row of three is a forecast even where the body does not take it up
TOUCHES = 0.2  # share of a point's meaning that a paragraph must take up; below it, one common word is enough


def forecast(essay: Essay, thesis: Facts | None, bodies: Sequence[Sequence[Facts]]) -> tuple[Found, ...]:
    """The points named in the thesis: its row of two or more things joined by commas and "and", best answered below."""
    rows = _rows(thesis) if thesis else []
    reaches = [reach_of(tuple(body)) for body in bodies]
    answered = [sum(any(shared(terms(item), r) > TOUCHES for r in reaches) for item in row) for row in rows]
    best = max(range(len(rows)), key=lambda i: (answered[i], len(rows[i])), default=None)
    if thesis is None or best is None or (answered[best] < FEWEST and len(rows[best]) < SURE_WITHOUT_ANSWER):
        return ()
    found = []
    for item in rows[best]:
        start, end = item[0].idx, item[-1].idx + len(item[-1])
        why = "a point that the thesis names ahead"
        found.append(Found(essay.text[start:end], start, end, "point", why, thesis.paragraph + 1))
    return tuple(found)


def answers(
    topic: Facts | None, body: Sequence[Facts], points: Sequence[Mapping[str, float]], thesis: Facts | None
) -> tuple[str, ...]:
    """The words of the thesis that a paragraph takes up: of the nearest point named ahead, else of the whole thesis.

    Looked for in the topic sentence, and where there is none in the paragraph.
    """
    if thesis is None:
        return ()
    reached = topic.reach if topic else reach_of(tuple(body))
    nearest = max(points, key=lambda point: shared(point, reached), default=thesis.words)
    words = nearest if shared(nearest, reached) > TOUCHES else thesis.words
    return tuple(sorted(word for word in words if reached.get(word)))


def _rows(thesis: Facts) -> list[list[list[Token]]]:
    """Every row of coordinated phrases in the thesis, each phrase as its tokens in order."""
    rows = []
    for head in thesis.span:
        if head.dep_ == "conj":
            continue
        chain = [head]
        while follower := next((t for t in chain[-1].children if t.dep_ == "conj"), None):
            chain.append(follower)
        if FEWEST <= len(chain) <= MOST:
            rows.append([_phrase(item, chain) for item in chain])
    return [row for row in rows if all(terms(item) for item in row)]


def _phrase(item: Token, chain: list[Token]) -> list[Token]:
    """The words of one item, without those of the items after it and without commas and "and" at its ends."""
    later = {t.i for other in chain if other.i > item.i for t in other.subtree}
    # Of a row of verbs the first stands behind a subject and a "because" that belong to the whole row.
    earliest = item.i if item is chain[0] and (item.dep_ == "ROOT" or item.pos_ == "VERB") else item.left_edge.i
    tokens = [t for t in item.subtree if t.i not in later and t.i >= earliest]
    while tokens and (tokens[-1].is_punct or tokens[-1].is_space or tokens[-1].dep_ == "cc"):
        tokens.pop()
    return tokens or [item]
