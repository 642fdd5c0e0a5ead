"""Drafts kept byte for byte, proposals, marks, short answers, conferences; and the pieces made of them."""

from dataclasses import replace
from datetime import date
from hashlib import sha256

import pytest

from rubric_kit.errors import RecordsError, UnreadableFileError
from rubric_kit.records.due import EXCUSED, HANDED_IN, MARKED, SET, due
from rubric_kit.records.family import ORIGINALS
from rubric_kit.records.originals import path_of
from rubric_kit.records.pieces import piece, pieces
from rubric_kit.records.rows import Draft
from rubric_kit.records.work import AGAIN, program
from rubric_kit.scoring.rubric_file import shipped

from .conftest import ESSAY

LEVELS = {"focus": 3, "organization": 4, "evidence": 3, "sentences": 3, "conventions": 2}


@pytest.fixture
def draft(busy):
    return busy.database.rows(Draft)[0]


def test_a_draft_is_kept_byte_for_byte_under_its_hash(busy, draft):
    content = ESSAY.read_bytes()
    kept = path_of(busy.folder / ORIGINALS, draft.sha256, draft.file_name)
    assert draft.sha256 == sha256(content).hexdigest()
    assert kept.read_bytes() == content
    assert draft.bytes == len(content)
    assert busy.drafts.essay(draft).source == ESSAY.name


def test_the_same_bytes_are_kept_once_and_a_new_draft_gets_the_next_number(busy, draft):
    again = busy.drafts.hand_in(draft.assignment_id, ESSAY, received_on=date(2026, 5, 16))
    assert (again.number, again.sha256) == (2, draft.sha256)
    assert len([p for p in (busy.folder / ORIGINALS).rglob("*") if p.is_file()]) == 1


@pytest.mark.parametrize("name", ["../../x.txt", "/etc/passwd.txt", "a\x00b.txt", "n" * 300 + ".txt", "..\\..\\x.txt"])
def test_a_files_name_never_names_a_path(busy, draft, name):
    kept = busy.drafts.hand_in_bytes(
        draft.assignment_id, b"Owls hunt at night. They are quiet.", name, received_on=date(2026, 5, 16)
    )
    assert busy.drafts.get(kept.id).file_name == name
    assert busy.drafts.essay(kept).text.startswith("Owls")
    inside = busy.folder / ORIGINALS
    assert path_of(inside, kept.sha256, name).parent.parent == inside


def test_what_cannot_be_read_is_not_handed_in(busy, draft, tmp_path):
    picture = tmp_path / "essay.docx"
    picture.write_bytes(b"\x89PNG\r\n\x1a\n....")
    with pytest.raises(UnreadableFileError, match="picture"):
        busy.drafts.hand_in(draft.assignment_id, picture, received_on=date(2026, 5, 16))
    assert len(busy.database.rows(Draft)) == 1
    assert len([p for p in (busy.folder / ORIGINALS).rglob("*") if p.is_file()]) == 1


def test_an_original_that_was_changed_or_lost_is_noticed(busy, draft):
    kept = path_of(busy.folder / ORIGINALS, draft.sha256, draft.file_name)
    kept.write_bytes(b"something else")
    with pytest.raises(RecordsError, match="was changed"):
        busy.drafts.essay(draft)
    kept.unlink()
    with pytest.raises(RecordsError, match="not there any more"):
        busy.drafts.essay(draft)


def test_a_proposal_keeps_the_rubric_word_for_word_and_the_program(busy, draft):
    sheet = busy.sheets.make(draft.id)
    assert sheet.program == program()
    assert busy.sheets.rubric(sheet).text == shipped("five-paragraph")
    assert (sheet.grade, sheet.form) == (8, "five-paragraph")
    assert busy.sheets.make(draft.id) == sheet  # nothing has changed, so nothing is added


def test_the_latest_mark_counts_and_the_earlier_ones_stay(busy, draft):
    busy.sheets.make(draft.id)
    busy.marks.add(draft.id, LEVELS, marked_on=date(2026, 5, 16))
    busy.marks.add(draft.id, LEVELS | {"focus": 4}, marked_on=date(2026, 5, 17), comment="Clear point!")
    busy.marks.add(draft.id, dict.fromkeys(LEVELS, 1), marked_on=date(2026, 6, 1), occasion=AGAIN)
    assert busy.marks.levels(busy.marks.latest(draft.id).id)["focus"] == 4
    assert len(busy.marks.of(draft.id)) == 2
    assert len(busy.marks.of(draft.id, AGAIN)) == 1


