"""A child's growth in words: in the terminal, as JSON and in the notebook, with the pieces that were compared."""

from __future__ import annotations

from rubric_kit.records.family import Family
from rubric_kit.showing.charts.year import charts
from rubric_kit.showing.growth_view import COUNTED, growth, growth_as_json, growth_words, school_years

from ...commands import INPUT, read, run, said
from .conftest import ANN, BEN, CORA, PIECES


def test_the_readings_are_those_of_the_charts(family: Family) -> None:
    student = family.students.get(1)
    found = growth(family, student)
    made = charts(family, student)
    assert {s.name: s.chart.reading for s in found.sections} == {name: c.reading for name, c in made.items()}


def test_it_says_which_pieces_stand_on_one_line(family: Family) -> None:
    (compared,) = growth(family, family.students.get(1)).compared
    assert (compared.form, compared.enough, len(compared.pieces)) == ("three-paragraph", True, PIECES)
    assert [p.day for p in compared.pieces] == sorted(p.day for p in compared.pieces)
    (one,) = growth(family, family.students.get(2)).compared
    assert not one.enough
    assert not one.pieces[0].marked


def test_a_school_year_holds_its_own_pieces_only(family: Family) -> None:
    student = family.students.get(1)
    assert school_years(family, student) == ["2025-26"]
    assert growth(family, student, "2024-25").compared == ()
    assert growth_as_json(growth(family, student, "2025-26"))["school_year"] == "2025-26"


def test_the_terminal_and_the_notebook_say_the_same(family: Family) -> None:
    words = said(run("growth", "--student", ANN, "--family", family.folder))
    for line in growth_words(growth(family, family.students.get(1))).splitlines():
        if line and not line.startswith("  "):
            assert line in words
    assert COUNTED in words
    assert BEN not in words


def test_json_holds_the_readings_and_the_pieces(family: Family) -> None:
    data = read("growth", "--student", ANN, "--family", family.folder)
    assert set(data["readings"]) == {"level", "criteria", "parts", "slips", "proposals"}
    assert len(data["compared"][0]["pieces"]) == PIECES


def test_a_child_without_pieces_and_one_that_there_is_not_are_told_in_words(family: Family) -> None:
    assert "No piece has been scored or marked" in said(run("growth", "--student", CORA, "--family", family.folder))
    run("growth", "--student", "Nobody", "--family", family.folder, code=INPUT)
    run("growth", "--student", ANN, "--year", "soon", "--family", family.folder, code=INPUT)
