"""The catalogue of formulas, their readings as grades, and the consensus."""

import dataclasses
import math

import pytest

from rubric_kit.measures.catalogue import Result
from rubric_kit.measures.counts import Counts
from rubric_kit.measures.readability import READABILITY, readability
from rubric_kit.measures.school_grade import GradeReading, consensus, school_grade

FOURTH_GRADE = Counts(
    paragraphs=5,
    sentences=20,
    words=249,
    syllables=314,
    letters=1003,
    characters=1003,
    monosyllables=194,
    polysyllables=10,
    complex_words=4,
    hard_words=8,
    long_words=30,
    unfamiliar=14,
    spache_unfamiliar=17,
)

every_formula = pytest.mark.parametrize("name", READABILITY)


def with_value(name: str, value: float, note: str = "") -> Result:
    return Result(name, value, "", "", note=note)


@every_formula
def test_every_formula_is_sourced_and_calm_on_an_empty_text(name: str):
    measure = READABILITY[name]
    assert measure.source
    assert measure.unit
    assert measure.formula
    result = readability(Counts())[name]
    assert result.value is None
    assert result.why_not == "wants 1 words, has 0; wants 1 sentences, has 0"


@every_formula
def test_every_formula_gives_a_finite_value_for_one_word(name: str):
    value = readability(Counts(sentences=1, words=1, syllables=1, letters=1, characters=1, monosyllables=1))[name].value
    assert value is not None
    assert math.isfinite(value)


@every_formula
def test_a_short_text_is_only_indicative(name: str):
    note = readability(FOURTH_GRADE)[name].note
    wants_thirty = name in {"smog", "smog_quick"}
    assert note == ("indicative: wants 30 sentences, has 20" if wants_thirty else "")
    assert readability(dataclasses.replace(FOURTH_GRADE, words=90, sentences=8))[name].note.startswith("indicative")


@every_formula
def test_every_formula_has_a_row_in_the_table_of_grades(name: str):
    reading = school_grade(name, 50.0)
    assert (reading is None) == (name == "new_dale_chall")


@every_formula
@pytest.mark.parametrize("value", [-1000.0, -3.4, 0.0, 6.5, 121.22, 1000.0])
def test_every_value_however_odd_is_read(name: str, value: float):
    reading = school_grade(name, value)
    assert reading is None or (reading.low <= reading.high and reading.words)


def test_a_formula_that_is_not_in_the_table_is_an_error():
    with pytest.raises(KeyError, match="no_such_formula"):
        school_grade("no_such_formula", 1.0)


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("flesch_kincaid_grade", 5.4, "grade 5"),
        ("flesch_kincaid_grade", -1.3, "kindergarten or below"),
        ("flesch_reading_ease", 65, "grades 8 to 9"),
        ("flesch_reading_ease", 40, "college"),
        ("flesch_reading_ease", 10, "beyond college"),
        ("dale_chall", 4.0, "grade 4"),
    ],
)
def test_grades_in_words(name: str, value: float, words: str):
    reading = school_grade(name, value)
    assert reading is not None
    assert reading.words == words


def test_the_middle_of_a_band_stands_for_it():
    assert GradeReading(10, 12, "").middle == 11


def test_the_consensus_is_the_median_grade_with_its_spread():
    results = {
        "flesch_reading_ease": with_value("flesch_reading_ease", 75),  # grade 7
        "flesch_kincaid_grade": with_value("flesch_kincaid_grade", 5.0),
        "gunning_fog": with_value("gunning_fog", 6.0),
    }
    agreed = consensus(results)
    assert (agreed.grade, agreed.low, agreed.high, agreed.note) == (6.0, 5.0, 7.0, "")
    assert agreed.members == {"flesch_reading_ease": 7.0, "flesch_kincaid_grade": 5.0, "gunning_fog": 6.0}


def test_twins_primary_grade_formulas_and_those_without_grades_stay_out_of_the_consensus():
    members = consensus(readability(FOURTH_GRADE)).members
    assert set(READABILITY) - set(members) == {"smog_quick", "new_dale_chall", "spache", "spache_1953"}


def test_the_consensus_says_when_it_is_only_indicative_and_when_the_formulas_lie_far_apart():
    results = {
        "smog": with_value("smog", 12.0, note="indicative: wants 30 sentences, has 20"),
        "gunning_fog": with_value("gunning_fog", 6.0),
    }
    assert consensus(results).note == (
        "indicative: the text is shorter than 1 of 2 formulas want; the formulas lie 6 grades apart"
    )


def test_without_any_value_there_is_no_consensus():
    agreed = consensus(readability(Counts()))
    assert (agreed.grade, agreed.low, agreed.high) == (None, None, None)
    assert agreed.note == "no formula could be worked out"