def test_a_criterion_that_the_rubric_does_not_have_is_refused(busy, draft):
    busy.sheets.make(draft.id)
    with pytest.raises(RecordsError, match="no criterion handwriting"):
        busy.marks.add(draft.id, {"handwriting": 3}, marked_on=date(2026, 5, 16))
    with pytest.raises(RecordsError, match="1, 2, 3 or 4"):
        busy.marks.add(draft.id, {"focus": 5}, marked_on=date(2026, 5, 16))
    assert busy.marks.latest(draft.id) is None


def test_a_mark_without_any_level_is_refused(busy, draft):
    with pytest.raises(RecordsError, match="at least one criterion"):
        busy.marks.add(draft.id, {}, marked_on=date(2026, 5, 16), comment="Nice")


def test_points_for_answers_are_given_and_changed(busy, draft):
    busy.answers.give(draft.assignment_id, {1: 2, 2: 1.5})
    busy.answers.give(draft.assignment_id, {2: 2, 3: 0})
    assert [answer.points for answer in busy.answers.of(draft.assignment_id)] == [2, 2, 0]
    with pytest.raises(RecordsError, match="worth 0 to 1"):
        busy.answers.give(draft.assignment_id, {3: 1.5})
    with pytest.raises(RecordsError, match="no question 4"):
        busy.answers.give(draft.assignment_id, {4: 1})


def test_a_piece_has_all_that_belongs_to_it(busy, draft):
    bare = piece(busy, draft.id)
    assert (bare.levels, bare.percent, bare.is_marked) == ({}, None, False)
    busy.sheets.make(draft.id)
    proposed = piece(busy, draft.id)
    assert proposed.levels == proposed.proposed != {}
    busy.marks.add(draft.id, LEVELS, marked_on=date(2026, 5, 16))
    marked = piece(busy, draft.id)
    assert marked.levels == LEVELS
    assert marked.percent == marked.rubric.percent_for(LEVELS)
    assert marked.measure("mattr") == marked.body["measures"]["mattr"]
    assert marked.measure("flesch_kincaid_grade") == marked.body["readability"]["flesch_kincaid_grade"]
    assert marked.measure("no_such_measure") is None
    assert (marked.student.name, marked.grade, marked.book.title) == ("Ann", 8, "The Call of the Wild")


def test_last_drafts_alone_can_be_asked_for(busy, draft):
    busy.drafts.hand_in(draft.assignment_id, ESSAY, received_on=date(2026, 5, 16))
    assert [p.draft.number for p in pieces(busy)] == [1, 2]
    assert [p.draft.number for p in pieces(busy, last_drafts=True)] == [2]
    assert pieces(busy, busy.students.find("Ben").id) == []


def test_what_is_due_goes_from_set_to_marked(busy, draft):
    day = date(2026, 5, 18)
    rows = {row.student.name: row for row in due(busy, day, everything=True)}
    assert (rows["Ann"].status, rows["Ann"].days, rows["Ann"].unanswered) == (HANDED_IN, -4, 3)
    assert (rows["Ben"].status, rows["Ben"].days, rows["Ben"].unanswered) == (SET, 2, 2)
    busy.marks.add(draft.id, {"focus": 3}, marked_on=day)
    busy.answers.give(draft.assignment_id, {1: 2, 2: 2, 3: 1})
    busy.tasks.excuse(rows["Ben"].task.id, rows["Ben"].student.id)
    assert due(busy, day) == []
    assert {row.status for row in due(busy, day, everything=True)} == {MARKED, EXCUSED}


def test_a_second_draft_has_to_be_marked_again(busy, draft):
    busy.marks.add(draft.id, {"focus": 3}, marked_on=date(2026, 5, 16))
    busy.drafts.hand_in(draft.assignment_id, ESSAY, received_on=date(2026, 5, 17))
    assert {row.status for row in due(busy, date(2026, 5, 18))} == {HANDED_IN, SET}


def test_a_conference_belongs_to_its_child(busy, draft):
    held = busy.conferences.add(draft.id, held_on=date(2026, 5, 20), worked="Your first line", goal="One more proof")
    assert busy.conferences.of_student(busy.students.find("Ann").id) == [held]
    assert busy.conferences.of_student(busy.students.find("Ben").id) == []
    changed = busy.conferences.change(held.id, outcome="Done in June")
    assert changed == replace(held, outcome="Done in June")
