import io
import re
from dataclasses import replace

import pytest
from pypdf import PdfReader

from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.pdf import page_pdf

LETTER = (612, 792)  # points


def pages(sheet: ScoreSheet) -> list[str]:
    return pages_with(page_pdf(sheet))


def pages_with(pdf: bytes) -> list[str]:
    reader = PdfReader(io.BytesIO(pdf))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


def test_levels_and_the_childs_part_come_first_then_the_essay_then_the_parents_part(owls: ScoreSheet) -> None:
    first, essay, *rest = pages(owls)
    assert "Owls at Night" in first
    assert "80.2 out of 100, B" in first
    assert "For the writer" in first
    assert "Try this next. Say it once more." in first
    assert "They can find a mouse" in essay
    assert "let in so much light." in essay
    assert "evidence: number" in essay
    assert rest[0].startswith("For the parent")
    assert "Readability formulas describe the text" in " ".join(rest)


def test_the_readers_own_levels_and_comment_stand_on_paper(owls: ScoreSheet) -> None:
    own = {c.key: 2 for c in owls.criteria}
    first = pages_with(page_pdf(owls, own, "Good eyes. #emph[x]"))[0]
    assert "(yours; proposed: 80.2, B)" in first
    assert first.count("2 approaching") >= len(own)
    assert "Good eyes. #emph[x]" in first


def test_paper_is_us_letter_and_the_document_has_its_title(owls: ScoreSheet) -> None:
    reader = PdfReader(io.BytesIO(page_pdf(owls)))
    assert reader.pages[0].mediabox[2:] == list(LETTER)
    assert reader.metadata is not None
    assert reader.metadata.title == "Owls at Night"


def test_the_same_sheet_gives_the_same_bytes(owls: ScoreSheet) -> None:
    assert page_pdf(owls) == page_pdf(owls)


def test_fonts_are_embedded(owls: ScoreSheet) -> None:
    reader = PdfReader(io.BytesIO(page_pdf(owls)))
    fonts = [f.get_object() for p in reader.pages for f in p["/Resources"]["/Font"].values()]
    kinds = [d.get_object()["/FontDescriptor"] for f in fonts for d in f["/DescendantFonts"]]
    assert kinds
    assert all("/FontFile2" in d or "/FontFile3" in d for d in kinds)


def test_hostile_text_stays_text(hostile: ScoreSheet) -> None:
    text = re.sub(r"[\s\u200b]", "", "".join(pages(hostile)))  # a long word may be broken
    for words in (
        "<script>alert('x')</script>",
        "#import",
        "$x^2$",
        "[boldred]loud[/boldred]",
        "*star*",
        "@ref",
        "café",
    ):
        assert words in text


def test_a_title_of_300_letters_is_set(long_title: ScoreSheet) -> None:
    title, _, _ = pages(long_title)[0].replace(" ", "").replace("\u200b", "").partition("owls.txt")
    assert title == "W" * 300
    text = PdfReader(io.BytesIO(page_pdf(long_title))).pages[0].extract_text()
    assert text.index("\n") < 45  # it is broken into lines and does not run off the paper


@pytest.mark.parametrize("odd", ["", "\x00", "\ud800", "e\u0301" * 50, "\U0001f600", "مرحبا", "漢字"])
def test_unusual_characters_do_not_stop_it(owls: ScoreSheet, odd: str) -> None:
    assert page_pdf(replace(owls, letter=odd)).startswith(b"%PDF")


def test_what_the_fonts_cannot_draw_is_set_as_its_name(owls: ScoreSheet) -> None:
    first = pages(replace(owls, letter="A \U0001f989 \U0001f44d\U0001f3fd \u6f22 café"))[0]
    assert "A [owl] [thumbs up sign] [cjk unified ideograph-6f22] café" in first
