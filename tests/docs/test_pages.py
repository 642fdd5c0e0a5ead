"""The generated sections of DEVELOPERS.md say what the code says."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from build_pages import (
    ALL,
    PAGE,
    labelled_table,
    measures_page,
    readers_table,
    revisions_table,
    section,
    trust,
    with_section,
)

REBUILD = "run: python tests/docs/build_pages.py"


def test_the_page_of_measures_is_that_of_the_catalogue() -> None:
    page = PAGE.read_text("utf-8")
    assert section(page, "measures") == measures_page(section(page, "labelled")), f"{REBUILD} measures"


def test_the_figures_of_readers_are_those_of_the_file_that_ships() -> None:
    assert section(PAGE.read_text("utf-8"), "readers") == readers_table(), f"{REBUILD} measures"


@pytest.mark.slow
def test_the_figures_on_labelled_essays_are_those_that_are_measured() -> None:
    assert section(PAGE.read_text("utf-8"), "labelled") == labelled_table(), REBUILD


@pytest.mark.slow
def test_the_figures_on_labelled_drafts_are_those_that_are_measured() -> None:
    assert section(PAGE.read_text("utf-8"), "revisions") == revisions_table(), f"{REBUILD} revisions"


def test_every_family_says_how_accurate_it_is_and_when_not_to_trust_it() -> None:
    assert trust().keys() == ALL.keys()
    assert all(known["accuracy"] and known["beware"] for known in trust().values())


@pytest.mark.parametrize("family", ALL)
def test_what_is_said_of_a_measure_is_of_one_in_the_catalogue(family: str) -> None:
    said = trust()[family].get("measure", {})
    assert said.keys() <= ALL[family].keys()
    assert all(known.keys() <= {"accuracy", "labelled", "beware"} for known in said.values())


@pytest.mark.parametrize("name", ["structure", "mechanics", "slips"])
def test_every_measure_of_what_finders_find_has_its_own_accuracy(name: str) -> None:
    said = trust()[name]["measure"]
    assert {m for m in ALL[name] if not said.get(m, {}).keys() & {"accuracy", "labelled"}} == set()


def test_scripts_that_are_named_are_there() -> None:
    words = str(trust()).replace(",", " ").replace(")", " ").replace("(", " ").replace(".\\n", " ").split()
    named = {word.rstrip(".;'\"") for word in words if word.startswith("tests/")}
    assert len(named) > 5
    root = PAGE.parent
    assert [path for path in named if not (root / path).exists()] == []


def test_only_the_section_itself_is_replaced() -> None:
    page = "before\n<!-- a: begin -->\nold\n<!-- a: end -->\nafter\n"
    assert with_section(page, "a", "new") == page.replace("old", "new")
    assert section(with_section(page, "a", "new"), "a") == "new"
