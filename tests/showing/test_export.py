"""Tables for spreadsheets, read back by another library; no text in them is a formula."""

import csv
import sys
from datetime import date, datetime
from io import StringIO
from pathlib import Path

import openpyxl
import pytest
from openpyxl.utils.escape import unescape

from rubric_kit.records import begin
from rubric_kit.showing.export import LONGEST, ExportError, Table, as_csv, as_xlsx, export
from rubric_kit.showing.pages import PageNotWrittenError

sys.path.insert(0, str(Path(__file__).parents[1] / "records"))
from grading import give, hand_in, levels

TODAY = date(2026, 6, 15)
HOSTILE = [
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "\n=1",
    '=HYPERLINK("http://x.example";"y")',
    "=cmd|' /C calc'!A0",
    "＝1+1",
    "＠SUM(A1)",
]
CALM = [
    "Ann",
    "O'Neill",
    "a = b",
    "3-4",
    "",
    "“quoted”, with a comma",
    "two\nlines",
    "Zoë 🦊",
    "007",
    "http://x.example",
]


@pytest.fixture
def family(tmp_path):
    with begin(tmp_path / "family") as made:
        eve = made.students.add("=HYPERLINK(1)", grade=8, school_year="2025-26")
        ben = made.students.add("Ben", grade=8, school_year="2025-26")
        book = made.books.add("-2+3")
        call = give(made, eve, "@Call", book=book)
        hand_in(made, call, date(2025, 9, 10), proposed=levels(2), own=levels(3), comment="+Good\nwork")
        hand_in(made, call, date(2025, 9, 20), proposed=levels(4))
        give(made, ben, "Oz", due=date(2025, 9, 12))
        yield made


def read_csv(path):
    content = path.read_bytes()
    assert content.startswith(b"\xef\xbb\xbf")
    return list(csv.DictReader(StringIO(content.decode("utf-8-sig"), newline="")))


def read_xlsx(path):
    head, *rows = openpyxl.load_workbook(path).active.iter_rows()
    return [{name.value: cell for name, cell in zip(head, row, strict=True)} for row in rows]


@pytest.mark.parametrize("text", HOSTILE)
def test_text_that_begins_like_a_formula_is_text_in_csv_and_in_xlsx(text, tmp_path):
    table = Table("t", (text,), [(text, 1)])
    for cell in next(csv.reader(StringIO(as_csv(table).decode("utf-8-sig"), newline=""))):
        assert cell == "'" + text
    (tmp_path / "t.xlsx").write_bytes(as_xlsx(table))
    sheet = openpyxl.load_workbook(tmp_path / "t.xlsx").active
    for cell in (sheet["A1"], sheet["A2"]):
        assert (cell.data_type, unescape(cell.value)) == ("s", text)
        assert cell.hyperlink is None


@pytest.mark.parametrize("text", CALM)
def test_other_text_is_as_it_was(text, tmp_path):
    table = Table("t", ("name", "n"), [(text, 1)])
    assert list(csv.reader(StringIO(as_csv(table).decode("utf-8-sig"), newline="")))[1] == [text, "1"]
    (tmp_path / "t.xlsx").write_bytes(as_xlsx(table))
    cell = openpyxl.load_workbook(tmp_path / "t.xlsx").active["A2"]
    assert (cell.value or "") == text
    assert cell.hyperlink is None


def test_a_table_as_csv_has_nothing_in_it_that_steers_a_terminal():
    text = as_csv(Table("t", ("a\x1b[31m",), [("b\0\x07\x7f\n\tc",)])).decode("utf-8-sig")
    assert list(csv.reader(StringIO(text, newline=""))) == [["a␛[31m"], ["b␀␇␡\n\tc"]]


