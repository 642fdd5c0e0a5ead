"""How often slips come, each a row of the catalogue."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass

from rubric_kit.measures.catalogue import Measure, by_name
from rubric_kit.measures.found import Found
from rubric_kit.measures.mechanics import Mechanics
from rubric_kit.reading import Essay

OWN = "own definition; slips found as described in DEVELOPERS.md, accuracy measured there"
STEADY_WORDS = 50  # one slip more or less in 50 words moves a rate by 2 in 100; in fewer words it says little


@dataclass(frozen=True, slots=True)
class MechanicsCounts:
    """Slips found in an essay. ``misspellings`` are wrong words of both kinds: no words, and words taken for others.
    ``well_made`` are the sentences with no slip but of spelling.
    """

    words: int
    sentences: int
    well_made: int
    misspellings: int
    run_ons: int
    fragments: int
    surface: int
    agreement: int

    @property
    def errors(self) -> int:
        return self.misspellings + self.run_ons + self.fragments + self.surface + self.agreement


def making_slips(found: Mechanics) -> tuple[Found, ...]:
    """The slips in how sentences are made: all but misspellings, in order of the text."""
    surface = (*found.capitals, *found.end_marks, *found.repeated_words)
    slips = (*found.run_ons, *found.fragments, *found.agreement, *found.confused_words, *surface)
    return tuple(sorted(slips, key=lambda slip: slip.start))


def mechanics_counts(essay: Essay, found: Mechanics) -> MechanicsCounts:
    """Count the slips; capitals, end marks and doubled words are the surface."""
    slips = [slip.start for slip in making_slips(found)]
    return MechanicsCounts(
        words=len(essay.words),
        sentences=len(essay.sentences),
        well_made=sum(bisect_left(slips, s.start) == bisect_left(slips, s.end) for s in essay.sentences),
        misspellings=len(found.spelling) + len(found.confused_words),
        run_ons=len(found.run_ons),
        fragments=len(found.fragments),
        surface=len(found.capitals) + len(found.end_marks) + len(found.repeated_words),
        agreement=len(found.agreement),
    )


_WORDS = {"at_least": {"words": 1}, "wants": {"words": STEADY_WORDS}}
_SENTENCES = {"at_least": {"sentences": 1}, "wants": {"words": STEADY_WORDS}}

MECHANICS: dict[str, Measure[MechanicsCounts]] = by_name(
    [
        Measure(
            "errors_per_100_words",
            lambda c: 100 * c.errors / c.words,
            "100 * slips of every kind / words",
            "per 100 words",
            OWN,
            **_WORDS,
        ),
        Measure(
            "misspellings_per_100_words",
            lambda c: 100 * c.misspellings / c.words,
            "100 * misspelled and confused words / words",
            "per 100 words",
            OWN,
            **_WORDS,
        ),
        Measure(
            "surface_slips_per_100_words",
            lambda c: 100 * c.surface / c.words,
            "100 * slips of capitals, end marks and doubled words / words",
            "per 100 words",
            OWN,
            **_WORDS,
        ),
        Measure(
            "sentence_slips_per_10_sentences",
            lambda c: 10 * (c.run_ons + c.fragments + c.agreement) / c.sentences,
            "10 * (run-ons + fragments + agreement slips) / sentences",
            "per 10 sentences",
            OWN,
            **_SENTENCES,
        ),
        Measure(
            "well_made_share",
            lambda c: c.well_made / c.sentences,
            "sentences with no slip but of spelling / sentences",
            "0 to 1",
            OWN,
            **_SENTENCES,
        ),
    ]
)
