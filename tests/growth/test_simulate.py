"""With no true change, growth is seen in at most one year of twenty; DEVELOPERS.md says what the simulation gives."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from simulate import (
    COUNTS,
    PAGE,
    SCATTERS,
    SLOPES,
    WEIGHTS,
    cell,
    false_growth,
    false_rows,
    figures,
    headline_row,
    power_row,
    section,
)

from rubric_kit.scoring.rubric_file import load_form

UNADJUSTED = "the same without any adjustment: any of them rising"
REBUILD = "run: python tests/growth/simulate.py --write"


def written() -> str:
    page = PAGE.read_text("utf-8")
    start, end = section(page)
    return page[start:end].strip()


def test_false_growth_is_seen_in_at_most_five_of_a_hundred_of_2000_years() -> None:
    found = false_growth()
    assert found.pop(UNADJUSTED) > 0.05, "without adjustment a page of six would be too much for luck"
    assert all(share <= 0.05 for share in found.values()), found
    assert all(row in written() for row in false_rows(found)), REBUILD


def test_a_row_of_each_power_table_is_as_written() -> None:
    assert power_row(0.2, 0.45) in written(), REBUILD
    assert headline_row(0.2, 0.45) in written(), REBUILD


@pytest.mark.slow
def test_all_figures_are_as_written() -> None:
    assert figures() == written(), REBUILD


@pytest.mark.slow
def test_false_growth_does_not_hang_on_the_seed() -> None:
    for seed in range(2, 7):
        found = false_growth(seed)
        del found[UNADJUSTED]
        assert all(share <= 0.05 for share in found.values()), (seed, found)


@pytest.mark.slow
@pytest.mark.parametrize("slope", SLOPES[1:])
@pytest.mark.parametrize("scatter", SCATTERS)
def test_the_approximation_is_within_eight_points_of_simulation(slope: float, scatter: float) -> None:
    """Where the whole rise is well above half a level; below that, rounding hides more than the formula knows."""
    for n in COUNTS:
        simulated, formula = cell(slope, scatter, n)
        assert formula == pytest.approx(simulated, abs=0.08)


def test_the_weights_are_those_of_the_rubric() -> None:
    assert {criterion.key: criterion.weight for criterion in load_form("five-paragraph").criteria} == WEIGHTS
