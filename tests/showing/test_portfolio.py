"""The portfolio and the term report of an invented child, on records made here."""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterator
from datetime import date, timedelta
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner

from rubric_kit.cli import app
from rubric_kit.errors import RecordsError
from rubric_kit.records import Family, begin
from rubric_kit.records.tasks import Version
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
    term_report,
    write_html,
    write_pdf,
)
from rubric_kit.showing.portfolio.contents import UnknownPartError
from rubric_kit.showing.portfolio.names import Names
from rubric_kit.showing.portfolio.pieces import UnknownPieceError
from rubric_kit.showing.portfolio.views import Portfolio, TermReport

YEAR, TODAY = "2025-26", date(2026, 6, 5)
CRITERIA = ("focus", "organization", "evidence", "sentences", "conventions")
HOSTILE = (
    '<script>alert(1)</script> #import "@preview/x:1.0.0" $x^2$ \\u{1f} @ref *star* <b onclick="x">bold</b> \U0001f989'
)
NAMES = ("Tamsin", "Odalys", "Quillfeather", "Marigold", "Anne-Marie", "Ottoline")
ESSAY = """Tamsin Quillfeather
September {day}, 2025
Literature, Grade 8

{title}

Buck is strong because he learns. Tamsin and Odalys say so too, and TAMSIN's book proves it. {more}

First, Buck learns to steal food from the sled. For example, he takes a piece of bacon on his second day in the snow. \
This shows that he is quick to learn.

In the end, Buck is strong because he learns. The Quillfeathers agree.
"""


def hand_in(family: Family, student: int, n: int, *, title: str = "", more: str = "", **also: Any) -> int:
    """A task of its own with one draft of it; the draft's number. ``own``: its levels, ``scored``: whether it is."""
    day = date(2025, 9, 8) + timedelta(days=14 * n)
    name = title or f"Task {n}"
    task = family.tasks.add(
        name,
        also.get("prompt", "Why is Buck strong?"),
        set_on=day - timedelta(days=7),
        book_id=also.get("book"),
        questions=[("Who is Buck?", 2)],
        versions={student: Version(form="three-paragraph", due=day)},
    )
    assignment = family.tasks.assignment(task.id, student)
    family.answers.give(assignment.id, {1: 1.5})
    text = ESSAY.format(day=n + 1, title=f"The Strength of Buck {n}", more=more)
    draft = family.drafts.hand_in_bytes(assignment.id, text.encode(), "Tamsin Quillfeather.txt", received_on=day)
    if also.get("scored"):
        family.sheets.make(draft.id)
    if also.get("own"):
        levels = dict.fromkeys(CRITERIA, also["own"])
        family.marks.add(draft.id, levels, marked_on=day + timedelta(days=2), comment=also.get("comment", ""))
    return draft.id


@pytest.fixture
def family(tmp_path: Path) -> Iterator[Family]:
    with begin(tmp_path / "family") as made:
        made.students.add("Tamsin", grade=8, school_year=YEAR)
        made.terms.add("autumn", date(2025, 9, 1), date(2026, 1, 16))
        made.terms.add("spring", date(2026, 1, 19), date(2026, 5, 29))
        yield made


@pytest.fixture(scope="module")
def busy(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Family]:
    """Five scored pieces, four of them marked; names and hostile text wherever the family can write."""
    with begin(tmp_path_factory.mktemp("portfolio") / "family") as made:
        child = made.students.add("Tamsin", grade=8, school_year=YEAR).id
        made.students.add("Odalys", grade=5, school_year=YEAR)
        made.students.add("Anne-Marie", grade=3, school_year=YEAR)
        made.terms.add("autumn", date(2025, 9, 1), date(2026, 1, 16))
        book = made.books.add(
            "The Call of the Wild", "Jack London", unit="Odalys's choice", started=date(2025, 9, 1), finished=None
        )
        for n in range(5):
            draft = hand_in(
                made,
                child,
                n,
                title=f"Buck and Tamsin {n} {HOSTILE}",
                prompt=f"What did Tamsin and Odalys find? {HOSTILE}",
                more=HOSTILE,
                book=book.id if n else None,
                scored=True,
                own=n and min(n + 1, 4),
                comment=f"Well done, Tamsin. {HOSTILE}",
            )
        made.conferences.add(
            draft,
            held_on=date(2025, 11, 10),
            worked=f"Tamsin found bacon. {HOSTILE}",
            next_step="Ask Odalys Quillfeather to read it.",
            goal="One scene a paragraph, Tamsin.",
        )
        yield made


@pytest.fixture(scope="module")
def whole(busy: Family) -> Portfolio:
    return portfolio(busy, 1, YEAR, today=TODAY)


