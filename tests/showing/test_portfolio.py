"""The portfolio of an invented child, on records made in portfolio_year.py."""

from __future__ import annotations

import io
import re
import sys
from collections.abc import Iterator
from datetime import date
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner

from rubric_kit.cli import app
from rubric_kit.errors import RecordsError
from rubric_kit.records import Family
from rubric_kit.showing.charts.year import UnknownChartError
from rubric_kit.showing.pages import PageNotWrittenError
from rubric_kit.showing.portfolio import (
    PARTS,
    Paper,
    last_year,
    page_html,
    page_pdf,
    portfolio,
    preview,
    write_html,
    write_pdf,
)
from rubric_kit.showing.portfolio.contents import UnknownPartError
from rubric_kit.showing.portfolio.names import Names
from rubric_kit.showing.portfolio.pieces import UnknownPieceError
from rubric_kit.showing.portfolio.views import Portfolio

sys.path.insert(0, str(Path(__file__).parent))
from portfolio_year import NAMES, TODAY, YEAR, alts_of_pdf, drawings, hand_in, make_busy, make_empty, pdf_text


@pytest.fixture
def family(tmp_path: Path) -> Iterator[Family]:
    yield from make_empty(tmp_path)


@pytest.fixture(scope="module")
def busy(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Family]:
    yield from make_busy(tmp_path_factory.mktemp("portfolio"))


@pytest.fixture(scope="module")
def whole(busy: Family) -> Portfolio:
    return portfolio(busy, 1, YEAR, today=TODAY)


@pytest.fixture(scope="module")
def told_by_initials(busy: Family) -> Portfolio:
    return portfolio(busy, 1, YEAR, today=TODAY, initials=True, kept_by="Ottoline Marigold")


def alts(html: str) -> list[str]:
    return [unescape(alt) for alt in re.findall(r'<img [^>]*alt="([^"]*)"', html)]


def test_parts_stand_in_order_and_the_cover_comes_first(whole: Portfolio) -> None:
    for text in (pdf_text(whole), unescape(page_html(whole))):
        _, _, body = text.partition("Keep in mind")  # after the contents
        places = [body.index(heading) for _, heading in whole.parts]
        assert places == sorted(places)
        assert text.index("Writing portfolio of Tamsin") < text.index("Keep in mind")
        assert "School year 2025-26" in text
        assert "5 June 2026" in text


def test_first_middle_and_last_piece_are_shown_in_full_with_levels_and_comment(whole: Portfolio) -> None:
    assert [piece.title for piece in whole.pieces] == [f"The Strength of Buck {n}" for n in (0, 2, 4)]
    assert [piece.why for piece in whole.pieces] == ["The first piece", "From the middle of the year", "The last piece"]
    last = whole.pieces[-1]
    assert [row.level for row in last.levels] == [4] * 5
    assert last.levels_note == "Levels set by the parent on 5 November 2025."
    assert last.comment.startswith("Well done, Tamsin.")
    assert "takes a piece of bacon" in " ".join(line for block in last.text for line in block.lines)
    assert "handed in 3 November 2025" in last.about


def test_what_the_parent_said_comes_first_and_the_programs_words_are_called_its_own(whole: Portfolio) -> None:
    first, *_, last = whole.pieces
    assert [label for label, _ in last.talk] == ["What worked", "Next step", "Goal"]
    assert not last.told  # each of its kinds the parent said herself
    assert not first.talk
    assert [line.partition(":")[0].partition(".")[0] for line in first.told][:2] == ["What worked", "Try this next"]
    for text in (unescape(page_html(whole)), pdf_text(whole)):
        own, suggested = (
            text.index("Said to the writer by the parent"),
            "Suggested by the program, not said by the parent",
        )
        assert text.count(suggested) == 2  # of the first and the middle piece, which nobody talked about
        assert text.rindex(suggested) < own


