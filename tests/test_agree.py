"""rubric-kit agree: a table of double-marked essays, from the file to the figures and to what is wrong with it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from rubric_kit.cli import app
from rubric_kit.scoring import marks_file
from rubric_kit.scoring.agreement import agreement
from rubric_kit.scoring.marks_file import read_marks

FIRST = [1, 2, 3, 4, 4, 3, 2, 5, 3, 4]
SECOND = [1, 2, 3, 3, 4, 4, 2, 4, 3, 5]
TABLE = "essay,mother,tool\n" + "".join(f"{n},{a},{b}\n" for n, (a, b) in enumerate(zip(FIRST, SECOND, strict=True)))


def run(tmp_path: Path, table: str | bytes, *options: str) -> Result:
    path = tmp_path / "marks.csv"
    path.write_bytes(table if isinstance(table, bytes) else table.encode())
    return CliRunner().invoke(app, ["agree", str(path), *options])


def figures(tmp_path: Path, table: str | bytes, *options: str) -> dict[str, object]:
    result = run(tmp_path, table, "--json", *options)
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


def test_the_json_has_every_figure_of_the_library(tmp_path: Path) -> None:
    found, wanted = figures(tmp_path, TABLE), agreement(FIRST, SECOND)
    assert (found["first"], found["second"], found["n"], found["left_out"]) == ("mother", "tool", 10, 0)
    assert found["quadratic_kappa"] == wanted.quadratic_kappa
    assert found["quadratic_kappa_interval"] == list(wanted.quadratic_kappa_interval)
    assert found["intraclass"]["two_way"] == wanted.intraclass.two_way
    assert found["why_not"] == {}


def test_the_page_says_what_each_figure_means_and_that_ten_essays_are_few(tmp_path: Path) -> None:
    said = " ".join(run(tmp_path, TABLE).output.split())
    for part in ("6 of 10 (60%)", "0.84", "“almost perfect”", "On average neither gives more", "10 essays are few"):
        assert part in said


def test_a_column_that_numbers_the_rows_is_no_marker_unless_asked_for(tmp_path: Path) -> None:
    assert figures(tmp_path, TABLE)["first"] == "mother"
    assert figures(tmp_path, TABLE, "--first", "Essay")["first"] == "essay"


def test_columns_are_chosen_by_name(tmp_path: Path) -> None:
    table = "a,b,c\n1,2,3\n2,3,3\n4,1,1\n"
    found = figures(tmp_path, table, "--first", "c")
    assert (found["first"], found["second"]) == ("c", "a")
    found = figures(tmp_path, table, "--second", "b", "--first", "c")
    assert (found["first"], found["second"]) == ("c", "b")


@pytest.mark.parametrize("blank", ["", " ", "NA", "n/a", "-"])
def test_blank_cells_are_left_out_and_counted(tmp_path: Path, blank: str) -> None:
    found = figures(tmp_path, f"a,b\n1,2\n{blank},3\n3,{blank}\n2,2\n")
    assert (found["n"], found["left_out"]) == (2, 2)


@pytest.mark.parametrize(
    "table",
    [
        "\ufeffa,b\r\n1,2\r\n2.5,2\r\n".encode(),
        "a,b\n1,2\n2.5,2\n".encode("utf-16"),
        "père;mère\n1;2\n2,5;2\n".encode("cp1252"),
        b"a\tb\n1\t2\n2.5\t2\n",
        b'\n\na,b\n1,2\n\n"2.5",2\n',
        b"a,b\r1,2\r2.5,2",
    ],
)
def test_encodings_line_ends_and_delimiters_of_spreadsheets_are_read(tmp_path: Path, table: bytes) -> None:
    assert figures(tmp_path, table)["n"] == 2


def test_names_in_windows_1252_keep_their_letters(tmp_path: Path) -> None:
    assert figures(tmp_path, "père;mère\n1;2\n2;2\n".encode("cp1252"))["first"] == "père"


@pytest.mark.parametrize(
    ("table", "message"),
    [
        ("", "is empty"),
        ("\n \n", "is empty"),
        ("a,b\n", "nothing below"),
        ("1,2\n3,4\n", "line 1: the first line has only numbers"),
        ("a\n1\n2\n", "only “a” has numbers"),
        ("a,b\nx,y\n", "no other column has numbers"),
        ("a,b\n1,2\n2,B+\n3,3\n", "line 3: “B+” in column “b” is no number"),
        ("a,b\n1,2\n2,=1+1\n3,3\n", "line 3: “=1+1” in column “b” is no number"),
        ("a,b\n1,2\n2,inf\n3,3\n", "line 3: “inf”"),
        ("a,b\n1,2\n2,1_0\n3,3\n", "line 3: “1_0”"),
        ("a,b\n1,2\n2,1e300\n3,3\n", "line 3: 1e+300 in column “b” is too large"),
        ("a,b\n1,2\n2,3,4\n", "line 3: 3 cells under 2 names"),
        ('a,b\n1,2\n"' + "x" * 200_000 + '",2\n', "line 3: this is no row of a table"),
        (b"PK\x03\x04" + bytes(range(256)) * 20, "this is no text"),
    ],
)
def test_a_file_at_fault_gets_one_line_that_says_where_and_exit_1(
    tmp_path: Path, table: str | bytes, message: str
) -> None:
    result = run(tmp_path, table)
    assert result.exit_code == 1
    assert message in result.stderr
    assert result.stderr.startswith("marks.csv")
    assert result.stderr.count("\n") == 1
    assert not result.stdout


def test_the_line_of_a_slip_counts_blank_lines_and_lines_within_cells(tmp_path: Path) -> None:
    assert "line 6:" in run(tmp_path, 'a,b,note\n1,2,"two\nlines"\n\n2,1,\n3,x,\n1,1,\n').stderr


def test_a_missing_file_and_a_folder_get_exit_1(tmp_path: Path) -> None:
    for path in (tmp_path / "none.csv", tmp_path):
        result = CliRunner().invoke(app, ["agree", str(path)])
        assert (result.exit_code, "cannot be opened" in result.stderr) == (1, True)


def test_a_file_larger_than_any_table_of_marks_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(marks_file, "LARGEST", 10)
    assert "MB" in run(tmp_path, TABLE).stderr


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (["--first", "father"], "no column is called “father”"),
        (["--first", "tool", "--second", "tool"], "as both columns"),
        (["--first"], "requires an argument"),
    ],
)
def test_a_wrong_name_of_a_column_is_the_command_line_s_fault_exit_2(
    tmp_path: Path, options: list[str], message: str
) -> None:
    result = run(tmp_path, TABLE, *options)
    assert result.exit_code == 2
    assert message in " ".join(result.stderr.replace("│", " ").split())


def test_two_columns_of_the_asked_name_are_refused(tmp_path: Path) -> None:
    assert run(tmp_path, "a,a,b\n1,2,3\n2,2,1\n", "--first", "a").exit_code == 2


def test_escapes_and_markup_in_a_file_are_inert(tmp_path: Path) -> None:
    name = "[bold]\x1b[31mred\u202e=cmd()"
    table = f"{name},b\n" + "1,2\n2,3\n4,4\n" * 20
    shown = run(tmp_path, table)
    assert shown.exit_code == 0
    assert "[bold]␛[31mred" in shown.output
    wrong = run(tmp_path, table + "3,\x1b[2J\n")
    for output in (shown.output, wrong.output, run(tmp_path, table, "--first", "\x1b[2J").output):
        assert "\x1b" not in output
        assert "\u202e" not in output


def test_markers_who_always_give_one_score_are_told_so(tmp_path: Path) -> None:
    said = " ".join(run(tmp_path, "a,b\n3,3\n3,3\n3,3\n").output.split())
    assert "3 of 3 (100%)" in said
    assert "Kappa cannot be worked out: a marker gave every essay the same score" in said
    assert "intraclass correlations cannot be worked out" in said


def test_no_essay_with_both_scores_says_nothing(tmp_path: Path) -> None:
    result = run(tmp_path, "a,b\n3,\n,3\n")
    assert result.exit_code == 0
    assert "Nothing can be said: no essay has both scores" in result.output


def test_a_marker_who_gives_more_is_named_with_the_interval(tmp_path: Path) -> None:
    table = "strict,mild\n" + "1,2\n2,4\n2,3\n1,3\n3,4\n2,3\n"
    said = " ".join(run(tmp_path, table).output.split())
    assert "“mild” gives 1.33 more. The interval does not hold 0" in said


def test_ten_thousand_rows_are_read_whole(tmp_path: Path) -> None:
    path = tmp_path / "many.csv"
    path.write_text("a,b\n" + "1,2\n2,3\n" * 5000, "utf-8")
    assert len(read_marks(path).first) == 10_000
