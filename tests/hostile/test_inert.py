# ruff: noqa: E501  (a paragraph is one line, as a child hands it in)
"""Names, titles, comments and essays full of markup, formulas and escapes are nothing but text in every output."""

from __future__ import annotations

import csv
import io
import json
import re
import unicodedata
from collections.abc import Iterator
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import openpyxl
import pytest
from pypdf import PdfReader
from typer.testing import CliRunner

from rubric_kit.cli import app
from rubric_kit.records import begin
from rubric_kit.records.tasks import Version

pytestmark = pytest.mark.slow

MARKUP = "<xss onclick=alert(1)>{{7*7}}{% raw %}</style><script>alert(2)</script>&lt;xss&gt;"
TYPESET = '#eval("6*111") $x^2$ \\u{1f} #import "@preview/none:1.0.0": * ``` */ // *b* _i_ @ref <label>'
STEER = "\x1b[31mred\x1b]0;title\x07 [bold]x[/bold] \u202etxet\u202c\u2066\r\nsecond line\u2028third\0 end"
FORMULA = "=cmd|' /C calc'!A0"
ALL = f"{FORMULA} {MARKUP} {TYPESET} {STEER}"
LINE = f"{MARKUP} {TYPESET}"
CHILD = f"=1+1 {MARKUP}"
BOOK, TASK, TERM, AUTHOR = f"@SUM(1) {MARKUP}", f"+1 {MARKUP}", f"-2 {MARKUP}", f"\t=3 {MARKUP}"
PLAIN = "It was the best day of the year for all of us, and he was there with me when we went to the park in the rain. "
ESSAY = (
    f"Robin {MARKUP}\nGrade 8\n\nThe Loyal Dog {TYPESET}\n\n"
    f"Have you ever come home to a wagging tail? I think {LINE} dogs are loyal and they help us. {ALL} {PLAIN * 3}\n\n"
    f"First, dogs are loyal. My dog {MARKUP} waits at teh door every day because he misses me. For example, {LINE} he slept. {PLAIN * 3}\n\n"
    f"Dogs also help people. {STEER} \ud83d They guide the blind, and they guard the sheep at night, so a farmer can sleep. {PLAIN * 3}\n\n"
    f"In the end, loyal and helpful dogs {LINE} are the best pets. I hope that you will have one soon."
)
KEYS = ("focus", "organization", "evidence", "sentences", "conventions")