def test_a_talk_takes_only_the_place_of_what_it_speaks_of(family: Family) -> None:
    draft = hand_in(family, 1, 0, scored=True, own=2)
    family.conferences.add(draft, held_on=date(2025, 9, 20), worked="The bacon.", outcome="Done.")
    (piece,) = portfolio(family, 1, YEAR, today=TODAY).pieces
    assert piece.talk == (("What worked", "The bacon."),)
    assert piece.told
    assert all(line.startswith("Try this next.") for line in piece.told)


def test_levels_of_a_piece_that_is_not_marked_are_called_proposed(whole: Portfolio) -> None:
    first = whole.pieces[0]
    assert "proposed" in first.levels_note
    assert {row.whose for row in first.levels} == {"proposed"}
    assert first.grade.endswith("(proposed)")


def test_what_was_read_and_written_has_its_dates(whole: Portfolio) -> None:
    first, last = whole.units[0].books[0], whole.units[-1].books[-1]
    assert first.title == "The Call of the Wild"
    assert first.dates == "begun 1 September 2025"
    assert first.tasks[0].dates == "set 15 September 2025, due 22 September 2025"
    assert first.tasks[0].drafts == ("draft 1 handed in 22 September 2025",)
    assert first.tasks[0].answers == "short answers: 1.5 of 2 points"
    assert last.title == ""  # a task without a book


def test_pieces_and_parts_are_those_that_were_chosen(busy: Family) -> None:
    view = portfolio(busy, 1, YEAR, pieces=(4, 2), include=("pieces",), today=TODAY)
    assert [piece.title for piece in view.pieces] == ["The Strength of Buck 1", "The Strength of Buck 3"]
    text = pdf_text(view)
    assert "Pieces in full" in text
    assert "How this was done" not in text
    assert "law of its own state or country" in text  # the cautions are always there


def test_what_there_is_not_is_said_with_what_there_is(busy: Family) -> None:
    with pytest.raises(UnknownPieceError, match=r"no draft number 99.*There are: 1 \(Buck"):
        portfolio(busy, 1, YEAR, pieces=(99,))
    with pytest.raises(UnknownPartError, match="no part hours"):
        portfolio(busy, 1, YEAR, include=("hours",))
    with pytest.raises(UnknownChartError, match="no chart pie"):
        portfolio(busy, 1, YEAR, charts=("pie",), include=("growth",))
    with pytest.raises(RecordsError, match="no school year"):
        portfolio(busy, 1, "2025")
    with pytest.raises(RecordsError):
        portfolio(busy, 99, YEAR)


def test_the_method_says_who_set_the_levels_and_claims_no_hours(whole: Portfolio) -> None:
    method = " ".join(whole.method)
    assert "4 of 5 drafts were marked by the parent" in method
    assert "no piece was marked a second time" in method
    assert "rubric_kit 0." in method
    assert "No attendance and no hours are recorded or claimed" in method


def test_grades_of_year_term_and_book_come_with_how_they_are_worked_out(whole: Portfolio) -> None:
    kinds = [row.kind for row in whole.grades.rows]
    assert kinds[:3] == ["year", "term", "book"]
    assert whole.grades.worked[0][1].startswith("2025-26:")
    assert "the short answers count 40% and the writing 60%" in " ".join(whole.grades.notes)


def test_every_chart_has_its_words_for_who_cannot_see_it_and_a_reading(whole: Portfolio) -> None:
    assert len(whole.figures) == 3
    assert all(figure.alt and figure.reading for figure in whole.figures)
    assert alts(page_html(whole)) == [figure.alt for figure in whole.figures]
    assert set(alts_of_pdf(page_pdf(whole))) >= {figure.alt for figure in whole.figures if figure.alt.isascii()}


def test_initials_leave_no_name_anywhere(told_by_initials: Portfolio) -> None:
    html = page_html(told_by_initials)
    said = (html, pdf_text(told_by_initials), *drawings(html), *told_by_initials.method)
    for text in said:
        for name in NAMES:
            assert not re.search(name, text, re.IGNORECASE), name
    assert "Writing portfolio of T." in html
    assert "O. M." in html  # who kept it
    assert "Names are replaced by initials" in html
    assert "may remain" in html
    assert PdfReader(io.BytesIO(page_pdf(told_by_initials))).metadata.title == "Writing portfolio of T."  # type: ignore[union-attr]


