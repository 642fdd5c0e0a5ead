"""What the desk does, without a browser: its widgets are set and read as a person would by hand."""

from __future__ import annotations

import shutil
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("ipywidgets", reason="the notebooks are not installed")

import rubric_kit as rk
from rubric_kit.records.family import Family
from rubric_kit.records.pieces import Piece, pieces
from rubric_kit.records.tasks import Version
from rubric_kit.records.work import AGAIN
from rubric_kit.showing.desk.the_desk import Desk

SAMPLES = Path(__file__).parents[3] / "sample_essays"
FIRST = SAMPLES / "2026-03-10_tamsin_treasure-island_draft-1.docx"
SECOND = SAMPLES / "2026-03-17_tamsin_treasure-island_draft-2.docx"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A child with one task in two drafts, the first marked long ago; another child with a task and no draft."""
    folder = tmp_path_factory.mktemp("made") / "family"
    with rk.begin(folder) as family:
        ann = family.students.add("Ann <b>", grade=8, school_year="2025-26")
        ben = family.students.add("Ben", grade=4, school_year="2025-26")
        task = family.tasks.add(
            "Treasure Island", "Why?", set_on=date(2026, 3, 1), versions={ann.id: Version(), ben.id: Version()}
        )
        given = family.tasks.assignment(task.id, ann.id)
        for file, day in ((FIRST, 10), (SECOND, 17)):
            draft = family.drafts.hand_in(given.id, file, received_on=date(2026, 3, day))
            family.sheets.make(draft.id)
    return folder


@pytest.fixture
def family(made: Path, tmp_path: Path) -> Any:
    with rk.open_family(shutil.copytree(made, tmp_path / "family")) as family:
        yield family


@pytest.fixture
def desk(family: Family) -> Desk:
    return rk.desk(family)


def piece(family: Family, number: int = -1) -> Piece:
    return pieces(family)[number]


def set_levels(desk: Desk, *levels: int) -> None:
    for row, level in zip(desk.levels._rows, levels, strict=True):
        row.choice.value = level


def said(desk: Desk) -> str:
    return str(desk.message.widget.value)


def proposal_shows(desk: Desk) -> bool:
    shown = desk.essay.value + desk.closing.worth.value + "".join(row.button.description for row in desk.levels._rows)
    return any(words in shown for words in ("roposed", "rk-tag", "rk-whole", "· body"))


def test_the_last_draft_that_waits_to_be_marked_lies_on_the_desk(desk: Desk) -> None:
    assert repr(desk) == "The desk: Ann <b>, Treasure Island, draft 2"
    assert desk.choosing.child.label == "Ann <b>"
    assert "Silver" in desk.essay.value
    assert desk.levels.own == {}


def test_levels_and_the_comment_are_saved_and_can_be_taken_back(desk: Desk, family: Family) -> None:
    set_levels(desk, 4, 3, 2, 1, 3)
    desk.closing.comment.value = "Well argued."
    desk.closing.save.click()
    marked = piece(family)
    assert list(marked.own.values()) == [4, 3, 2, 1, 3]
    assert marked.mark is not None
    assert (marked.mark.comment, marked.mark.seen_proposal) == ("Well argued.", True)
    assert "Saved" in said(desk)
    desk.closing.undo.click()
    assert piece(family).mark is None
    assert list(desk.levels.own.values()) == [4, 3, 2, 1, 3]


def test_saving_asks_for_the_levels_that_lack(desk: Desk, family: Family) -> None:
    desk.levels._rows[0].choice.value = 2
    desk.closing.save.click()
    assert "Choose a level for organization and for" in said(desk)
    assert piece(family).mark is None


def test_the_proposal_is_taken_only_where_no_level_was_chosen(desk: Desk) -> None:
    desk.levels._rows[0].choice.value = 1
    desk.closing.take.click()
    proposed = {c.key: c.level for c in desk._opened.sheet.criteria}
    assert desk.levels.own == {**proposed, "focus": 1}


def test_marked_unseen_nothing_of_the_proposal_shows_until_it_is_saved(family: Family) -> None:
    desk = rk.desk(family)
    desk.choosing.blind.value = True
    desk.choosing.draft.value = desk.choosing.draft.options[0][1]
    assert not proposal_shows(desk)
    desk.levels._rows[0].button.click()
    assert "What the levels mean" in desk.levels._rows[0].why.value
    assert "readers would" not in desk.levels._rows[0].why.value
    set_levels(desk, 2, 2, 2, 2, 2)
    assert not proposal_shows(desk)
    desk.closing.save.click()
    assert proposal_shows(desk)
    mark = piece(family, 0).mark
    assert mark is not None
    assert not mark.seen_proposal


def test_a_proposal_that_was_seen_is_not_unseen_any_more(desk: Desk, family: Family) -> None:
    desk.choosing.blind.value = True
    set_levels(desk, 2, 2, 2, 2, 2)
    desk.closing.save.click()
    mark = piece(family).mark
    assert mark is not None
    assert mark.seen_proposal


def test_a_criterion_opens_its_reasons_and_outlines_their_sentences(desk: Desk) -> None:
    row = desk.levels._rows[0]
    row.button.click()
    assert "readers would likely give the same level" in row.why.value
    assert "rk-lit" in desk.essay.value
    row.button.click()
    assert row.why.layout.display == "none"
    assert "rk-lit" not in desk.essay.value


def test_levels_as_the_reader_marks_stand_beside_the_proposed_ones_where_she_wants_them(
    family: Family, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rubric_kit.showing.desk.opened.as_you_mark", lambda *of: {"focus": 2})
    first, second, *_ = rk.desk(family).levels._rows
    assert first.button.description.endswith("as you mark 2 approaching")
    assert "as you mark" not in second.button.description


def test_a_file_handed_in_is_the_childs_next_draft_with_its_proposal(desk: Desk, family: Family) -> None:
    desk._taken(SECOND.read_bytes(), "third.docx")
    handed_in = piece(family)
    assert (handed_in.draft.number, handed_in.draft.file_name) == (3, "third.docx")
    assert handed_in.sheet is not None
    assert "draft 3" in repr(desk)


def test_what_cannot_be_read_is_told_and_changes_nothing(desk: Desk, family: Family) -> None:
    set_levels(desk, 1, 1, 1, 1, 1)
    before = desk.essay.value, desk.levels.own, len(pieces(family))
    desk.message.calm(desk._taken)(b"PK\x03\x04 broken", "broken.docx")
    assert "Not done. broken.docx" in said(desk)
    assert (desk.essay.value, desk.levels.own, len(pieces(family))) == before


def test_a_draft_that_cannot_be_scored_is_kept_all_the_same(desk: Desk, family: Family) -> None:
    french = "Les enfants aiment les chiens parce que les chiens sont fidèles et doux avec eux. " * 8
    desk.message.calm(desk._taken)(french.encode(), "chiens.txt")
    assert "is handed in and kept, but it could not be scored" in said(desk)
    assert piece(family).draft.file_name == "chiens.txt"


def test_a_fault_of_ours_is_one_line_too(desk: Desk) -> None:
    def fails() -> None:
        raise KeyError("x")

    desk.message.calm(fails)()
    assert "Please report this line" in said(desk)


def test_levels_not_saved_are_there_again_when_the_draft_comes_back(desk: Desk) -> None:
    set_levels(desk, 1, 2, 3, 4, 1)
    first, second = (value for _, value in desk.choosing.draft.options)
    desk.choosing.draft.value = first
    assert desk.levels.own == {}
    desk.choosing.draft.value = second
    assert list(desk.levels.own.values()) == [1, 2, 3, 4, 1]


def test_a_child_without_a_draft_gets_a_line_instead(desk: Desk) -> None:
    desk.choosing.child.value = desk.choosing.child.options[1][1]
    assert "Nothing was handed in for this task yet." in desk.essay.value
    assert desk.marking.layout.display == "none"


def test_two_drafts_are_compared_side_by_side(desk: Desk) -> None:
    assert desk.closing.compare.description == "Compare with draft 1"
    desk.closing.compare.value = True
    assert "rewritten" in desk.revision.value
    desk.closing.compare.value = False
    assert desk.revision.value == ""


def test_an_old_piece_is_offered_and_marked_again_unseen(family: Family) -> None:
    given = piece(family).assignment
    long_ago = date.today() - timedelta(days=60)
    levels = dict.fromkeys(piece(family).proposed, 3)
    for _ in range(5):
        draft = family.drafts.hand_in(given.id, SECOND, received_on=long_ago)
        family.sheets.make(draft.id)
        family.marks.add(draft.id, levels, marked_on=long_ago)
    desk = rk.desk(family)
    assert "mark an old piece once more" in desk.offered.value
    desk.reread.click()
    assert not proposal_shows(desk)
    assert desk.levels.own == {}
    set_levels(desk, 3, 3, 2, 3, 3)
    desk.closing.save.click()
    again = [m for p in pieces(family) for m in family.marks.of(p.draft.id, AGAIN)]
    assert len(again) == 1
    assert "the same level as before for 4 of 5" in said(desk)


def test_the_sheet_for_the_child_is_a_page_and_a_pdf_beside_the_records(desk: Desk, family: Family) -> None:
    desk.closing.comment.value = "I liked <Silver>."
    desk.closing.sheet.click()
    page, paper = sorted((family.folder / "sheets").iterdir())
    text = page.read_text("utf-8")
    assert paper.read_bytes().startswith(b"%PDF")
    assert "For Ann &lt;b&gt;" in text
    assert "I liked &lt;Silver&gt;." in text
    assert "What worked" in text
    assert "out of 100" not in text


def test_without_records_a_file_is_scored_and_nothing_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RUBRIC_KIT_FAMILY", str(tmp_path / "none"))
    monkeypatch.chdir(tmp_path)
    desk = rk.desk()
    assert repr(desk) == "The desk, with nothing on it."
    desk._taken(FIRST.read_bytes(), FIRST.name)
    assert "Silver" in desk.essay.value
    assert desk.closing.save.layout.display == "none"
    desk.handing_in.grade.value = 4
    assert "Grade 4" in desk.essay.value
    assert list(tmp_path.iterdir()) == []


def test_an_essay_is_shown_as_text(desk: Desk) -> None:
    hostile = "I think <script>alert(1)</script> dogs are loyal friends to people of all ages, everywhere.\n\n"
    desk._taken((hostile * 3).encode(), "dogs<img>.txt")
    shown = desk.essay.value + said(desk) + "".join(desk._panes.why(r.key, hidden=False) for r in desk.levels._rows)
    assert "<script" not in shown
    assert "<img" not in shown
