"""Two scored drafts compared: levels, measures, next steps, notes."""

from __future__ import annotations

from dataclasses import replace

import pytest

import rubric_kit as rk
from rubric_kit.scoring.revision import Revision, compare
from rubric_kit.scoring.sheet import ScoreSheet

DRAFT_1 = "2025-11-21_tamsin_a-little-princess_draft-1.docx"
DRAFT_2 = "2025-12-03_tamsin_a-little-princess_draft-2.docx"


@pytest.fixture(scope="module")
def princess(samples: dict[str, ScoreSheet]) -> Revision:
    return compare(samples[DRAFT_1], samples[DRAFT_2])


def test_compare_is_a_name_of_the_package() -> None:
    assert rk.compare is compare


def test_every_criterion_has_its_level_on_both_drafts(princess: Revision) -> None:
    assert [move.key for move in princess.levels] == [c.key for c in princess.after.criteria]
    for move in princess.levels:
        assert (move.before, move.after) == tuple(
            sheet.criterion(move.key).level for sheet in (princess.before, princess.after)
        )


def test_measures_are_those_that_the_rubric_looks_for_and_that_moved(princess: Revision) -> None:
    looked_for = {look.measure for c in princess.after.rubric.criteria for look in c.look_for}
    moved = {move.measure: move for move in princess.measures}
    assert moved.keys() <= looked_for
    assert all(move.before != move.after for move in moved.values())
    assert moved["length"].toward == "a higher level"
    assert len(moved["length"].criteria) > 1


def test_fewer_slips_are_toward_a_higher_level(princess: Revision) -> None:
    slips = next(m for m in princess.measures if m.measure == "errors_per_100_words")
    assert slips.before is not None
    assert slips.after is not None
    assert (slips.toward == "a higher level") == (slips.after < slips.before)


def test_each_next_step_of_the_first_sheet_is_judged_with_a_reason(princess: Revision) -> None:
    assert [step.step for step in princess.steps] == [c.next_step for c in princess.before.criteria]
    for step in princess.steps:
        assert step.taken in ("taken", "partly", "not yet")
        assert step.why.endswith(".")
        assert step.measure.replace("_", " ") in step.why


def test_the_same_draft_again_takes_no_step_and_moves_nothing(bats: ScoreSheet) -> None:
    same = compare(bats, bats)
    assert {step.taken for step in same.steps} == {"not yet"}
    assert same.measures == ()
    assert all(move.before == move.after for move in same.levels)
    assert same.notes == ("The two drafts are the same, word for word.",)
    assert same.counts["kept"] == len(bats.measures.essay.sentences)


def test_what_was_asked_for_and_done_is_taken() -> None:
    first = "Cats are good. Cats clean themselfs. They purr. They are soft. I want a cat."
    second = (
        "Cats are good pets because they need little care and make a house feel calm. Cats clean themselves with their "
        "rough tongues. They purr when you sit down with a book after school. Last winter Pepper caught nine mice in "
        "our cellar. They are soft and warm on a cold day. I want a cat that sleeps on my bed all night."
    )
    found = compare(*(rk.score(rk.read_text(text), 4, "paragraph") for text in (first, second)))
    taken = {step.measure: step.taken for step in found.steps}
    assert taken["length"] == "taken"
    assert "not yet" not in taken.values()


def test_another_rubric_another_grade_and_another_piece_are_pointed_out(
    bats: ScoreSheet, samples: dict[str, ScoreSheet]
) -> None:
    other = replace(samples[DRAFT_2], grade=5, rubric=replace(bats.rubric, version=bats.rubric.version + 1))
    notes = " ".join(compare(bats, other).notes)
    assert "different rubrics" in notes
    assert "grades 8 and 5" in notes
    assert "another piece" in notes


def test_a_draft_too_short_to_measure_is_compared_all_the_same() -> None:
    one, two = (rk.score(rk.read_text(text), 3, "paragraph") for text in ("Cat.", "A cat sat down."))
    found = compare(one, two)
    assert len(found.steps) == len(one.criteria)
    assert compare(two, one).changes


def test_by_itself_it_is_a_small_table(princess: Revision) -> None:
    html = princess._repr_html_()
    assert f"<th scope='row'>cut</th><td>{princess.counts['cut']}</td>" in html