def test_without_initials_names_stay(whole: Portfolio) -> None:
    assert Names(["Wren"])("Wren and \x1b") == "Wren and \u241b"
    assert "Tamsin Quillfeather" in page_html(whole)


def test_hostile_text_stays_text_on_the_page(whole: Portfolio) -> None:
    html = page_html(whole)
    assert "<script" not in html
    assert "<b onclick" not in html
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in html
    assert "img-src data:; style-src 'sha256-" in html
    assert "\U0001f989" in html
    assert all("<script" not in drawing for drawing in drawings(html))


def test_hostile_text_stays_text_on_paper(whole: Portfolio) -> None:
    text = pdf_text(whole).replace(" ", "")
    for words in ("<script>alert(1)</script>", "#import", "@preview/x:1.0.0", "$x^2$", "\\u{1f}", "@ref", "*star*"):
        assert words in text
    assert "[owl]" in text


def test_the_same_year_gives_the_same_bytes(whole: Portfolio) -> None:
    assert page_pdf(whole) == page_pdf(whole)
    assert page_html(whole) == page_html(whole)


def test_paper_is_as_asked_for(whole: Portfolio) -> None:
    sizes = [PdfReader(io.BytesIO(page_pdf(whole, paper))).pages[0].mediabox[2:] for paper in Paper]
    assert [[round(float(side)) for side in size] for size in sizes] == [[612, 792], [595, 842]]


def test_a_notebook_shows_it_without_a_second_document(whole: Portfolio) -> None:
    html = preview(whole)._repr_html_()
    assert "<html" not in html
    assert "Writing portfolio of Tamsin" in html


def test_it_is_written_whole_or_not_at_all(whole: Portfolio, tmp_path: Path) -> None:
    for write in (write_html, write_pdf):
        out = tmp_path / "year"
        write(whole, out)
        assert out.stat().st_size
        with pytest.raises(PageNotWrittenError):
            write(whole, tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["year"]


def test_the_last_year_is_the_last_with_a_task(family: Family) -> None:
    assert last_year(family, 1, date(2027, 9, 1)) == "2027-28"
    hand_in(family, 1, 0)
    assert last_year(family, 1, date(2027, 9, 1)) == YEAR


def run(family: Family, *words: str) -> Any:
    return CliRunner().invoke(app, [*words, "--family", str(family.folder)])


def test_commands_write_both_documents(busy: Family, tmp_path: Path) -> None:
    out = [tmp_path / name for name in ("p.html", "p.pdf", "r.html", "r.pdf")]
    files = [str(path) for path in out]
    year = ["--year", YEAR, "--pieces", "1, 5", "--include", "work,pieces", "--initials"]
    made = run(busy, "portfolio", "--student", "tamsin", *year, "--html", files[0], "--pdf", files[1])
    assert made.exit_code == 0, made.output
    made = run(busy, "report", "--student", "Tamsin", "--term", "autumn", "--html", files[2], "--pdf", files[3], "--a4")
    assert made.exit_code == 0, made.output
    assert all(path.stat().st_size for path in out)
    assert "Tamsin" not in out[0].read_text("utf-8")


def test_commands_say_what_is_wrong(busy: Family, tmp_path: Path) -> None:
    out = str(tmp_path / "x.pdf")
    assert run(busy, "portfolio", "--student", "Tamsin").exit_code == 2
    assert run(busy, "portfolio", "--student", "Tamsin", "--pieces", "one", "--pdf", out).exit_code == 2
    assert run(busy, "portfolio", "--student", "Nobody", "--pdf", out).exit_code == 1
    assert run(busy, "report", "--student", "Tamsin", "--term", "summer", "--pdf", out).exit_code == 1
    assert (
        run(busy, "portfolio", "--student", "Tamsin", "--include", ",".join((*PARTS, "x")), "--pdf", out).exit_code == 1
    )
    assert not Path(out).exists()
