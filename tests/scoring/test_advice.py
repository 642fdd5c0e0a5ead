"""Every row of advice is whole, speaks of a measure there is, and can be shown and tried on the child's sentences."""

from __future__ import annotations

import pytest

from rubric_kit.measures.measured import FAMILIES
from rubric_kit.scoring.advice import advice, stretch
from rubric_kit.scoring.rubric_file import FORMS, load_form
from rubric_kit.scoring.spans import ON, SHOW

NEEDED = {"low", "high", "worked", "try", "exercise", "teach", "on"}
MAY_HAVE = {"praise", "show"}
STEP = {"try", "exercise", "teach", "on"}
MEASURES = {name for table in FAMILIES.values() for name in table}

every_row = pytest.mark.parametrize("measure", advice())


@every_row
def test_a_row_has_its_keys_and_no_others(measure: str) -> None:
    row = advice()[measure]
    assert NEEDED <= row.keys() <= NEEDED | MAY_HAVE
    assert "show" in row or "praise" in row
    assert all(isinstance(text, str) and text.strip() for text in row.values())


@every_row
def test_a_row_is_about_a_measure_there_is(measure: str) -> None:
    assert measure in MEASURES


@every_row
def test_what_a_row_shows_and_is_tried_on_can_be_found(measure: str) -> None:
    row = advice()[measure]
    assert row["on"] in ON
    assert {row[key] for key in ("show", "praise") if key in row} <= SHOW.keys()


@every_row
@pytest.mark.parametrize("value", [0.0, 0.04, 1.0, 3.6, 1234.5])
def test_reasons_can_hold_any_value_and_are_sentences(measure: str, value: float) -> None:
    for key in ("low", "high"):
        text = advice()[measure][key].format(value=value)
        assert "{" not in text
        assert text[0].isupper()
        assert text.endswith(".")


@every_row
def test_only_reasons_hold_a_value(measure: str) -> None:
    row = advice()[measure]
    assert not any("{" in row[key] for key in row.keys() - {"low", "high"})


@pytest.mark.parametrize("form", FORMS)
def test_every_measure_of_a_shipped_rubric_has_advice(form: str) -> None:
    rubric = load_form(form)
    assert {look.measure for c in rubric.criteria for look in c.look_for} <= advice().keys()
    assert {c.key for c in rubric.criteria} <= stretch().keys()


@pytest.mark.parametrize("criterion", stretch())
def test_a_stretch_has_its_keys_and_no_others(criterion: str) -> None:
    row = stretch()[criterion]
    assert row.keys() == STEP
    assert row["on"] in ON
    assert all(text.strip() for text in row.values())


def test_there_is_a_stretch_for_a_criterion_of_ones_own() -> None:
    assert "other" in stretch()


FEWER_IS_BETTER = {
    "errors_per_100_words",
    "misspellings_per_100_words",
    "sentence_slips_per_10_sentences",
    "strain_per_100_pairs",
    "surface_slips_per_100_words",
}


@pytest.mark.parametrize("form", FORMS)
def test_what_the_advice_asks_more_of_never_lowers_a_level(form: str) -> None:
    """Where labelled essays show no such rise, a measure has no place in a shipped rubric."""
    for criterion in load_form(form).criteria:
        for look in criterion.look_for:
            for values in look.expected.values():
                assert (values[0] > values[-1]) == (look.measure in FEWER_IS_BETTER), f"{criterion.key}: {look.measure}"
