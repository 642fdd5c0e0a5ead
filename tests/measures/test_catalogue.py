"""Rows of the catalogue of measures, and the results that come of them."""

from __future__ import annotations

from dataclasses import dataclass
from math import isnan

import pytest

from rubric_kit.measures.catalogue import Measure, by_name, run
from rubric_kit.measures.measured import FAMILIES, Measures, measure
from rubric_kit.measures.unparsed import SLIPS, measure_unparsed
from rubric_kit.reading import read_text

TEXT = "Dogs are good pets. They play with you all day. A dog is never late for a walk."


@dataclass(frozen=True)
class Basis:
    words: int
    long_words: int = 0


SHARE = Measure(
    "share",
    lambda basis: basis.long_words / basis.words,
    "long words / words",
    "0 to 1",
    "our own",
    at_least={"words": 1},
    wants={"words": 100, "long_words": 2},
)


@pytest.fixture(scope="module")
def measured() -> Measures:
    return measure(read_text(TEXT))


def test_a_name_used_twice_is_a_mistake_of_the_catalogue() -> None:
    with pytest.raises(ValueError, match="two measures are called share"):
        by_name([SHARE, SHARE])
    assert by_name([SHARE]) == {"share": SHARE}


def test_below_the_least_count_there_is_no_value_but_the_reason() -> None:
    result = run(SHARE, Basis(0))
    assert (result.name, result.value, result.unit, result.source) == ("share", None, "0 to 1", "our own")
    assert (result.why_not, result.note) == ("wants 1 words, has 0", "")


def test_at_the_least_count_there_is_a_value_and_a_note_of_everything_that_is_short() -> None:
    result = run(SHARE, Basis(1))
    assert (result.value, result.why_not) == (0.0, "")
    assert result.note == "indicative: wants 100 words, has 1; wants 2 long words, has 0"


def test_at_the_wanted_count_there_is_no_note() -> None:
    assert run(SHARE, Basis(100, 2)).note == ""
    assert run(SHARE, Basis(100, 2)).value == 0.02


def test_measures_are_a_mapping_of_every_row_of_every_family(measured: Measures) -> None:
    names = [name for table in FAMILIES.values() for name in table]
    assert list(measured) == names
    assert len(measured) == len(names)
    assert all(measured[name].name == name for name in names)
    assert list(measured.family("mechanics")) == list(FAMILIES["mechanics"])
    assert repr(measured) == f"<Measures of pasted text: {len(names)} results>"


def test_the_table_has_a_row_for_each_and_a_gap_where_a_value_cannot_be_said(measured: Measures) -> None:
    frame = measured.frame().set_index("measure")
    assert list(frame.columns) == ["value", "unit", "source", "why_not", "note"]
    assert list(frame.index) == list(measured)
    for name, result in measured.items():
        row = frame.loc[name]
        assert isnan(row["value"]) if result.value is None else row["value"] == result.value
        assert (row["unit"], row["source"], row["why_not"], row["note"]) == (
            result.unit,
            result.source,
            result.why_not,
            result.note,
        )


def test_in_a_notebook_the_table_says_where_it_cannot_say(measured: Measures) -> None:
    page = measured._repr_html_()
    assert page.startswith("<table")
    assert "cannot say" in page
    assert f"<td>{measured['flesch_kincaid_grade'].value:.2f}</td>" in page


def test_without_the_parser_every_measure_is_named_and_those_that_need_it_say_so() -> None:
    quick, whole = measure_unparsed(read_text(TEXT)), measure(read_text(TEXT))
    assert set(quick) == set(whole) | set(SLIPS)
    assert len(quick) == len(list(quick))
    for name, result in whole.items():
        if name in FAMILIES["readability"]:
            assert quick[name] == result
        else:
            assert (quick[name].value, quick[name].unit, quick[name].source) == (None, result.unit, result.source)
            assert "parser" in quick[name].why_not
