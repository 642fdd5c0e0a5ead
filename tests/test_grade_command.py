"""rubric-kit grade and rubric-kit export, run as commands."""

import json
import sys
from datetime import date
from pathlib import Path

import pytest
from typer.testing import CliRunner

from rubric_kit.cli import app
from rubric_kit.records import begin

sys.path.insert(0, str(Path(__file__).parent / "records"))
from grading import give, hand_in, levels


@pytest.fixture
def folder(tmp_path):
    with begin(tmp_path / "family") as family:
        ann = family.students.add("Ann", grade=8, school_year="2025-26")
        ben = family.students.add("Ben", grade=8, school_year="2025-26")
        family.terms.add("fall", date(2025, 9, 1), date(2025, 12, 20))
        oz = family.books.add("Oz")
        hand_in(family, give(family, ann, "Who is Oz", book=oz), proposed=levels(2), own=levels(3))
        give(family, ann, "Dorothy", due=date(2025, 9, 20))
        give(family, ben, "Toto", due=date(2025, 9, 20))
    return tmp_path / "family"


def run(folder, *arguments):
    return CliRunner().invoke(app, [*arguments, "--family", str(folder)])


def test_all_grades_of_each_child_with_what_is_missing(folder):
    said = run(folder, "grade")
    assert said.exit_code == 0
    assert all(words in said.stdout for words in ("Ann", "Ben", "88.0", "B+", "no grade yet"))
    assert "Dorothy: due 2025-09-20: nothing handed in" in said.stdout
    assert "A grade is yours to give" in said.stdout


@pytest.mark.parametrize("chosen", [("--book", "oz"), ("--term", "fall"), ("--year", "2025-26")])
def test_one_grade_explained_down_to_the_sentence(folder, chosen):
    said = run(folder, "grade", "--student", "ann", *chosen, "--explain")
    assert said.exit_code == 0
    assert "Ben" not in said.stdout
    assert all(words in said.stdout for words in ("your level 3", "proposed was 2", "“Buck is strong.” (paragraph 1)"))


def test_grades_as_json(folder):
    year = json.loads(run(folder, "grade", "--student", "Ann", "--json").stdout)[0]
    assert (year["kind"], year["percent"], year["exact"], year["letter"]) == ("year", 88.0, "88", "B+")
    assert "worked" not in year
    explained = json.loads(run(folder, "grade", "--student", "Ann", "--json", "--explain").stdout)[0]
    assert explained["worked"]["text"] == "2025-26: 88.0"


def test_a_page_and_tables_are_written(folder, tmp_path):
    for arguments in (("grade", "--html", "g.html"), ("export", "g.csv"), ("export", "p.xlsx", "--what", "pieces")):
        *start, last = [str(tmp_path / a) if "." in a else a for a in arguments]
        assert run(folder, *start, last).exit_code == 0
    assert all((tmp_path / name).stat().st_size for name in ("g.html", "g.csv", "p.xlsx"))


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("grade", "--student", "Zed"), 1, "There is no student called Zed. There are: Ann, Ben."),
        (("grade", "--term", "summer"), 1, "There is no term called summer"),
        (("grade", "--book", "summer"), 1, "There is no book called summer"),
        (("grade", "--year", "2025"), 1, "2025 is no school year"),
        (("grade", "--book", "Oz", "--term", "fall"), 2, "Choose one of"),
        (("export", "grades.ods"), 1, ".csv or .xlsx"),
        (("export", "grades.csv", "--what", "students"), 2, "students"),
    ],
)
def test_what_cannot_be_is_told_in_words(folder, arguments, code, words):
    said = run(folder, *arguments)
    assert said.exit_code == code
    assert words in said.stderr


def test_a_family_without_tasks_is_told_what_to_do(tmp_path):
    with begin(tmp_path / "new"):
        pass
    assert "rubric-kit task add" in run(tmp_path / "new", "grade").stdout
