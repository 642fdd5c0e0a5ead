"""How expected the phrasing is: verb forms, numbers, articles, prepositions and what follows what, by edited prose; and
how sure the tagger is of the words.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from math import log
from statistics import fmean
from typing import TYPE_CHECKING

from rubric_kit.measures.catalogue import Measure, by_name
from rubric_kit.measures.signs.certainty import Doubt, doubts
from rubric_kit.measures.signs.choices import KINDS, all_choices, chances
from rubric_kit.measures.signs.sequences import model
from rubric_kit.measures.signs.shapes import shape, written

if TYPE_CHECKING:
    from rubric_kit.measures.parse import Parse

CHOICE = "after Rozovskaya & Roth 2014, Transactions of the ACL 2 (models of a writer's choices)"
SEQUENCE = "Witten & Bell 1991, IEEE Transactions on Information Theory 37(4), method C, on trigrams"
TAGGER = "own; entropy by Shannon 1948, Bell System Technical Journal 27; chances by spaCy's small English tagger"
STEADY_CHOICES = 20  # a share of 0.2 among twenty has a standard error of 0.09
ODD = (1.0, 3.0)  # natural log of how much likelier the likeliest choice is: three times, and twenty
UNSURE = (0.7, 0.5)  # chance of the likeliest part of speech: here and there in any text, and as good as a guess
STEADY_WORDS = 100
EXCESS = (2.0, 4.0)  # bits: four times and sixteen times less likely here than elsewhere


@dataclass(frozen=True, slots=True)
class PhrasingCounts:
    """What the phrasing is judged by.

    surprise  for each choice its surprise (natural log of 1 / chance), by kind
    lead      how much likelier the likeliest choice is (natural log; 0 where it was chosen), by kind
    excess    for each word, mark and sentence end, its surprise in place beyond its surprise alone, in bits
    doubts    for each word of letters, how sure the tagger is of its part of speech
    """

    surprise: Mapping[str, tuple[float, ...]]
    lead: Mapping[str, tuple[float, ...]]
    excess: tuple[float, ...]
    doubts: tuple[Doubt, ...]

    @property
    def verb_form(self) -> int:
        return len(self.surprise["verb_form"])

    @property
    def number(self) -> int:
        return len(self.surprise["number"])

    @property
    def article(self) -> int:
        return len(self.surprise["article"])

    @property
    def preposition(self) -> int:
        return len(self.surprise["preposition"])

    @property
    def places(self) -> int:
        return len(self.excess)

    @property
    def tagged(self) -> int:
        return len(self.doubts)


def phrasing_counts(parsed: Parse) -> PhrasingCounts:
    """Judge every choice and every place of an essay."""
    surprise: dict[str, list[float]] = {kind: [] for kind in KINDS}
    lead: dict[str, list[float]] = {kind: [] for kind in KINDS}
    for choice in all_choices(parsed.sentences):
        odds = chances(choice)
        if odds:
            surprise[choice.kind].append(-log(odds[choice.chosen]))
            lead[choice.kind].append(log(max(odds.values()) / odds[choice.chosen]))
    sequences = ([shape(token) for token in written(sentence)] for sentence in parsed.sentences)
    return PhrasingCounts(
        surprise={kind: tuple(values) for kind, values in surprise.items()},
        lead={kind: tuple(values) for kind, values in lead.items()},
        excess=tuple(bits for shapes in sequences for bits in model().excess(shapes)),
        doubts=doubts(parsed),
    )


def _surprise(kind: str, counts: PhrasingCounts) -> float:
    return fmean(counts.surprise[kind])


def _odd(kind: str, least: float, counts: PhrasingCounts) -> float:
    return fmean(lead > least for lead in counts.lead[kind])


def _odd_times(kind: str, least: float, counts: PhrasingCounts) -> float:
    return sum(lead > least for lead in counts.lead[kind])


def _excess(least: float, counts: PhrasingCounts) -> float:
    return fmean(bits > least for bits in counts.excess)


def _unsure(below: float, counts: PhrasingCounts) -> float:
    return fmean(doubt.chance < below for doubt in counts.doubts)


def _of_kind(kind: str) -> list[Measure[PhrasingCounts]]:
    sample = {"at_least": {kind: 1}, "wants": {kind: STEADY_CHOICES}}
    name = kind.replace("_", " ")
    likelier, much_likelier = ODD
    return [
        Measure(
            f"{kind}_surprise",
            partial(_surprise, kind),
            f"natural log of 1 / chance of the {name} chosen, mean",
            "nats",
            CHOICE,
            **sample,
        ),
        Measure(
            f"{kind}_odd_share",
            partial(_odd, kind, likelier),
            f"places where another {name} is over three times likelier / places",
            "0 to 1",
            CHOICE,
            **sample,
        ),
        Measure(
            f"{kind}_very_odd_share",
            partial(_odd, kind, much_likelier),
            f"places where another {name} is over twenty times likelier / places",
            "0 to 1",
            CHOICE,
            **sample,
        ),
        Measure(
            f"{kind}_very_odd",
            partial(_odd_times, kind, much_likelier),
            f"places where another {name} is over twenty times likelier",
            "places",
            CHOICE,
        ),
    ]


def _sequence(name: str, least: float) -> Measure[PhrasingCounts]:
    formula = f"words whose place makes them {2**least:g} times less likely / words, marks and sentence ends"
    return Measure(name, partial(_excess, least), formula, "0 to 1", SEQUENCE, {"places": 1})


def _tagging(
    name: str, function: Callable[[PhrasingCounts], float], formula: str, unit: str
) -> Measure[PhrasingCounts]:
    return Measure(name, function, formula, unit, TAGGER, {"tagged": 1}, {"tagged": STEADY_WORDS})


PHRASING: dict[str, Measure[PhrasingCounts]] = by_name(
    [
        *(row for kind in KINDS for row in _of_kind(kind)),
        Measure(
            "sequence_excess",
            lambda c: fmean(c.excess),
            "bits of surprise in place - bits of the shape alone, mean",
            "bits",
            SEQUENCE,
            {"places": 1},
        ),
        _sequence("unexpected_share", EXCESS[0]),
        _sequence("very_unexpected_share", EXCESS[1]),
        _tagging(
            "tag_entropy",
            lambda c: fmean(doubt.entropy for doubt in c.doubts),
            "entropy of the chances of a word's parts of speech, mean",
            "nats",
        ),
        _tagging(
            "tag_surprise",
            lambda c: fmean(-log(doubt.chance) for doubt in c.doubts),
            "natural log of 1 / chance of the likeliest part of speech, mean",
            "nats",
        ),
        *(
            _tagging(
                name,
                partial(_unsure, below),
                f"words whose likeliest part of speech is under {below:g} / words",
                "0 to 1",
            )
            for name, below in zip(("unsure_tag_share", "very_unsure_tag_share"), UNSURE, strict=True)
        ),
    ]
)
