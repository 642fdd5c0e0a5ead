"""What can be measured without the parser: readability, spelling and capitals, for very many essays."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rubric_kit.measures.catalogue import Measure, Result, by_name, run
from rubric_kit.measures.counts import Counts, count
from rubric_kit.measures.found import Found
from rubric_kit.measures.measured import FAMILIES
from rubric_kit.measures.mechanics.surface import capitals
from rubric_kit.measures.mechanics_rates import OWN, STEADY_WORDS
from rubric_kit.measures.readability import READABILITY
from rubric_kit.measures.spelling import spelling
from rubric_kit.reading import Essay

NEEDS_PARSER = "needs the parser, which was not asked for"


@dataclass(frozen=True, slots=True)
class SlipCounts:
    """Slips that show without the parser. The full measures find more: confused words, names, sentences."""

    words: int
    spelling: int
    capitals: int


_PER_WORD = {"at_least": {"words": 1}, "wants": {"words": STEADY_WORDS}}
SLIPS: dict[str, Measure[SlipCounts]] = by_name(
    [
        Measure(
            "spelling_slips_per_100_words",
            lambda c: 100 * c.spelling / c.words,
            "100 * words spelled wrong, found without the parser / words",
            "per 100 words",
            OWN,
            **_PER_WORD,
        ),
        Measure(
            "capital_slips_per_100_words",
            lambda c: 100 * c.capitals / c.words,
            "100 * capitals missing or not needed, found without the parser / words",
            "per 100 words",
            OWN,
            **_PER_WORD,
        ),
    ]
)


@dataclass(frozen=True, slots=True)
class Unparsed(Mapping[str, Result]):
    """Results by name: every measure there is, most of them with the reason why they cannot be said, and SLIPS."""

    essay: Essay
    counts: Counts
    spelling: tuple[Found, ...]
    capitals: tuple[Found, ...]
    results: Mapping[str, Result]

    def __getitem__(self, name: str) -> Result:
        return self.results[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.results)

    def __len__(self) -> int:
        return len(self.results)


def measure_unparsed(essay: Essay) -> Unparsed:
    """Measure what needs no parser, ten to fifty times as fast as ``measure``: readability, spelling and capitals.

    The readability results are those of ``measure``. Slips are fewer, and so have names of their own in the results.
    """
    counts = count(essay)
    misspelled, capital = spelling(essay), capitals(essay)
    slips = SlipCounts(counts.words, len(misspelled), len(capital))
    results = {name: run(measure, counts) for name, measure in READABILITY.items()}
    results |= {name: run(measure, slips) for name, measure in SLIPS.items()}
    return Unparsed(essay, counts, misspelled, capital, {**results, **_NOT_SAID})


_NOT_SAID: Mapping[str, Result] = {
    name: Result(name, None, measure.unit, measure.source, why_not=NEEDS_PARSER)
    for family, table in FAMILIES.items()
    if family != "readability"
    for name, measure in table.items()
}