def test_numbers_and_days_stay_numbers_and_days(tmp_path):
    table = Table("t", ("n", "day", "none", "old"), [(-1.5, date(2025, 9, 10), None, date(206, 5, 1))])
    (tmp_path / "t.xlsx").write_bytes(as_xlsx(table))
    row = [cell.value for cell in openpyxl.load_workbook(tmp_path / "t.xlsx").active[2]]
    assert row == [-1.5, datetime(2025, 9, 10), None, "0206-05-01"]
    assert as_csv(table).decode("utf-8-sig").splitlines()[1] == "-1.5,2025-09-10,,0206-05-01"


def test_a_text_longer_than_a_cell_is_cut_and_shows_it(tmp_path):
    (tmp_path / "t.xlsx").write_bytes(as_xlsx(Table("t", ("a",), [("x" * 40_000,)])))
    value = openpyxl.load_workbook(tmp_path / "t.xlsx").active["A2"].value
    assert (len(value), value[-2:]) == (LONGEST, "x…")


def test_the_pieces_with_own_and_proposed_levels(family, tmp_path):
    assert export(family, tmp_path / "p.xlsx", "pieces", TODAY) == 2
    first, second = read_xlsx(tmp_path / "p.xlsx")
    assert {k: first[k].value for k in ("student", "book", "task", "comment")} == {
        "student": "=HYPERLINK(1)",
        "book": "-2+3",
        "task": "@Call",
        "comment": "+Good\nwork",
    }
    assert all(cell.data_type != "f" for row in (first, second) for cell in row.values())
    assert [(r["draft"].value, r["date"].value, r["percent"].value) for r in (first, second)] == [
        (1, datetime(2025, 9, 10), 88),
        (2, datetime(2025, 9, 20), 98),
    ]
    assert [(r["focus own"].value, r["focus proposed"].value) for r in (first, second)] == [(3, 2), (None, 4)]
    assert [(r["letter"].value, r["provisional"].value) for r in (first, second)] == [("B+", ""), ("A", "yes")]


def test_the_grades_with_what_is_missing(family, tmp_path):
    export(family, tmp_path / "g.csv", "grades", TODAY)
    rows = read_csv(tmp_path / "g.csv")
    (task,) = [row for row in rows if row["of"] == "task" and row["student"].endswith("HYPERLINK(1)")]
    assert (task["student"], task["name"], task["percent"], task["letter"]) == (
        "'=HYPERLINK(1)",
        "'@Call",
        "88.0",
        "B+",
    )
    (late,) = [row for row in rows if row["name"] == "Oz"]
    assert (late["percent"], late["missing"]) == ("", "Oz: due 2025-09-12: nothing handed in")
    assert export(family, tmp_path / "g.XLSX", today=TODAY) == len(rows)
    assert [r["percent"].value for r in read_xlsx(tmp_path / "g.XLSX")] == [
        float(row["percent"]) if row["percent"] else None for row in rows
    ]


def test_an_empty_family_gives_the_names_of_the_columns(tmp_path):
    with begin(tmp_path / "empty") as family:
        for what in ("grades", "pieces"):
            assert export(family, tmp_path / "e.csv", what) == 0
            assert (tmp_path / "e.csv").read_text("utf-8-sig").startswith("student,")
            assert export(family, tmp_path / "e.xlsx", what) == 0


def test_what_cannot_be_written_is_said_and_an_earlier_file_stays(family, tmp_path, monkeypatch):
    with pytest.raises(ExportError, match=r"\.csv or \.xlsx"):
        export(family, tmp_path / "grades.ods")
    with pytest.raises(ExportError, match="grades, pieces"):
        export(family, tmp_path / "g.csv", "students")
    (tmp_path / "folder.csv").mkdir()
    with pytest.raises(PageNotWrittenError):
        export(family, tmp_path / "folder.csv")
    (tmp_path / "g.csv").write_text("earlier")

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(PageNotWrittenError, match="No space left"):
        export(family, tmp_path / "g.csv", today=TODAY)
    assert (tmp_path / "g.csv").read_text() == "earlier"
    assert not list(tmp_path.glob(".*.part"))
