"""Word, OpenDocument, Rich Text and PDF: what the page shows is what the text holds, paragraph by paragraph."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import docx
import odfdo
import pytest
import typst
from striprtf.striprtf import rtf_to_text

from rubric_kit.reading.files import text_of
from rubric_kit.reading.page_lines import Line, text_of_lines

W = 'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"'
STRICT = 'xmlns:w="http://purl.oclc.org/ooxml/wordprocessingml/main"'


def word(tmp_path: Path, body: str, *, part: str = "word/document.xml", names: str = W) -> str:
    """The text of a Word document with this body."""
    file = tmp_path / "essay.docx"
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr(part, f"<w:document {names}><w:body>{body}</w:body></w:document>")
    return text_of(file)


def run(text: str) -> str:
    return f'<w:r><w:t xml:space="preserve">{text}</w:t></w:r>'


def test_a_word_document_made_by_a_library_keeps_paragraphs_tabs_and_soft_breaks(tmp_path: Path) -> None:
    document = docx.Document()
    document.add_heading("The Old Boat", 1)
    first = document.add_paragraph("\tIt was “cold”—very\u00a0cold.")
    first.paragraph_format.first_line_indent = docx.shared.Inches(0.5)
    first.add_run().add_break()
    first.add_run("It ").bold = True
    first.add_run("sank.")
    document.add_paragraph("")
    document.add_paragraph("The end.", style="List Bullet")
    document.sections[0].header.paragraphs[0].text = "Finch 1"
    document.add_table(1, 2).cell(0, 0).text = "In a table."
    document.save(str(tmp_path / "essay.docx"))
    assert text_of(tmp_path / "essay.docx") == (
        "The Old Boat\n\n\tIt was “cold”—very\u00a0cold.\nIt sank.\n\nThe end.\n\nIn a table."
    )


@pytest.mark.parametrize(
    ("body", "text"),
    [
        (f"<w:p>{run('One ')}<w:ins>{run('two')}</w:ins>.</w:p>", "One two"),
        (f"<w:p>{run('One')}<w:del><w:r><w:delText> two</w:delText></w:r></w:del></w:p>", "One"),
        (
            f"<w:p>{run('One')}<w:moveFrom>{run(' two')}</w:moveFrom><w:moveTo>{run(' three')}</w:moveTo></w:p>",
            "One three",
        ),
        (f"<w:p><w:pPr><w:rPr><w:del/></w:rPr></w:pPr>{run('One ')}</w:p><w:p>{run('two.')}</w:p>", "One two."),
        (f"<w:p><w:hyperlink>{run('a link')}</w:hyperlink></w:p>", "a link"),
        (f"<w:p><w:smartTag>{run('tagged')}</w:smartTag></w:p>", "tagged"),
        (f"<w:sdt><w:sdtPr><w:tab/></w:sdtPr><w:sdtContent><w:p>{run('boxed')}</w:p></w:sdtContent></w:sdt>", "boxed"),
        (f"<w:p><w:r><w:instrText>PAGE</w:instrText></w:r>{run('7 dogs')}</w:p>", "7 dogs"),
        (f"<w:p><w:pPr><w:tabs><w:tab/></w:tabs></w:pPr>{run('One')}</w:p>", "One"),
        ("<w:p><w:r><w:t>well</w:t><w:noBreakHyphen/><w:t>known</w:t></w:r></w:p>", "well\u2011known"),
        ("<w:p><w:r><w:t>remem</w:t><w:softHyphen/><w:t>ber</w:t></w:r></w:p>", "remember"),
        (f"<w:p><w:r><w:rPr><w:vanish/></w:rPr><w:t>unseen</w:t></w:r>{run('seen')}</w:p>", "seen"),
        ('<w:p><w:r><w:rPr><w:vanish w:val="0"/></w:rPr><w:t>seen</w:t></w:r></w:p>', "seen"),
        (f"<w:p>{run('One')}<w:r><w:footnoteReference/></w:r><w:r><w:br/></w:r>{run('two')}</w:p>", "One\ntwo"),
        (f"<w:p>{run('One')}<w:r><w:drawing><w:p>{run('boxed')}</w:p></w:drawing></w:r></w:p>", "One"),
        (f"<w:p>{run(' ')}</w:p><w:p/><w:p>{run('One')}</w:p>", "One"),
        (f"<w:p>{run('AT&amp;T &lt;3 &#8217;')}</w:p>", "AT&T <3 ’"),
        ("<w:p><w:r><w:t>One</w:t><w:br/><w:br/><w:t>Two</w:t></w:r></w:p>", "One\n\nTwo"),
    ],
)
def test_word_marks_show_as_they_do_on_the_page(body: str, text: str, tmp_path: Path) -> None:
    assert word(tmp_path, body) == text


@pytest.mark.parametrize(("part", "names"), [("word/document2.xml", W), ("word/document.xml", STRICT)])
def test_word_documents_of_other_makers_are_read(part: str, names: str, tmp_path: Path) -> None:
    assert word(tmp_path, f"<w:p>{run('One')}</w:p>", part=part, names=names) == "One"


def opened(tmp_path: Path, body: str) -> str:
    """The text of an OpenDocument text with this body."""
    spaces = "".join(
        f' xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
        for name in ("office", "text", "drawing", "table")
    )
    with zipfile.ZipFile(tmp_path / "essay.odt", "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.text")
        archive.writestr(
            "content.xml",
            f"<office:document-content{spaces}><office:body>{body}</office:body></office:document-content>",
        )
    return text_of(tmp_path / "essay.odt")


def test_an_open_document_made_by_a_library_keeps_paragraphs_tabs_and_spaces(tmp_path: Path) -> None:
    document = odfdo.Document("text")
    document.body.clear()
    document.body.append(odfdo.Header(1, "The Old Boat"))
    document.body.append(odfdo.Paragraph("\tIt was “cold”   indeed.\nIt sank."))
    document.body.append(odfdo.Paragraph(""))
    document.body.append(odfdo.List(["The end."]))
    document.save(tmp_path / "essay.odt")
    assert text_of(tmp_path / "essay.odt") == "The Old Boat\n\n\tIt was “cold”   indeed.\nIt sank.\n\nThe end."


@pytest.mark.parametrize(
    ("body", "text"),
    [
        ('<text:p>One<text:s/>two<text:s text:c="3"/>three</text:p>', "One two   three"),
        ("<text:p><text:tab/>One<text:line-break/>two</text:p>", "\tOne\ntwo"),
        ("<text:p>\n   One\n   two <text:span> three</text:span>\n</text:p>", "One two three"),
        ("<text:p>One<text:note><text:p>note</text:p></text:note> two</text:p>", "One two"),
        ("<text:tracked-changes><text:p>gone</text:p></text:tracked-changes><text:p>One</text:p>", "One"),
        ("<text:p>One<office:annotation><text:p>nice!</text:p></office:annotation></text:p>", "One"),
        ("<text:p>One<drawing:frame><text:p>boxed</text:p></drawing:frame></text:p>", "One"),
        (
            "<text:section><text:list><text:list-item><text:p>One</text:p></text:list-item></text:list></text:section>",
            "One",
        ),
        (
            "<table:table><table:table-cell><text:p>One</text:p></table:table-cell></table:table><text:p>Two</text:p>",
            "One\n\nTwo",
        ),
        ('<text:p>One<text:s text:c="999999999"/></text:p>', "One" + " " * 1000),
        ("<text:p>One<text:soft-page-break/> two</text:p>", "One two"),
    ],
)
def test_open_document_elements_show_as_they_do_on_the_page(body: str, text: str, tmp_path: Path) -> None:
    assert opened(tmp_path, body) == text


def rich(tmp_path: Path, body: str) -> str:
    (tmp_path / "essay.rtf").write_bytes(b"{\\rtf1\\ansi " + body.encode("latin-1") + b"}")
    return text_of(tmp_path / "essay.rtf")


@pytest.mark.parametrize(
    ("body", "text"),
    [
        (r"One.\par Two.\par\pard Three.", "One.\n\nTwo.\n\nThree."),
        (r"One\line two\tab three", "One\ntwo\tthree"),
        (r"It\u8217?s \uc2\u8220\'93 odd\u8221xy.", "It’s “odd”."),
        (r"It\u8217\'92s {\uc0\u8220 odd}", "It’s “odd"),
        (r"\u-10179?\u-8704? smile", "😀 smile"),
        (r"\ansicpg1252 It\'92s caf\'e9", "It’s café"),
        (r"\mac caf\'8e", "café"),
        ("raw caf\xe9", "raw café"),
        (r"\lquote a\rquote  \ldblquote b\rdblquote \emdash c\~d\_e", "‘a’ “b”—c\xa0d\u2011e"),
        (r"{\fonttbl{\f0\fcharset0 Times;}}{\colortbl;\red0;}{\*\generator me;}{\info{\title no}}One", "One"),
        (r"One{\footnote note}{\header head}{\pict\wmetafile8 0123456789abcdef} two", "One two"),
        (r'See {\field{\*\fldinst{HYPERLINK "http://a.example"}}{\fldrslt the map}}.', "See the map."),
        (r"One {\deleted two }\deleted three \deleted0 four", "One four"),
        (r"One {\v unseen}two", "One two"),
        (r"One\'1b[31m two\u27?", "One\ufffd[31m two\ufffd"),
        ("One\\\nTwo\\\n", "One\n\nTwo"),
        ("O\nn\r\ne", "One"),
        (r"One {\pict\bin4 {}\{} two", "One  two"),
        (r"{\listtext 1.\tab}One\par{\listtext 2.\tab}Two", "One\n\nTwo"),
        (r"a\{b\}c\\d", "a{b}c\\d"),
        (r"\trowd In\cell a table\cell\row After", "In\n\na table\n\nAfter"),
    ],
)
def test_rich_text_codes_show_as_they_do_on_the_page(body: str, text: str, tmp_path: Path) -> None:
    assert rich(tmp_path, body) == text


def test_the_words_of_ordinary_rich_text_agree_with_another_reader(tmp_path: Path) -> None:
    body = r"{\fonttbl\f0\fswiss Arial;}\f0\fs24\b The Old Boat\b0\par It\u8217?s a caf\'e9.\line{\i Very} old.\par"
    assert rich(tmp_path, body).split() == rtf_to_text("{\\rtf1\\ansi " + body + "}").split()


PARAGRAPHS = (
    "Everybody remembers the extraordinary lighthouse; nobody understands the circumstances of its abandonment. “It’s "
    "strange,” whispered the keeper’s granddaughter, remembering the well-known conversation.",
    "Furthermore, the unbelievable responsibilities of the lighthouse-keeping families included housekeeping and "
    "correspondence. They worked all night. They never complained about the uncomfortable temperatures in 1890.",
    "In conclusion, understanding the abandonment requires imagination. The office was affluent. Remarkable "
    "achievements notwithstanding, the end came quickly. I still think about it.",
)
LAYOUTS = {
    "indents": "first-line-indent: (amount: 1.5em, all: true), spacing: 0.65em, leading: 0.65em",
    "gaps": "spacing: 1.4em, leading: 0.65em",
    "double spaced with indents": "first-line-indent: (amount: 3em, all: true), spacing: 1.6em, leading: 1.6em",
    "double spaced with gaps": "spacing: 2.2em, leading: 1.6em",
    "gaps and indents": "first-line-indent: (amount: 2em, all: true), spacing: 1.2em, leading: 0.65em",
}


def printed(layout: str, *, width: str, justify: bool) -> bytes:
    source = f"""#set page(width: {width}, height: 10cm, margin: 1.5cm, numbering: "1")
