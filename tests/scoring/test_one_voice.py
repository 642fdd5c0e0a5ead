"""A sheet does not contradict itself, and says nothing that the form of the task makes no sense of."""

from __future__ import annotations

import pytest

from rubric_kit.reading import read_text
from rubric_kit.scoring.advice import advice, advice_by_form
from rubric_kit.scoring.advice import said as in_words
from rubric_kit.scoring.feedback import grade_of
from rubric_kit.scoring.rubric import GRADES
from rubric_kit.scoring.rubric_file import FORMS, load_form
from rubric_kit.scoring.score import next_step, score
from rubric_kit.scoring.sheet import Reason, ScoreSheet
from rubric_kit.scoring.spans import ON

SENTENCE = "The old boat sank in the cold bay on that day while we looked. "  # 14 words
STORY = "The hall was dark that night. I stood by the door with my bag and did not know where to go. It rained.\n\n"


def said(sheet: ScoreSheet) -> dict[str, set[str]]:
    """The words about each measure; two measures about the same thing share what is said where it is high."""
    rows = advice(sheet.measures.form)
    out: dict[str, set[str]] = {}
    for criterion in sheet.criteria:
        for reason in criterion.reasons:
            out.setdefault(rows[reason.measure]["high"], set()).add(reason.text)
    return out


@pytest.mark.parametrize("times", [5, 10, 13, 16, 19, 22, 26, 40])
@pytest.mark.parametrize("form", FORMS)
def test_one_measure_is_spoken_of_in_the_same_words_in_every_criterion(form: str, times: int) -> None:
    sheet = score(read_text(SENTENCE * times), grade=5, form=form)
    assert all(len(words) == 1 for words in said(sheet).values()), said(sheet)


def test_the_demo_year_does_not_contradict_itself(samples: dict[str, ScoreSheet]) -> None:
    for sheet in samples.values():
        assert all(len(words) == 1 for words in said(sheet).values())


def test_words_for_a_form_are_of_a_measure_and_a_key_that_there_is() -> None:
    assert advice_by_form().keys() <= set(FORMS)
    for rows in advice_by_form().values():
        for measure, row in rows.items():
            assert row.keys() <= advice()[measure].keys()


@pytest.mark.parametrize("form", advice_by_form())
def test_words_for_a_form_are_no_harder_for_a_child_than_grade_3(form: str) -> None:
    for measure in advice_by_form()[form]:
        row = advice(form)[measure]
        assert grade_of((row["worked"], f"{row['try']} For five minutes: {row['exercise']}")) <= GRADES[0]


def test_a_new_part_for_each_point_is_not_asked_of_one_paragraph_nor_a_number_of_paragraphs_of_a_story() -> None:
    for form, unfit in (("paragraph", "Start a new part"), ("narrative", "what the form asks for")):
        row = advice(form)["paragraphs_in_place"]
        assert not any(unfit in text for text in row.values())


@pytest.mark.parametrize("grade", range(3, 10))
def test_one_paragraph_where_one_was_asked_for_is_not_told_to_mend_its_paragraphs(grade: int) -> None:
    sheet = score(read_text(SENTENCE * 12), grade=grade, form="paragraph")
    organization = sheet.criterion("organization")
    alone = [r for r in organization.reasons if r.measure == "paragraphs_in_place"]
    assert alone[0].value == 1
    assert next_step("organization", alone, sheet.measures).child != advice("paragraph")["paragraphs_in_place"]["try"]


def test_several_paragraphs_where_one_was_asked_for_are_to_be_made_one() -> None:
    sheet = score(read_text(f"{SENTENCE * 3}\n\n{SENTENCE * 3}\n\n{SENTENCE * 3}"), form="paragraph")
    (why,) = [r for r in sheet.criterion("organization").reasons if r.measure == "paragraphs_in_place"]
    assert "more paragraphs than the one" in why.text
    assert "all in one part" in next_step("organization", [why], sheet.measures).child


@pytest.mark.parametrize(
    "end", ["And so we were home at last. The End.", "We were home at last. the end", "We ran off. Good night!"]
)
@pytest.mark.parametrize("on", ON)
def test_nothing_is_tried_on_the_line_that_only_closes(on: str, end: str) -> None:
    sheet = score(read_text(STORY + STORY + end), form="narrative")
    found = ON[on](sheet.measures)
    assert found is not None
    assert found.text not in {"The End.", "the end", "Good night!"}


def test_a_piece_of_one_short_sentence_is_still_tried_on_it() -> None:
    sheet = score(read_text("It rained."), form="narrative")
    assert all(on(sheet.measures) is not None for name, on in ON.items() if name == "plainest_sentence")


def test_the_narrative_rubric_looks_for_paragraphs_in_its_own_words() -> None:
    looked_for = {look.measure for c in load_form("narrative").criteria for look in c.look_for}
    assert advice_by_form()["narrative"].keys() <= looked_for


def test_a_share_of_one_leaves_nothing_to_ask_for() -> None:
    sheet = score(read_text(SENTENCE * 12), form="paragraph")
    whole, part = Reason("thesis_found", 1.0, 2.0, 0.9, ""), Reason("length", 60.0, 3.0, 0.1, "")
    assert next_step("focus", [whole, part], sheet.measures).child == advice()["length"]["try"]


def test_one_word_is_one_word() -> None:
    sheet = score(read_text("Rain."))
    told = " ".join(
        [
            *sheet.cautions,
            *(r.text for c in sheet.criteria for r in c.reasons),
            *(f.why for c in sheet.criteria for f in c.evidence),
        ]
    )
    assert "1 word" in told
    assert "1 words" not in told


def test_a_figure_that_ends_in_one_stays_plural() -> None:
    assert [in_words(f"At {{value:{how}}} words.", x) for how, x in ((".0f", 1.0), (".0f", 21.0), (".1f", 0.1))] == [
        "At 1 word.",
        "At 21 words.",
        "At 0.1 words.",
    ]
