"""All slips of mechanics in one essay, each word accused once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rubric_kit.measures.mechanics.agreement import agreement
from rubric_kit.measures.mechanics.confused import confused_words
from rubric_kit.measures.mechanics.fragments import fragments
from rubric_kit.measures.mechanics.run_ons import run_ons
from rubric_kit.measures.mechanics.surface import capitals, end_marks, repeated_words
from rubric_kit.measures.spelling import spelling

if TYPE_CHECKING:
    from rubric_kit.measures.found import Found
    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay

Claims = tuple["Found", ...]


@dataclass(frozen=True, slots=True)
class Mechanics:
    """What was found, each in order of the text.

    No word is in more than one of spelling, confused words, capitals, repeated words and agreement; run-ons and
    fragments are whole sentences, and end marks the last words of some.
    """

    spelling: Claims
    confused_words: Claims
    run_ons: Claims
    fragments: Claims
    capitals: Claims
    end_marks: Claims
    repeated_words: Claims
    agreement: Claims


def mechanics(essay: Essay, parse: Parse) -> Mechanics:
    """Find every slip; where two finders accuse the same word, the first in the order below keeps it."""
    taken: set[int] = set()
    repeated = _unless_taken(repeated_words(essay, parse), taken)
    confused = _unless_taken(confused_words(essay, parse), taken)
    spelled = _unless_taken(spelling(essay, parse), taken)
    capital = _unless_taken(capitals(essay, parse), taken)
    return Mechanics(
        spelling=spelled,
        confused_words=confused,
        run_ons=run_ons(essay, parse),
        fragments=fragments(essay, parse),
        capitals=capital,
        end_marks=end_marks(essay, parse),
        repeated_words=repeated,
        agreement=_unless_taken(agreement(essay, parse), taken),
    )


def _unless_taken(claims: Claims, taken: set[int]) -> Claims:
    """The claims that touch no character of earlier ones, whose characters are then taken too."""
    kept = []
    for claim in claims:
        place = range(claim.start, claim.end)
        if taken.isdisjoint(place):
            kept.append(claim)
            taken.update(place)
    return tuple(kept)
