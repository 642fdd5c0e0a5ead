"""A table of double-marked essays: which columns are read, and one whole sentence for each thing that is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from rubric_kit.reading.tables import TableError, number
from rubric_kit.scoring.marks_file import FURTHEST, Marks, MarksFileError, UnknownColumnError, read_marks


def marks(folder: Path, table: str | bytes, *columns: str | None) -> Marks:
    path = folder / "marks.csv"
    path.write_bytes(table if isinstance(table, bytes) else table.encode())
    return read_marks(path, *columns)


def test_the_first_two_columns_of_numbers_are_read_and_blanks_are_no_scores(tmp_path: Path) -> None:
    found = marks(tmp_path, "name,mine,yours,third\nAnn,3,4,1\nBen,2.5,-,2\nCat,NA,1,9\n")
    assert found == Marks("mine", "yours", (3.0, 2.5, None), (4.0, None, 1.0))


def test_a_column_that_counts_the_rows_is_left_out_unless_it_is_needed(tmp_path: Path) -> None:
    assert marks(tmp_path, "no,a,b\n7,1,2\n8,3,3\n9,1,1\n").first_name == "a"
    assert marks(tmp_path, "no,a\n7,1\n8,3\n9,1\n").first_name == "no"
    assert marks(tmp_path, "no,a,b\n7,1,2\n8,3,3\n10,1,1\n").first_name == "no"


def test_a_column_of_which_half_is_words_is_no_column_of_scores(tmp_path: Path) -> None:
    assert marks(tmp_path, "x,a,b\n3,1,2\nyes,3,3\n", None, None).first_name == "a"
    with pytest.raises(MarksFileError, match="“yes” in column “x”"):
        marks(tmp_path, "x,a,b\n3,1,2\nyes,3,3\n5,1,2\n")


def test_columns_are_asked_for_by_name_whatever_the_capitals(tmp_path: Path) -> None:
    table = "a,b,c\n1,2,3\n2,3,3\n4,1,1\n"
    assert (marks(tmp_path, table, " C ").first_name, marks(tmp_path, table, "c").second_name) == ("c", "a")
    assert marks(tmp_path, table, None, "a").first == (2.0, 3.0, 1.0)
    assert marks(tmp_path, table, "b", "a") == Marks("b", "a", (2.0, 3.0, 1.0), (1.0, 2.0, 4.0))


@pytest.mark.parametrize(
    ("table", "columns", "kind", "says"),
    [
        (
            "a,b\n1,2\n2,soso\n3,3\n",
            (),
            MarksFileError,
            "marks.csv, line 3: “soso” in column “b” is no number. "
            "Write a number there, or leave it blank for no score.",
        ),
        (
            f"a,b\n1,2\n2,{'so' * 20}\n3,3\n",
            (),
            MarksFileError,
            f"marks.csv, line 3: “{'so' * 20}” in column “b” is no number. "
            "Write a number there, or leave it blank for no score.",
        ),
        (
            f"a,b\n1,2\n2,{'so' * 20}x\n3,3\n",
            (),
            MarksFileError,
            f"marks.csv, line 3: “{'so' * 20}…” in column “b” is no number. "
            "Write a number there, or leave it blank for no score.",
        ),
        (
            "a,b\n1,2\n2,1000001\n",
            (),
            MarksFileError,
            "marks.csv, line 3: 1e+06 in column “b” is too large for a score.",
        ),
        (
            "a,b\n1,x\n2,y\n",
            (),
            MarksFileError,
            "marks.csv: two columns of scores are needed, and only “a” has numbers. Put each marker's in a column.",
        ),
        (
            "a,b\nz,x\nw,y\n",
            (),
            MarksFileError,
            "marks.csv: two columns of scores are needed, and no other column has numbers. "
            "Put each marker's in a column.",
        ),
        (
            "a,b\n1,2\n",
            ("a", "A"),
            UnknownColumnError,
            "marks.csv: “a” was asked for as both columns. Name two different ones.",
        ),
        (
            "a,b\n1,2\n",
            ("c",),
            UnknownColumnError,
            "marks.csv: no column is called “c”. There are: a, b",
        ),
        (
            "a,b,A\n1,2,3\n",
            ("a",),
            UnknownColumnError,
            "marks.csv: 2 columns are called “a”. Give them different names.",
        ),
        ("", (), TableError, "marks.csv: the file is empty. It needs a line with names of columns, then rows."),
        (
            "\n1,2\n",
            (),
            TableError,
            "marks.csv, line 2: the first line has only numbers. "
            "Put the names of the columns there, such as: essay,first,second",
        ),
        (
            "a,b\n1,2\n1,2,3\n",
            (),
            TableError,
            "marks.csv, line 3: 3 cells under 2 names. Put quotation marks around a cell that has a comma in it.",
        ),
        (
            "a,b\n",
            (),
            TableError,
            "marks.csv: there is nothing below the names of the columns. Add a row for each.",
        ),
    ],
)
def test_what_is_wrong_is_said_in_whole_sentences(
    table: str, columns: tuple[str, ...], kind: type[Exception], says: str, tmp_path: Path
) -> None:
    with pytest.raises(kind) as raised:
        marks(tmp_path, table, *columns)
    assert str(raised.value) == says


def test_the_furthest_score_is_one_still(tmp_path: Path) -> None:
    assert marks(tmp_path, f"a,b\n1,{FURTHEST:.0f}\n2,-{FURTHEST:.0f}\n").second == (FURTHEST, -FURTHEST)


@pytest.mark.parametrize(
    ("cell", "value"),
    [("2", 2.0), (" 2.5 ", 2.5), ("2,5", 2.5), ("-1", -1.0), ("", None), ("two", None), ("inf", None), ("1_0", None)],
)
def test_a_cell_is_a_number_with_a_point_or_a_comma(cell: str, value: float | None) -> None:
    assert number(cell) == value
