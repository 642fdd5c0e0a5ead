"""Measuring without the parser: the same readability, a part of the slips, and a reason for all the rest."""

from __future__ import annotations

import pytest

import rubric_kit as rk
from rubric_kit.measures.measured import FAMILIES
from rubric_kit.measures.unparsed import NEEDS_PARSER, Unparsed

TEXT = """My Dog

my dog Rex is realy smart. On monday he opened the fridge becuase he wanted ham. I laughed and i ran.

Then rex ate it all. He should of waited. What a a day!
"""


@pytest.fixture(scope="module")
def unparsed() -> Unparsed:
    return rk.measure_unparsed(rk.read_text(TEXT))


def test_readability_is_that_of_the_full_measures(unparsed: Unparsed) -> None:
    full = rk.measure(rk.read_text(TEXT))
    assert {name: unparsed[name] for name in FAMILIES["readability"]} == full.family("readability")


def test_what_is_found_is_a_part_of_what_the_full_measures_find(unparsed: Unparsed) -> None:
    full = rk.measure(rk.read_text(TEXT)).mechanics
    assert [found.text for found in unparsed.spelling] == ["realy", "becuase"]
    assert [found.text for found in unparsed.capitals] == ["my", "monday", "i"]
    assert set(unparsed.spelling) <= set(full.spelling)
    assert set(unparsed.capitals) < set(full.capitals)


def test_slips_are_rates_of_their_own(unparsed: Unparsed) -> None:
    words = unparsed.counts.words
    assert unparsed["spelling_slips_per_100_words"].value == pytest.approx(100 * 2 / words)
    assert unparsed["capital_slips_per_100_words"].value == pytest.approx(100 * 3 / words)


def test_every_other_measure_says_that_it_needs_the_parser(unparsed: Unparsed) -> None:
    for family in FAMILIES.keys() - {"readability"}:
        for name in FAMILIES[family]:
            assert (unparsed[name].value, unparsed[name].why_not) == (None, NEEDS_PARSER)