#set text(size: 11pt, hyphenate: {str(justify).lower()}, lang: "en")
#set par(justify: {str(justify).lower()}, {layout})
#align(center)[The Underground Lighthouse]

""" + "\n\n".join(PARAGRAPHS)
    return bytes(typst.compile(source.encode()))


@pytest.mark.parametrize("justify", [True, False], ids=["divided words", "ragged"])
@pytest.mark.parametrize("width", ["11cm", "14cm"])
@pytest.mark.parametrize("layout", LAYOUTS.values(), ids=LAYOUTS)
def test_a_printed_page_gives_back_its_paragraphs_and_whole_words(
    layout: str, width: str, justify: bool, tmp_path: Path
) -> None:
    file = tmp_path / "essay.pdf"
    file.write_bytes(printed(layout, width=width, justify=justify))
    found = text_of(file).split("\n\n")
    assert [" ".join(paragraph.split()) for paragraph in found] == ["The Underground Lighthouse", *PARAGRAPHS]


def test_a_pdf_whose_lines_are_placed_word_by_word_is_put_together(tmp_path: Path) -> None:
    words = [("The", 72, 700), ("o\002ce", 100, 700), ("was", 140, 700.4), ("cold.", 72, 686), ("It", 100, 686)]
    content = "".join(
        f"BT /F1 12 Tf 1 0 0 1 {x} {y} Tm ({word.replace(chr(2), 'ffi')}) Tj ET\n" for word, x, y in words
    )
    (tmp_path / "essay.pdf").write_bytes(pdf(content.encode()))
    assert text_of(tmp_path / "essay.pdf").split() == ["The", "office", "was", "cold.", "It"]


def pdf(content: bytes) -> bytes:
    """A one-page PDF with this content."""
    from pypdf import PdfWriter
    from pypdf.generic import DecodedStreamObject, DictionaryObject, NameObject

    writer = PdfWriter()
    page = writer.add_blank_page(612, 792)
    font = DictionaryObject(
        {
            NameObject(k): NameObject(v)
            for k, v in {"/Type": "/Font", "/Subtype": "/Type1", "/BaseFont": "/Helvetica"}.items()
        }
    )
    page[NameObject("/Resources")] = DictionaryObject(
        {NameObject("/Font"): DictionaryObject({NameObject("/F1"): font})}
    )
    stream = DecodedStreamObject()
    stream.set_data(content)
    page[NameObject("/Contents")] = writer._add_object(stream)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def line(text: str, y: float, *, page: int = 0, x: float = 72.0) -> Line:
    return Line(page, x, y, 12.0, text)


def test_a_paragraph_that_fills_its_last_line_at_the_foot_of_a_page_runs_on_unless_indents_show_the_next() -> None:
    """The page shows nothing there, and a sentence ends so by chance more often than a paragraph does."""
    full = "This is a line that fills the page to its end."
    pages = [line(full, 100), line(full, 86), line("The next page goes on with this.", 700, page=1)]
    assert text_of_lines(pages) == f"{full} {full} The next page goes on with this."
    pages[2] = line("The next page goes on with this.", 700, page=1, x=108)
    assert "\n\nThe next page" in text_of_lines([*pages, line("and ends.", 686, page=1)])


def test_page_numbers_and_running_heads_are_left_out_but_a_single_pages_first_line_stays() -> None:
    body = "This is a line that fills the page to its end"
    two = [
        line(text, y, page=p)
        for p in (0, 1)
        for text, y in ((f"Finch {p + 1}", 760), (body, 700), (f"- {p + 1} -", 40))
    ]
    assert text_of_lines(two) == f"{body} {body}"
    assert text_of_lines([line("Finch 1", 760), line(body, 700), line(body, 686), line("1", 40)]).startswith("Finch 1")


@pytest.mark.parametrize(
    ("first", "second", "text"),
    [
        ("she remem\u00ad", "bers it.", "she remembers it."),
        ("a well-", "known tale", "a well-known tale"),
        ("an opour-", "tunity, then", "an opourtunity, then"),
        ("from 1890-", "1895 only", "from 1890- 1895 only"),
        ("the Franco-", "Prussian war", "the Franco- Prussian war"),
        ("a well\u00adknown", "tale", "a well-known tale"),
    ],
)
def test_a_word_divided_at_a_lines_end_is_made_whole_and_a_compound_keeps_its_hyphen(
    first: str, second: str, text: str
) -> None:
    assert " ".join(text_of_lines([line(first, 100), line(second, 86)]).split()) == text
