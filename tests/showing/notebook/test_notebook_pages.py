"""The pages of the notebooks without a browser: their widgets are set and read as a person would by hand."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("ipywidgets", reason="the notebooks are not installed")

import rubric_kit as rk
from rubric_kit.records.family import FOLDER_VARIABLE, Family
from rubric_kit.showing.growth_view import growth, growth_words

from .conftest import ANN, CORA, PIECES

PAGES = [rk.year_page, rk.talk_page, rk.year_end_page]


def choose(page: Any, name: str) -> None:
    page.child.value = next(value for label, value in page.child.options if label == name)


def told(page: Any) -> str:
    return str(page.message.widget.value)


@pytest.mark.parametrize("make", PAGES)
def test_without_records_it_says_how_to_begin(make: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "none"))
    page = make()
    assert "rubric-kit begin" in told(page)
    assert page.body.layout.display == "none"
    assert repr(page)


@pytest.mark.parametrize("make", PAGES)
def test_records_without_a_child_say_how_to_add_one(make: Any, tmp_path: Path) -> None:
    with rk.begin(tmp_path / "new") as family:
        assert "rubric-kit student add" in told(make(family))


@pytest.mark.parametrize("make", PAGES)
def test_a_child_without_pieces_does_no_harm(make: Any, family: Family) -> None:
    page = make(family)
    choose(page, CORA)
    assert "Not done" not in told(page)
    assert "Traceback" not in repr(page)
    choose(page, ANN)
    assert page.body.layout.display is None


@pytest.mark.parametrize("make", PAGES)
def test_a_notebook_shows_the_page_and_where_it_cannot_the_words(make: Any, family: Family) -> None:
    page = make(family)
    assert page._repr_mimebundle_()["text/plain"] == repr(page)


def test_the_year_is_one_childs_only_and_says_what_the_command_says(family: Family) -> None:
    page = rk.year_page(family)
    assert repr(page) == growth_words(growth(family, family.students.get(1), "2025-26"))
    assert page.shown.value.count("<img") == 5
    assert page.shown.value.count('alt="') == 5
    assert "<b>Ashe" not in page.shown.value
    choose(page, "Ben")
    assert "Ben" in page.shown.value
    assert "Ashe" not in page.shown.value + repr(page)


def test_a_goal_is_saved_once_and_changed_when_it_is_saved_again(family: Family) -> None:
    page = rk.talk_page(family)
    page.goal.value = " One example in each part. "
    page.save.click()
    page.goal.value = "Two examples."
    page.save.click()
    first, noted = family.conferences.of_student(1)
    assert (noted.goal, noted.held_on, noted.draft_id) == ("Two examples.", date.today(), PIECES)
    assert noted.worked in page.shown.value.replace("&#39;", "'").replace("&lt;", "<").replace("&gt;", ">")
    assert noted.next_step
    assert first.goal == "One <i>reason</i> more."
    page.undo.click()
    assert family.conferences.get(noted.id).goal == "One example in each part."
    assert page.goal.value == "Two examples."


def test_an_empty_goal_is_not_saved(family: Family) -> None:
    page = rk.talk_page(family)
    page.save.click()
    assert "Write the goal first" in told(page)
    assert len(family.conferences.all()) == 1


def test_a_goal_that_was_not_saved_is_there_again_when_the_piece_comes_back(family: Family) -> None:
    page = rk.talk_page(family)
    page.goal.value = "Half a th"
    choose(page, "Ben")
    assert page.goal.value == ""
    choose(page, ANN)
    assert page.goal.value == "Half a th"
    assert len(family.conferences.all()) == 1


def test_a_goal_of_today_is_in_the_box_when_the_notebook_is_opened_again(family: Family) -> None:
    family.conferences.add(PIECES, held_on=date.today(), goal="Today's.")
    assert rk.talk_page(family).goal.value == "Today's."


def test_what_became_of_a_goal_can_be_written_and_changed(family: Family) -> None:
    page = rk.talk_page(family)
    for words in ("Not yet.", "Done."):
        page.outcomes.children[0].children[1].value = words
        page.save_outcomes.click()
        assert family.conferences.get(1).outcome == words
    assert "1 goal" in told(page)
    page.save_outcomes.click()
    assert "0 goals" in told(page)


def test_markup_in_goals_is_shown_as_text(family: Family) -> None:
    page = rk.talk_page(family)
    shown = page.outcomes.children[0].children[0].value + page.shown.value
    assert "<i>reason" not in shown
    assert "<script" not in shown
    assert "<b>Ashe" not in shown


def test_a_piece_whose_file_was_changed_is_told_in_words(family: Family) -> None:
    for original in (family.folder / "originals").rglob("*.*"):
        if original.is_file():
            original.write_bytes(b"something else")
    page = rk.talk_page(family)
    assert "Not done." in told(page)
    assert page.body.layout.display == "none"


def test_the_page_to_print_is_written_with_the_goal(family: Family, tmp_path: Path) -> None:
    page = rk.talk_page(family)
    page.goal.value = "One example."
    page.into.value = str(tmp_path / "out")
    page.print.click()
    html, pdf = sorted((tmp_path / "out").iterdir())
    assert "One example." in html.read_text("utf-8")
    assert pdf.read_bytes().startswith(b"%PDF")


def test_the_year_end_is_made_as_it_was_chosen(family: Family, tmp_path: Path) -> None:
    page = rk.year_end_page(family)
    assert len(page.pieces.ticked) == 3
    page.parts.fill({"pieces": "Pieces in full"}, ["pieces"])
    page.initials.value = True
    page.look.click()
    assert "Writing portfolio of A." in page.shown.value
    assert "Ashe" not in page.shown.value
    assert "<script" not in page.shown.value
    page.into.value = str(tmp_path / "out")
    page.make.click()
    assert [f.suffix for f in sorted((tmp_path / "out").iterdir())] == [".html", ".pdf"]


def test_a_terms_report_is_in_the_list(family: Family) -> None:
    page = rk.year_end_page(family)
    page.document.value = page.document.options[1][1]
    assert page.choosing.layout.display == "none"
    page.look.click()
    assert "Term report" in page.shown.value
    choose(page, "Ben")
    assert page.document.value == 0
    assert page.shown.value == ""


def test_a_folder_that_cannot_be_written_is_told_in_words(family: Family, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    for page, button in ((rk.talk_page(family), "print"), (rk.year_end_page(family), "make")):
        page.into.value = str(tmp_path / "file")
        getattr(page, button).click()
        assert "Not done." in told(page)
