"""Two drafts side by side: the page, the PDF and the terminal."""

from __future__ import annotations

import io
import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

import rubric_kit as rk
from rubric_kit.reading.layout import essay_from_text
from rubric_kit.scoring.revision import Revision
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.html import revision_page_html
from rubric_kit.showing.pages import write_revision_html, write_revision_pdf
from rubric_kit.showing.pdf import revision_pdf
from rubric_kit.showing.revision_terminal import print_revision
from rubric_kit.showing.revision_view import LABELS, revision_view

sys.path.insert(0, str(Path(__file__).parent))
from test_html import AA, AA_LINES, Page, colours, contrast

COLUMNS = 80
# ruff: noqa: E501  (a paragraph is one line, as a child hands it in)
FIRST = """Our Pond

Frogs live in our pond. They are green. My brother counted eleven frogs and then he fell in and then he was wet.

The water is cold. Ducks come in the spring. I saw a heron.

Mud is on the bottom. Fish hide in it."""
SECOND = """Our Pond

Ducks come in the spring. More than twenty frogs live in our pond. They are green. My brother counted eleven frogs. Then he fell in and was wet.

The water is cold even in July.

Mud is on the bottom, and fish hide in it. A pond is a small world."""


@pytest.fixture(scope="module")
def pond() -> Revision:
    """A revision with every kind of change."""
    return rk.compare(*(rk.score(rk.read_text(text), 4, "three-paragraph") for text in (FIRST, SECOND)))


@pytest.fixture(scope="module", name="hostile")
def scored_hostile(hostile: ScoreSheet) -> ScoreSheet:
    text = f"{hostile.measures.essay.text}\n\n{FIRST}".replace("\udcff", "")  # which reading lets through to nobody
    return rk.score(essay_from_text(text, "<img src=x>.txt"), 4, "three-paragraph")


def told(revision: Revision) -> str:
    return Page(revision_page_html(revision)).text


def test_the_example_has_every_kind_of_change(pond: Revision) -> None:
    assert set(pond.counts) == set(LABELS)


def test_nothing_of_either_draft_is_lost(pond: Revision) -> None:
    rows = revision_view(pond).rows
    for sheet, side in ((pond.before, "before"), (pond.after, "after")):
        shown = ["".join(bit.text for bit in getattr(row, side)) for row in rows]
        essay = sheet.measures.essay
        for sentence in essay.sentences:
            assert any(essay.text[sentence.start : sentence.end] in line for line in shown)


def test_each_kind_is_told_in_a_word_and_each_changed_word_by_a_line(pond: Revision) -> None:
    html = revision_page_html(pond)
    for label in ("as it was", "rewritten", "new", "cut", "split", "joined", "moved, was in paragraph 2"):
        assert f"<b>{label}</b>" in html
    assert "<del>I saw a heron.</del>" in html
    assert "<ins>A pond is a small world.</ins>" in html
    assert "cold <ins>even in July</ins>." in html
    assert re.search(r"\.rk del \{[^}]*line-through", html)
    assert re.search(r"\.rk ins \{[^}]*underline", html)


def test_every_kind_has_its_own_line_beside_its_word(pond: Revision) -> None:
    html = revision_page_html(pond)
    lines = re.findall(r"\.rk-kind-(?:rewritten|added|moved|cut) b \{ ([\w-]+: (?:[\d.]+px \w+|line-through))", html)
    assert len(lines) == len(set(lines)) == 4


def test_the_page_is_sound_and_asks_for_nothing_from_outside(pond: Revision, hostile: ScoreSheet) -> None:
    for revision in (pond, rk.compare(hostile, pond.after), rk.compare(pond.before, hostile)):
        html = revision_page_html(revision)
        page = Page(html)
        assert not page.open
        ids = [a["id"] for _, a in page.tags if "id" in a]
        assert len(ids) == len(set(ids))
        assert {str(a["aria-labelledby"]) for _, a in page.tags if "aria-labelledby" in a} <= set(ids)
        assert not {tag for tag, _ in page.tags} & {"script", "link", "img", "iframe", "object", "embed", "form"}
        assert not {name for _, a in page.tags for name in a} & {"src", "srcset", "style"}
        assert "url(" not in html


def test_hostile_text_is_shown_as_it_was_written(pond: Revision, hostile: ScoreSheet) -> None:
    text = told(rk.compare(pond.before, hostile))
    for words in ("<script>alert('x')</script>", "{{ 7*7 }} {% raw %} &amp;", '" onmouseover="x"', "\u241b[31mhelp"):
        assert words in text
    assert not any(c in text for c in "\x1b\u202e\u202c")


def test_words_and_lines_stand_out_from_what_is_behind_them(pond: Revision) -> None:
    named = colours(revision_page_html(pond).partition("<style>")[2].partition("</style>")[0])
    for tint, line in (("slip", "slip-line"), ("support", "support-line")):
        assert contrast(named["ink"], named[tint]) >= AA
        assert contrast(named[line], named[tint]) >= AA_LINES
    for line in ("point-line", "support-line", "slip-line", "frame-line", "explanation-line"):
        assert contrast(named[line], named["paper"]) >= AA_LINES


def test_a_notebook_holds_two_revisions_without_their_anchors_meeting(pond: Revision) -> None:
    other = rk.compare(pond.after, pond.before)
    page = Page(rk.show(pond)._repr_html_() + rk.show(other)._repr_html_())
    ids = [a["id"] for _, a in page.tags if "id" in a]
    assert len(ids) == len(set(ids))
    assert not {"html", "body", "main", "script"} & {tag for tag, _ in page.tags}


def test_the_pdf_has_both_drafts_and_the_words_for_what_changed(pond: Revision) -> None:
    reader = PdfReader(io.BytesIO(revision_pdf(pond)))
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for words in ("Our Pond: two drafts", "I saw a heron.", "A pond is a small world.", "rewritten", "moved, was in"):
        assert words in text
    assert reader.metadata is not None
    assert reader.metadata.title == "Our Pond"
    assert revision_pdf(pond) == revision_pdf(pond)


def test_hostile_text_and_a_revision_without_change_are_set_too(pond: Revision, hostile: ScoreSheet) -> None:
    for revision in (
        rk.compare(pond.before, hostile),
        rk.compare(hostile, hostile),
        rk.compare(pond.after, pond.after),
    ):
        assert revision_pdf(revision).startswith(b"%PDF")
        assert told(revision)


def test_both_pages_are_written_as_files(pond: Revision, tmp_path: Path) -> None:
    write_revision_html(pond, tmp_path / "pond.html")
    write_revision_pdf(pond, tmp_path / "pond.pdf")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["pond.html", "pond.pdf"]


def test_the_terminal_has_80_columns_and_no_colour_in_a_pipe(
    pond: Revision, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("COLUMNS", "FORCE_COLOR", "NO_COLOR"):
        monkeypatch.delenv(name, raising=False)
    print_revision(pond)
    out = capsys.readouterr().out
    assert max(map(len, out.splitlines())) <= COLUMNS
    assert "\x1b" not in out
    words = " ".join(out.split())
    for said in ("The water is cold [even in July].", "+ A pond is a small world.", "- I saw a heron.", "Levels"):
        assert said in words


def test_the_terminal_shows_hostile_text_as_text(
    pond: Revision, hostile: ScoreSheet, capsys: pytest.CaptureFixture[str]
) -> None:
    print_revision(rk.compare(pond.before, replace(hostile, letter="[red]")))
    out = capsys.readouterr().out
    assert "[red]" in out
    assert not any(c in out for c in "\x1b\u202e\u202c")
