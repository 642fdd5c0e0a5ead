"""The invented family's year: complete, and scored."""

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.records.demo import build_demo
from rubric_kit.records.due import due
from rubric_kit.records.pieces import pieces
from rubric_kit.records.samples import sample_essays


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    with build_demo(tmp_path_factory.mktemp("demo") / "pellwood") as family:
        yield family


def test_three_children_have_thirty_pieces_and_more_in_two_terms(demo):
    assert [s.name for s in demo.students.all()] == ["Tamsin", "Jonas", "Wren"]
    assert len(demo.terms.all()) == 2
    assert len(pieces(demo)) >= 30


def test_every_draft_has_a_proposal_and_every_task_is_marked_or_excused(demo):
    found = pieces(demo)
    assert all(p.proposed and p.measure("flesch_kincaid_grade") is not None for p in found)
    assert all(p.is_marked for p in pieces(demo, last_drafts=True))
    last = max(p.date for p in found)
    assert due(demo, last) == []


def test_every_sample_essay_is_in_it(demo):
    files = {path.name for path in sample_essays().iterdir()} - {"year.toml"}
    assert {draft.file_name for draft in demo.drafts.all()} == files


def test_some_pieces_were_marked_again_and_talked_about(demo):
    assert demo.conferences.all()
    assert any(demo.marks.of(p.draft.id, "again") for p in pieces(demo))


def test_it_is_not_built_over_a_family_s_own_records(busy):
    with pytest.raises(RecordsError, match="there are records already"):
        build_demo(busy.folder)