@pytest.fixture(scope="module")
def told_by_initials(busy: Family) -> Portfolio:
    return portfolio(busy, 1, YEAR, today=TODAY, initials=True, kept_by="Ottoline Marigold")


def pdf_text(view: Portfolio | TermReport, paper: Paper = Paper.letter) -> str:
    pages = PdfReader(io.BytesIO(page_pdf(view, paper))).pages
    return " ".join(" ".join(page.extract_text() for page in pages).replace("\u200b", "").split())


def pages_of(view: Portfolio | TermReport, paper: Paper = Paper.letter) -> int:
    return len(PdfReader(io.BytesIO(page_pdf(view, paper))).pages)


def drawings(html: str) -> list[str]:
    """The drawings inside a page, as text."""
    return [base64.b64decode(found).decode() for found in re.findall(r"data:image/svg\+xml;base64,([\w+/=]+)", html)]


def alts(html: str) -> list[str]:
    return [unescape(alt) for alt in re.findall(r'<img [^>]*alt="([^"]*)"', html)]


def alts_of_pdf(content: bytes) -> list[str]:
    """The alternative texts of the tagged figures of a PDF."""
    found, todo = [], [PdfReader(io.BytesIO(content)).trailer["/Root"]["/StructTreeRoot"]]
    while todo:
        node = todo.pop().get_object()
        if isinstance(node, list):
            todo += [child for child in node if not isinstance(child, int)]
        elif isinstance(node, dict):
            found += [str(node["/Alt"])] if "/Alt" in node else []
            todo += [node["/K"]] if "/K" in node and not isinstance(node["/K"], int) else []
    return found


def test_parts_stand_in_order_and_the_cover_comes_first(whole: Portfolio) -> None:
    for text in (pdf_text(whole), unescape(page_html(whole))):
        _, _, body = text.partition("Keep in mind")  # after the contents
        places = [body.index(heading) for _, heading in whole.parts]
        assert places == sorted(places)
        assert text.index("Writing portfolio of Tamsin") < text.index("Keep in mind")
        assert "School year 2025-26" in text
        assert "5 June 2026" in text


def test_first_middle_and_last_piece_are_shown_in_full_with_levels_comment_and_feedback(whole: Portfolio) -> None:
    assert [piece.title for piece in whole.pieces] == [f"The Strength of Buck {n}" for n in (0, 2, 4)]
    assert [piece.why for piece in whole.pieces] == ["The first piece", "From the middle of the year", "The last piece"]
    last = whole.pieces[-1]
    assert [row.level for row in last.levels] == [4] * 5
    assert last.levels_note == "Levels set by the parent on 5 November 2025."
    assert last.comment.startswith("Well done, Tamsin.")
    assert last.told[0].startswith("What worked:")
    assert "takes a piece of bacon" in " ".join(line for block in last.text for line in block.lines)
    assert "handed in 3 November 2025" in last.about


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
    assert "the short answers count 40 parts and the writing 60" in " ".join(whole.grades.notes)


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


def test_initials_leave_no_name_in_the_report(busy: Family) -> None:
    report = term_report(busy, 1, busy.terms.find("autumn"), initials=True, today=TODAY)
    html = page_html(report)
    for text in (html, pdf_text(report), *drawings(html)):
        assert not re.search("|".join(NAMES), text, re.IGNORECASE)
    assert "Names are replaced by initials" in html


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Wren's bird, the wren, saw WREN and tamsin.", "W.'s bird, the wren, saw W. and T."),
        ("The Pellwoods met Anne-Marie and Marie.", "The P. met A.-M. and M."),
        ("Wrench and Tamsins2 and jonas_x", "Wrench and T.2 and J._x"),
        ("Rene\u0301 and O’Neil and O'Neil", "R. and O. and O."),
        ("I will ask Will.", "I will ask W."),
    ],
)
def test_names_are_replaced_as_whole_words(text: str, told: str) -> None:
    people = ["Wren", "Tamsin", "Jonas", "Anne-Marie", "René O'Neil", "Will"]
    assert Names(people, ["Wren Pellwood\nMay 29, 2026"], initials=True)(text) == told


def test_a_name_in_the_place_of_a_title_is_a_name() -> None:
    assert Names(["Wren"], (), ["Wren Brown", "The Brave Wren"], initials=True)("Brave Wren Brown") == "Brave W. B."


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("wren pellwood", "W. P."),
        ("Sept. 29, 2026", "Sept. 29, 2026"),
        ("Literature, Grade 4", "Literature, Grade 4"),
        ("Mrs. Rivera", "M. R."),
    ],
)
def test_a_heading_keeps_its_date_and_course(line: str, told: str) -> None:
    assert Names(["Wren"], ["Wren Pellwood"], initials=True).heading(line) == told


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
