"""rubric-kit chart, and the charts that it takes from the records."""

from datetime import date
from pathlib import Path

import pytest

from rubric_kit.records import begin
from rubric_kit.records.tasks import Version
from rubric_kit.showing.charts.year import YEAR, UnknownChartError, chart, charts, measure_chart

from .commands import COMMAND_LINE, ESSAY, INPUT, read, run, said

LEVELS = {"focus": 3, "organization": 2, "evidence": 3, "sentences": 4, "conventions": 3}


@pytest.fixture
def family(tmp_path: Path):
    """Ann, one task, two drafts of it marked without a proposal: in May 2025 and in May 2026."""
    with begin(tmp_path / "family") as made:
        ann = made.students.add("Ann", grade=8, school_year="2025-26")
        task = made.tasks.add("The wild", "Why?", set_on=date(2025, 5, 1), versions={ann.id: Version()})
        assignment = made.tasks.assignment(task.id, ann.id)
        for year, level in ((2025, 2), (2026, 4)):
            draft = made.drafts.hand_in(assignment.id, ESSAY, received_on=date(year, 5, 15))
            made.marks.add(draft.id, LEVELS | {"focus": level}, marked_on=date(year, 5, 16))
        yield made


@pytest.fixture
def folder(family, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("RUBRIC_KIT_FAMILY", str(family.folder))
    return family.folder


def test_every_chart_of_the_year_is_made_from_the_records(family) -> None:
    made = charts(family, family.students.find("Ann"))
    assert list(made) == list(YEAR)
    assert made["level"].alt.startswith("Ann: overall writing level, on levels 1 to 4, 1 piece on 15 May 2026.")


def test_initials_can_stand_for_the_name(family) -> None:
    made = charts(family, family.students.find("Ann"), who="A. P.")
    assert all("Ann" not in chart.title + chart.alt for chart in made.values())
    assert made["level"].title.startswith("A. P.: ")


def test_a_school_year_leaves_other_pieces_out(family) -> None:
    ann = family.students.find("Ann")
    assert "15 May 2025" in chart("level", family, ann, school_year="2024-25").alt
    assert "nothing to show yet" in chart("level", family, ann, school_year="2023-24").alt


def test_an_unknown_chart_or_measure_is_named_with_those_there_are(family) -> None:
    ann = family.students.find("Ann")
    with pytest.raises(UnknownChartError, match=r"There is no chart pie\. There are: level, criteria"):
        chart("pie", family, ann)
    with pytest.raises(UnknownChartError, match="There is no measure charm"):
        measure_chart("charm", family, ann)


def test_without_a_file_the_chart_is_told_in_words(folder: Path) -> None:
    told = said(run("chart", "level", "--student", "ann"))
    assert "overall writing level" in told
    assert "too few for a line of its own" in told


def test_the_chart_is_written_as_svg_or_png(folder: Path, tmp_path: Path) -> None:
    run("chart", "criteria", "--student", "Ann", "--out", tmp_path / "criteria.svg")
    assert (tmp_path / "criteria.svg").read_text("utf-8").startswith("<svg")
    run("chart", "revision", "--student", "Ann", "--task", "The wild", "--out", tmp_path / "wild.png")
    assert (tmp_path / "wild.png").read_bytes().startswith(b"\x89PNG")


def test_json_has_title_alt_text_and_reading(folder: Path) -> None:
    told = read("chart", "revision", "--student", "Ann", "--task", "the wild")
    assert told["title"] == "Ann: The wild: first and last draft"
    assert "focus 2 to 4" in told["alt"]
    assert told["reading"][0] == "Went up: focus."


def test_measure_and_task_go_with_their_charts_only(folder: Path) -> None:
    for wrong in (("measure",), ("revision",), ("level", "--measure", "mtld"), ("measure", "--task", "The wild")):
        run("chart", *wrong, "--student", "Ann", code=COMMAND_LINE)


def test_what_is_not_there_is_told_in_a_line(folder: Path, tmp_path: Path) -> None:
    assert "There is no student called Bo" in said(run("chart", "level", "--student", "Bo", code=INPUT))
    assert "There is no measure charm" in said(
        run("chart", "measure", "--measure", "charm", "--student", "Ann", code=INPUT)
    )
    assert "no school year" in said(run("chart", "level", "--student", "Ann", "--year", "2026", code=INPUT))
    assert "written as .svg or .png" in said(
        run("chart", "level", "--student", "Ann", "--out", tmp_path / "level.pdf", code=INPUT)
    )


def test_help_has_an_example() -> None:
    assert "Example: rubric-kit chart level" in said(run("chart", "--help"))
