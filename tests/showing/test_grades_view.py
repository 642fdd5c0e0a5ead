"""Grades as shown: on a page nothing steers the browser, on a terminal nothing steers the terminal."""

import sys
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest

from rubric_kit.records import begin
from rubric_kit.records.grades import every_grade
from rubric_kit.showing.grades_view import grades_frame, grades_html, grades_part, print_grades

sys.path.insert(0, str(Path(__file__).parents[1] / "records"))
from grading import give, hand_in, levels

TODAY = date(2026, 6, 15)
HOSTILE = "<script>alert(1)</script>\x1b[2J\u202e"


@pytest.fixture
def family(tmp_path):
    with begin(tmp_path / "family") as made:
        ann = made.students.add("Ann", grade=8, school_year="2025-26")
        eve = made.students.add(HOSTILE, grade=8, school_year="2025-26")
        hand_in(made, give(made, ann, "Oz"), proposed=levels(2), own=levels(3), comment=HOSTILE)
        hand_in(made, give(made, eve, f"Call {HOSTILE}", book=made.books.add(HOSTILE)), proposed=levels(2))
        give(made, eve, f"Late {HOSTILE}", due=date(2025, 9, 12))
        yield made


def everything(family):
    return [grade for student in family.students.all() for grade in every_grade(family, student.id, TODAY)]


class Tags(HTMLParser):
    def __init__(self, html):
        super().__init__()
        self.open, self.seen, self.deepest = [], [], 0
        self.feed(html)

    def handle_starttag(self, tag, _):
        self.seen.append(tag)
        if tag not in {"meta", "br"}:
            self.open.append(tag)
        self.deepest = max(self.deepest, self.open.count("details"))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


@pytest.mark.parametrize("make", [grades_html, grades_part])
def test_the_page_is_whole_and_inert_and_opens_step_by_step(family, make):
    html = make(everything(family))
    tags = Tags(html)
    assert tags.open == []
    assert "script" not in tags.seen
    assert not {"\x1b", "\u202e"} & set(html)
    assert tags.deepest >= 5  # year, task, writing, draft, criterion, sheet
    assert "“Buck is strong.”" in html
    assert "A grade is yours to give" in html
    assert tags.seen.count("details") == tags.seen.count("summary")


def test_the_page_of_no_grades_is_a_page():
    assert Tags(grades_html([])).open == []


def test_the_terminal_is_not_steered(family, capsys):
    print_grades(everything(family), explain=True)
    said = capsys.readouterr().out
    assert not {"\x1b", "\u202e"} & set(said)
    assert "provisional" in said
    assert "“Buck is strong.”" in said


def test_a_book_with_one_task_stands_for_both_and_what_was_excused_says_so(family, capsys):
    ann = family.students.find("Ann")
    book = family.books.add("Call")
    give(family, ann, "Call 1", book=book)
    family.tasks.excuse(family.tasks.find("Call 1").id, ann.id)
    print_grades(every_grade(family, ann.id, TODAY))
    said = capsys.readouterr().out
    assert "Call 1" not in said
    assert "excused" in said
    give(family, ann, "Call 2", book=book)
    print_grades(every_grade(family, ann.id, TODAY))
    said = capsys.readouterr().out
    assert "Call 1" in said
    assert "Call 2" in said


def test_the_frame_is_tidy(family, tmp_path):
    frame = grades_frame(family, TODAY)
    assert list(frame.columns)[:4] == ["student", "school_year", "kind", "name"]
    ann = frame[frame.student == "Ann"]
    assert list(ann.kind) == ["year", "task"]
    assert list(ann.percent) == [88.0, 88.0]
    assert frame.percent.isna().sum() == 1
    assert frame[frame.name == "2025-26"].missing.sum() == 1
    with begin(tmp_path / "empty") as empty:
        assert grades_frame(empty, TODAY).empty
