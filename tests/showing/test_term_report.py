"""The term report, and both documents of a year that holds little, on records made in portfolio_year.py."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from rubric_kit.records import Family
from rubric_kit.showing.portfolio import Paper, page_html, page_pdf, portfolio, term_report

sys.path.insert(0, str(Path(__file__).parent))
from portfolio_year import (
    NAMES,
    TODAY,
    YEAR,
    alts_of_pdf,
    drawings,
    hand_in,
    make_busy,
    make_empty,
    pages_of,
    pdf_text,
)


@pytest.fixture
def family(tmp_path: Path) -> Iterator[Family]:
    yield from make_empty(tmp_path)


@pytest.fixture(scope="module")
def busy(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Family]:
    yield from make_busy(tmp_path_factory.mktemp("report"))


def test_initials_leave_no_name_in_the_report(busy: Family) -> None:
    report = term_report(busy, 1, busy.terms.find("autumn"), initials=True, today=TODAY)
    html = page_html(report)
    for text in (html, pdf_text(report), *drawings(html)):
        assert not re.search("|".join(NAMES), text, re.IGNORECASE)
    assert "Names are replaced by initials" in html


def test_a_report_stays_on_one_page_with_twelve_pieces_and_long_titles(family: Family) -> None:
    for n in range(12):
        long = f"{n} The Very Long and Winding Title of a Task about a Book that Never Ends and Never Will " * 3
        book = family.books.add(f"Book {n} " + "of Endless Names and Places and Things " * 5)
        draft = hand_in(family, 1, n // 2, title=long, own=1 + n % 4, book=book.id, scored=n == 11)
    family.conferences.add(draft, held_on=date(2026, 1, 10), goal="A goal that goes on and on and on. " * 20)
    report = term_report(family, 1, family.terms.find("autumn"), today=TODAY)
    assert len(report.written) == 12
    assert pages_of(report) == 1
    assert pages_of(report, Paper.a4) == 1
    text = pdf_text(report)
    for words in ("Grade of the term", "Percent", "focus and thesis", "A strength", "The next goal", "local law"):
        assert words in text
    assert len(alts_of_pdf(page_pdf(report))) == 1


def test_a_report_of_more_tasks_than_fit_says_how_many_more(family: Family) -> None:
    for n in range(20):
        hand_in(family, 1, n // 3, title=f"Task number {n}", own=3)
    report = term_report(family, 1, family.terms.find("autumn"), today=TODAY)
    assert report.more == "and 6 more"
    assert pages_of(report) == 1


def test_levels_of_a_report_are_of_one_form_and_say_the_change(family: Family) -> None:
    for n, own in enumerate((2, 2, 4)):
        hand_in(family, 1, n, own=own)
    report = term_report(family, 1, family.terms.find("autumn"), today=TODAY)
    first = report.moves[0]
    assert (first.first, first.last, first.change, first.mean) == ("2", "4", "up 2", "2.7")
    assert report.moves_of == "three-paragraph, 3 pieces"
    assert "One piece says little" in report.moves_note


def test_strength_and_goal_are_the_parents_or_called_the_programs(family: Family) -> None:
    autumn = family.terms.find("autumn")
    draft = hand_in(family, 1, 0, scored=True, own=2)
    report = term_report(family, 1, autumn, today=TODAY)
    assert report.strength[0]
    for _, source in (report.strength, report.goal):
        assert source == "suggested by the program for “Task 0”, not said by the parent"
    family.conferences.add(draft, held_on=date(2025, 9, 20), worked="The bacon.", next_step="Say why.")
    family.conferences.add(draft, held_on=date(2025, 9, 22), outcome="Done.")
    report = term_report(family, 1, autumn, today=TODAY)
    assert report.strength == ("The bacon.", "from the talk on 20 September 2025")
    assert report.goal == ("Say why.", "from the talk on 20 September 2025")
    family.conferences.add(draft, held_on=date(2025, 9, 24), goal="Three reasons.")
    assert term_report(family, 1, autumn, today=TODAY).goal == ("Three reasons.", "from the talk on 24 September 2025")


def test_an_empty_year_and_an_empty_term_are_told_as_such(family: Family) -> None:
    view = portfolio(family, 1, YEAR, today=TODAY)
    text = pdf_text(view)
    assert "Nothing yet in this school year." in text
    assert "Nothing is graded in this school year." in text
    assert "no draft was marked by the parent" in text
    assert not view.figures
    report = term_report(family, 1, family.terms.find("spring"), today=TODAY)
    assert report.more == "Nothing was set in this term."
    assert "no grade yet" in pdf_text(report)
    assert page_html(report)


def test_a_year_of_one_piece_shows_it_once(family: Family) -> None:
    hand_in(family, 1, 0, own=3)
    view = portfolio(family, 1, YEAR, today=TODAY)
    assert [piece.why for piece in view.pieces] == ["The first piece"]
    assert pages_of(view)
    report = term_report(family, 1, family.terms.find("autumn"), today=TODAY)
    assert report.moves_note == "With one piece of this form in the term there is no change to show."
    assert pages_of(report) == 1


def test_no_marks_yet_is_said(family: Family) -> None:
    hand_in(family, 1, 0)
    view = portfolio(family, 1, YEAR, today=TODAY)
    assert view.pieces[0].levels_note == "No levels yet."
    assert view.growth_note == "No piece of this school year has been scored or marked."
    assert "no draft was marked" in pdf_text(view)
