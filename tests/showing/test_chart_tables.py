"""Pieces as tidy tables."""

import pytest

from rubric_kit.showing.charts.tables import (
    WHO,
    levels_table,
    measures_table,
    overall_table,
    parts_table,
    slips_table,
)

from .chart_pieces import ALL_PARTS, made


def shares(**changes):
    """Shares by part of one five-paragraph essay."""
    table = parts_table([made(structure={**ALL_PARTS, **changes})])
    return dict(zip(table["part"], table["share"], strict=True))


def test_a_row_for_each_criterion_says_whose_piece_it_is_and_which_level_counts():
    table = levels_table([made(own=(2, 4), proposed=(3, 4))])
    assert list(table.columns[: len(WHO)]) == WHO
    assert table[["criterion", "own", "proposed", "level"]].values.tolist() == [
        ["focus", 2, 3, 2],
        ["organization", 4, 4, 4],
    ]


def test_where_the_reader_gave_no_level_the_proposed_one_counts():
    table = levels_table([made(own=None, proposed=(1, 2))])
    assert table["own"].isna().all()
    assert list(table["level"]) == [1, 2]


def test_a_piece_marked_without_a_proposal_has_its_levels():
    table = levels_table([made(own=(2, 3), proposed=None)])
    assert list(table["level"]) == [2, 3]
    assert table["proposed"].isna().all()


def test_the_overall_level_is_the_weighted_mean_of_the_last_draft():
    drafts = [made(1, task=1, own=(1, 1)), made(2, task=1, draft=2, own=(4, 3))]
    table = overall_table(levels_table(drafts))
    assert list(table["value"]) == [pytest.approx((40 * 4 + 60 * 3) / 100)]
    assert list(table["piece"]) == [2]


def test_the_overall_level_tells_marked_pieces_from_proposed_ones():
    table = overall_table(levels_table([made(1), made(2, own=None)]))
    assert list(table["marked"]) == [True, False]


def test_rows_are_in_the_order_of_dates():
    table = overall_table(levels_table([made(3), made(1), made(2)]))
    assert list(table["piece"]) == [1, 2, 3]


def test_excused_tasks_are_left_out():
    assert levels_table([made(excused=True)]).empty


def test_a_measure_that_could_not_be_said_is_nan():
    table = measures_table([made(measures={"mtld": None, "length": 90})], ["mtld", "length"])
    assert table["value"].isna().tolist() == [True, False]


def test_a_whole_essay_has_every_part_in_place():
    assert set(shares().values()) == {1.0}


def test_a_part_that_was_not_found_is_0():
    assert shares(hook=None)["hook"] == 0


def test_evidence_in_two_of_three_body_paragraphs_is_two_thirds():
    paragraphs = [dict(p) for p in ALL_PARTS["paragraphs"]]
    paragraphs[2]["evidence"] = 0
    assert shares(paragraphs=paragraphs)["evidence"] == pytest.approx(2 / 3)


def test_transitions_are_asked_of_each_paragraph_after_the_first():
    assert shares(transitions=[{"paragraph": 1}, {"paragraph": 2}])["transitions"] == 1 / 4


def test_transitions_of_a_single_paragraph_are_asked_of_that():
    one = {**ALL_PARTS, "paragraphs": ALL_PARTS["paragraphs"][1:2], "transitions": [{"paragraph": 2}]}
    table = parts_table([made(structure=one, form="paragraph")]).set_index("part")
    assert table.loc["transitions", "share"] == 1


def test_an_essay_without_body_paragraphs_has_nothing_in_them():
    assert shares(paragraphs=[])["topic sentences"] == 0


def test_a_form_is_not_asked_for_what_it_does_not_have():
    table = parts_table([made(form="paragraph")]).set_index("part")
    assert table["share"].isna()[["hook", "conclusion"]].all()
    assert table.loc["thesis", "share"] == 1


def test_of_a_story_no_part_is_asked():
    assert parts_table([made(form="narrative")])["share"].isna().all()


def test_slips_are_counted_per_100_words():
    table = slips_table([made(slips={"spelling": 3})]).set_index("kind")
    assert table.loc["spelling", "rate"] == 3
    assert table.loc["end marks", "rate"] == 0


def test_a_piece_that_was_not_scored_has_no_parts_and_no_slips():
    assert parts_table([made(proposed=None)]).empty
    assert slips_table([made(proposed=None)]).empty


def test_no_pieces_give_tables_without_rows():
    for table in (levels_table([]), parts_table([]), slips_table([]), measures_table([], ["mtld"])):
        assert table.empty
    assert overall_table(levels_table([])).empty
