"""Tables as they must not be: nothing in them stops a batch, steers a terminal or becomes a formula."""

from __future__ import annotations

from pathlib import Path

import pytest

import rubric_kit as rk
from rubric_kit.batching import csv_rows
from rubric_kit.batching.rows import Row

from .tables import essay, rows_of, write_csv

GOOD = essay(1).encode()
HEAD = b"id,text\n"


def rows(path: Path, content: bytes) -> list[Row]:
    path.write_bytes(content)
    return list(csv_rows.csv_source(path).rows())


def test_a_broken_quotation_mark_costs_the_rows_that_it_swallows_and_no_other(tmp_path: Path) -> None:
    content = b'id,text\na,"fine, yes"\nb,"never closed\nc,"swallowed"\nd,fine again\ne,"and, again"\n'
    found = rows(tmp_path / "in.csv", content)
    assert [(row.id, bool(row.wrong)) for row in found] == [("a", False), ("", True), ("d", False), ("e", False)]
    assert found[1].wrong.startswith("lines 3 to 4: this is no row of a table")


def test_a_quotation_mark_open_to_the_end_is_told(tmp_path: Path) -> None:
    (found,) = rows(tmp_path / "in.csv", b'id,text\na,"never closed\nb,swallowed\n')
    assert "lines 2 to 3" in found.wrong


def test_an_unquoted_comma_is_told_with_the_id(tmp_path: Path) -> None:
    (found,) = rows(tmp_path / "in.csv", b"id,text\na,Well, it is so\n")
    assert (found.id, found.wrong.partition(". ")[0]) == ("a", "it has 3 cells under 2 names")


def test_rows_are_counted_as_a_spreadsheet_does(tmp_path: Path) -> None:
    found = rows(tmp_path / "in.csv", b'id,text\n\na,"two\nlines"\n\n\nb,x\n')
    assert [(row.number, row.id) for row in found] == [(3, "a"), (6, "b")]


@pytest.mark.parametrize(
    ("encoding", "mark"),
    [("utf-8", b""), ("utf-8-sig", b""), ("cp1252", b""), ("utf-16-le", b"\xff\xfe"), ("utf-16", b"")],
)
def test_whatever_program_saved_it_the_text_is_the_same(tmp_path: Path, encoding: str, mark: bytes) -> None:
    content = mark + '"id","text"\r\n"a","caf\xe9 \u201chere\u201d"\r\n'.replace('"here"', "here").encode(encoding)
    assert [(row.id, row.text) for row in rows(tmp_path / "in.csv", content)] == [("a", "caf\xe9 \u201chere\u201d")]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_commas_semicolons_or_tabs_divide_cells(tmp_path: Path, delimiter: str) -> None:
    content = f'id{delimiter}text\na{delimiter}"x, y; z"\n'.encode()
    assert [row.text for row in rows(tmp_path / "in.csv", content)] == ["x, y; z"]


def test_a_huge_cell_is_told_and_the_row_after_its_line_is_read(tmp_path: Path) -> None:
    content = HEAD + b'a,"' + b"word " * 500_000 + b'"\nb,fine\n'
    found = rows(tmp_path / "in.csv", content)
    assert "field larger than" in found[0].wrong
    assert (found[-1].id, found[-1].text) == ("b", "fine")
    assert all(row.wrong or not row.text for row in found[:-1])


def test_a_file_of_one_endless_line_is_read_in_pieces(tmp_path: Path) -> None:
    found = rows(tmp_path / "in.csv", HEAD + b"a" * 3_500_000)
    assert len(found) == 4
    assert not any(row.text for row in found)


def test_the_limit_of_the_csv_module_is_put_back(tmp_path: Path) -> None:
    import csv

    before = csv.field_size_limit()
    rows(tmp_path / "in.csv", HEAD + b"a,b\n")
    assert csv.field_size_limit() == before


def test_nul_bytes_and_escapes_and_formulas_go_through_and_come_out_inert(tmp_path: Path) -> None:
    ids = ["=1+1", "@SUM(A1)", "\x1b[31mred", "nul\x00here", "+7", "\u202eturned", "plain"]
    source = write_csv(tmp_path / "in.csv", [(name, essay(n) + "\x00 \x1b[2J=cmd()") for n, name in enumerate(ids)])
    done = rk.batch(source, tmp_path / "out.csv", processes=1)
    written = done.results.read_bytes()
    assert done.left_out == 0
    assert b"\x1b" not in written
    assert b"\x00" not in written
    assert [row["id"] for row in rows_of(done.results)] == [
        "'=1+1", "'@SUM(A1)", "\u241b[31mred", "nul\u2400here", "'+7", "\u202eturned", "plain",
    ]  # fmt: skip


def test_a_bad_row_is_as_inert_in_the_list_of_problems(tmp_path: Path) -> None:
    source = write_csv(tmp_path / "in.csv", [("=1+1", ""), ("a", essay(1)), ("b\x1b[31m", essay(1))], ("id", "text"))
    source.write_bytes(source.read_bytes() + b'c,"' + b"\x1b[2J" + b'" =2+2\n')
    done = rk.batch(source, tmp_path / "out.csv", processes=1)
    assert b"\x1b" not in done.problems.read_bytes()
    assert rows_of(done.problems)[0]["id"] == "'=1+1"


def test_in_parquet_an_id_is_just_what_it_was(tmp_path: Path) -> None:
    pq = pytest.importorskip("pyarrow.parquet", reason="pyarrow, of the extra batch, is not installed")
    source = write_csv(tmp_path / "in.csv", [("=1+1", essay(1)), ("\x1b[31mred", essay(2))])
    done = rk.batch(source, tmp_path / "out.parquet", processes=1)
    assert pq.read_table(done.results)["id"].to_pylist() == ["=1+1", "\x1b[31mred"]


def test_names_of_files_that_are_no_utf8_go_through(tmp_path: Path) -> None:
    folder = tmp_path / "in"
    folder.mkdir()
    for name in (b"caf\xe9.txt", b"caf\xc3\xa9.txt", b"a\nb.txt"):
        try:
            (folder / name.decode("utf-8", "surrogateescape")).write_text(essay(1))
        except OSError:
            pytest.skip("this file system takes no such names")
    done = rk.batch(folder, tmp_path / "out.csv", processes=1)
    assert [row["id"] for row in rows_of(done.results)] == ["a\nb.txt", "caf\xe9.txt", "caf\\xe9.txt"]