@pytest.fixture(scope="module")
def year(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder with the essay, and with records of a year in which every text is hostile."""
    place = tmp_path_factory.mktemp("hostile")
    (place / "a.txt").write_text(ESSAY, "utf-8", errors="surrogatepass")
    (place / "b.txt").write_text(ESSAY.replace("teh", "the") + " It is so.", "utf-8", errors="surrogatepass")
    with begin(place / "year") as family:
        child = family.students.add(CHILD, grade=8, school_year="2025-26")
        family.terms.add(TERM, date(2025, 9, 1), date(2026, 1, 16))
        book = family.books.add(BOOK, AUTHOR)
        for number in range(3):
            task = family.tasks.add(
                f"{TASK} {number}",
                ALL,
                set_on=date(2025, 9, 1),
                book_id=book.id,
                questions=[(LINE, 2)],
                versions={child.id: Version(form="five-paragraph", due=date(2025, 10 + number, 1))},
            )
            given = family.tasks.assignment(task.id, child.id)
            if number < 2:
                for name, day in (("a.txt", 3), ("b.txt", 9)):
                    draft = family.drafts.hand_in(given.id, place / name, received_on=date(2025, 10 + number, day))
                    family.sheets.make(draft.id)
                    family.marks.add(draft.id, dict.fromkeys(KEYS, 3), marked_on=date(2025, 12, 1), comment=ALL)
                    family.conferences.add(draft.id, held_on=date(2025, 12, 2), worked=ALL, next_step=ALL, goal=ALL)
    patch = pytest.MonkeyPatch()
    patch.setenv("RUBRIC_KIT_FAMILY", str(place / "year"))
    patch.setenv("COLUMNS", "100")
    patch.chdir(place)
    yield place
    patch.undo()


def run(*arguments: str) -> str:
    result = CliRunner().invoke(app, list(arguments))
    assert result.exit_code == 0, result.output or result.exception
    plain(result.stderr)
    return result.stdout


def plain(text: str) -> None:
    """Nothing in it steers a terminal or turns a line about; a carriage return could hide what stands before it."""
    steering = [
        c for c in text if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp") and c not in "\n\u00ad\u200d"
    ]
    assert not steering, steering


class Tags(HTMLParser):
    """The tags of a page, what it shows, and its styles."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text += data


def check_page(path: Path) -> None:
    page = path.read_text("utf-8")
    made = Tags(page)
    names = {tag for tag, _ in made.tags}
    assert not names & {"xss", "script", "label", "iframe", "object", "embed", "base", "form"}, names
    assert not [a for _, attributes in made.tags for a in attributes if a.startswith("on")]
    sources = [v or "" for _, attributes in made.tags for k, v in attributes.items() if k in ("href", "src", "action")]
    assert all(value.startswith(("#", "data:image/")) for value in sources), sources
    assert page.count("<style") == page.count("</style")
    assert "{{7*7}}" in made.text
    plain(made.text.replace("\r", ""))


def check_paper(path: Path) -> None:
    content = path.read_bytes()
    reader = PdfReader(io.BytesIO(content))
    text = re.sub(r"[\s\u200b]+", "", "".join(page.extract_text() for page in reader.pages))
    assert "{{7*7}}" in text
    assert "666" not in text  # what #eval would give
    for page in reader.pages:
        for note in page.get("/Annots") or ():
            assert "/URI" not in str(note.get_object())
    assert not re.search(rb"/(JavaScript|JS|Launch|OpenAction|AA)\b", content)


def check_picture(path: Path) -> None:
    tree = ElementTree.fromstring(path.read_text("utf-8"))  # raises if a name broke out of its element
    names = {element.tag.rpartition("}")[2] for element in tree.iter()}
    assert not names & {"xss", "script", "foreignObject", "a"}, names
    assert not [k for element in tree.iter() for k in element.attrib if k.rpartition("}")[2].startswith("on")]


@pytest.mark.parametrize(
    "command",
    [
        ("score", "a.txt", "--grade", "8"),
        ("due", "--all"),
        ("student", "list"),
        ("book", "list"),
        ("term", "list"),
        ("task", "list"),
        ("task", "show", f"{TASK} 0"),
        ("task", "show", f"{TASK} 0", "--for", CHILD),
        ("draft", "list"),
        ("draft", "show", "1"),
        ("draft", "show", "1", "--sheet"),
        ("conference", "list"),
        ("grade",),
        ("grade", "--explain"),
        ("compare", "a.txt", "b.txt", "--grade", "8"),
        ("compare", "--student", CHILD, "--task", f"{TASK} 0"),
        ("growth", "--student", CHILD),
        ("chart", "level", "--student", CHILD),
        ("steady",),
        ("history",),
        ("check",),
    ],
    ids=lambda command: " ".join(command)[:24],
)
def test_on_a_terminal(command: tuple[str, ...], year: Path) -> None:
    plain(run(*command))


@pytest.mark.parametrize(
    "command",
    [
        ("score", "a.txt", "--grade", "8"),
        ("due", "--all"),
        ("student", "list"),
        ("task", "show", f"{TASK} 0"),
        ("draft", "show", "1"),
        ("conference", "list"),
        ("grade",),
        ("growth", "--student", CHILD),
    ],
    ids=lambda command: " ".join(command)[:24],
)
def test_as_json(command: tuple[str, ...], year: Path) -> None:
    told = run(*command, "--json")
    assert told.isascii()
    plain(told)
    for line in told.splitlines():
        json.loads(line, parse_constant=lambda name: pytest.fail(f"{name} is no JSON"))


@pytest.mark.parametrize(
    "command",
    [
        ("score", "a.txt", "--grade", "8"),
        ("draft", "show", "1"),
        ("compare", "a.txt", "b.txt", "--grade", "8"),
        ("portfolio", "--student", CHILD),
        ("report", "--student", CHILD, "--term", TERM),
    ],
    ids=lambda command: " ".join(command)[:24],
)
def test_on_a_page_and_on_paper(command: tuple[str, ...], year: Path, tmp_path: Path) -> None:
    run(*command, "--html", str(tmp_path / "a.html"), "--pdf", str(tmp_path / "a.pdf"))
    check_page(tmp_path / "a.html")
    check_paper(tmp_path / "a.pdf")


def test_on_the_page_of_grades(year: Path, tmp_path: Path) -> None:
    run("grade", "--html", str(tmp_path / "a.html"))
    check_page(tmp_path / "a.html")


def test_on_the_sheet_for_the_child(year: Path, tmp_path: Path) -> None:
    from rubric_kit.reading import read
    from rubric_kit.scoring.score import score
    from rubric_kit.showing.child_sheet import child_html, child_pdf, child_sheet

    told = child_sheet(score(read(year / "a.txt"), 8), child=CHILD, comment=ALL)
    (tmp_path / "a.html").write_text(child_html(told), "utf-8")
    (tmp_path / "a.pdf").write_bytes(child_pdf(told))
    check_page(tmp_path / "a.html")
    check_paper(tmp_path / "a.pdf")


@pytest.mark.parametrize(
    "kind",
    [
        ("level",),
        ("criteria",),
        ("parts",),
        ("slips",),
        ("proposals",),
        ("measure", "--measure", "flesch_kincaid_grade"),
    ],
    ids=lambda kind: kind[0],
)
def test_in_a_drawing(kind: tuple[str, ...], year: Path, tmp_path: Path) -> None:
    run("chart", *kind, "--student", CHILD, "--out", str(tmp_path / "a.svg"))
    check_picture(tmp_path / "a.svg")


def test_in_the_drawing_of_two_drafts(year: Path, tmp_path: Path) -> None:
    run("chart", "revision", "--student", CHILD, "--task", f"{TASK} 0", "--out", str(tmp_path / "a.svg"))
    check_picture(tmp_path / "a.svg")


@pytest.mark.parametrize("what", ["grades", "pieces"])
def test_in_a_spreadsheet(what: str, year: Path, tmp_path: Path) -> None:
    run("export", str(tmp_path / "a.csv"), "--what", what)
    run("export", str(tmp_path / "a.xlsx"), "--what", what)
    for row in csv.reader(io.StringIO((tmp_path / "a.csv").read_text("utf-8-sig"), newline="")):
        assert not [cell for cell in row if cell.startswith(("=", "+", "@", "\t", "\r", "\n"))]
        assert not [cell for cell in row if cell.startswith("-") and not cell[1:].replace(".", "").isdigit()]
        assert not [cell for cell in row if {"\x1b", "\0", "\x07"} & set(cell)]
    cells = [cell for row in openpyxl.load_workbook(tmp_path / "a.xlsx").active.iter_rows() for cell in row]
    assert all(cell.data_type != "f" and cell.hyperlink is None for cell in cells)
    assert any(isinstance(cell.value, str) and "{{7*7}}" in cell.value for cell in cells)
