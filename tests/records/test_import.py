"""A class list and old marks from CSV: a plan first, then all or nothing."""

from datetime import date

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.reading.tables import TableError
from rubric_kit.records.importing import carry_out, plan_import
from rubric_kit.records.rows import OldMark, Student

MARKS = "student,book,date,percent,note\nAnn,Heidi,2025-03-01,88,good\nBen,Heidi,2025-03-02,75.5%,\n"


def planned(family, tmp_path, table, **options):
    path = tmp_path / "table.csv"
    path.write_bytes(table if isinstance(table, bytes) else table.encode())
    return plan_import(family, path, **options)


@pytest.mark.parametrize(
    "table",
    [
        "name,grade,school year\nZoë,6,2025-26\nMax,K,2025-26\n",
        "\ufeffName;Grade;School Year\nZoë;6th;2025-26\nMax;kindergarten;2025/26\n",
        "name\tgrade\tyear\r\nZoë\tGrade 6\t2025-2026\r\n\r\nMax\t0\t2025–26\r\n",
        "Student,Class,School year\nZoë,6,2025-26\nMax,0,2025-26\n".encode("cp1252"),
    ],
    ids=["plain", "byte-order mark and semicolons", "tabs", "Windows"],
)
def test_a_class_list_is_read_as_spreadsheets_save_it(family, tmp_path, table):
    plan = planned(family, tmp_path, table)
    assert plan.faults == ()
    assert family.students.all() == []  # a plan writes nothing
    carry_out(family, plan)
    grades = {s.name: family.students.grades(s.id) for s in family.students.all()}
    assert grades == {"Zoë": {"2025-26": 6}, "Max": {"2025-26": 0}}


def test_one_undo_takes_a_whole_import_back(family, tmp_path):
    carry_out(family, planned(family, tmp_path, "name,grade\nZoe,6\nMax,2\n"))
    family.undo()
    assert family.database.rows(Student) == []


def test_a_second_import_of_the_same_list_does_nothing(family, tmp_path):
    table = "name,grade,year\nZoe,6,2025-26\nZoe,7,2026-27\n"
    carry_out(family, planned(family, tmp_path, table))
    again = planned(family, tmp_path, table)
    assert (again.steps, again.skipped, again.faults) == ((), 2, ())
    assert len(family.students.all()) == 1


def test_every_row_at_fault_is_told_with_its_line_and_nothing_is_written(family, tmp_path):
    family.students.add("Ann", grade=8, school_year="2025-26")
    plan = planned(
        family,
        tmp_path,
        "name,grade,school year\nZoe,6,2025-26\n,6,2025-26\n\nMax,13,2025-26\nMax,six,2025-26\n"
        "Max,6,2025\nZoe,7,2025-26\nAnn,7,2025-26\n",
    )
    assert [fault.partition(":")[0] for fault in plan.faults] == [f"table.csv, line {n}" for n in (3, 5, 6, 7, 8, 9)]
    for fault, words in zip(
        plan.faults,
        (
            "student is missing",
            "no grade",
            "no grade",
            "no school year",
            "stands twice",
            "in grade 8 in 2025-26 already",
        ),
        strict=True,
    ):
        assert words in fault
    with pytest.raises(RecordsError):
        carry_out(family, plan)
    assert [s.name for s in family.students.all()] == ["Ann"]


def test_old_marks_come_over_with_their_percent(busy, tmp_path):
    plan = planned(busy, tmp_path, MARKS)
    assert plan.faults == ()
    assert busy.old_marks.all() == []
    carry_out(busy, plan)
    ann = busy.old_marks.of(busy.students.find("Ann").id)
    assert ann == [OldMark(1, 1, "Heidi", date(2025, 3, 1), 88.0, "{}", "good")]
    assert planned(busy, tmp_path, MARKS).skipped == 2
    busy.undo()
    assert busy.old_marks.all() == []


def test_levels_are_kept_and_make_the_percent_where_none_is_given(busy, tmp_path):
    table = "child,task,date,focus,organization,evidence,sentences,conventions\nAnn,Heidi,2025-03-01,3,3,3,3,3\n"
    carry_out(busy, planned(busy, tmp_path, table))
    (mark,) = busy.old_marks.all()
    assert mark.percent == 88.0  # level 3 of every criterion
    assert mark.levels == '{"focus": 3, "organization": 3, "evidence": 3, "sentences": 3, "conventions": 3}'
    assert "three-paragraph" not in mark.note  # Ann was in grade 7 then
    assert "five-paragraph" in mark.note


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("Zoe,Heidi,2025-03-01,88,", "no student called Zoe. There are: Ann, Ben"),
        ("Ann,,2025-03-01,88,", "the title is missing"),
        ("Ann,Heidi,,88,", "the date is missing"),
        ("Ann,Heidi,3/1/2025,88,", "no day written like 2026-05-15"),
        ("Ann,Heidi,2025-02-30,88,", "no day written like"),
        ("Ann,Heidi,2025-03-01,101,", "no percent"),
        ("Ann,Heidi,2025-03-01,B+,", "no percent"),
        ("Ann,Heidi,2025-03-01,nan,", "no percent"),
        ("Ann,Heidi,2025-03-01,,", "neither a percent nor a level"),
    ],
)
def test_an_old_mark_at_fault_is_told(busy, tmp_path, row, said):
    (fault,) = planned(busy, tmp_path, MARKS.splitlines()[0] + "\n" + row + "\n").faults
    assert fault.startswith("table.csv, line 2: ")
    assert said in fault
    assert ".." not in fault


@pytest.mark.parametrize(("dates", "cell"), [("month-first", "3/1/2025"), ("day-first", "1.3.2025")])
def test_days_can_be_written_in_other_orders(busy, tmp_path, dates, cell):
    plan = planned(busy, tmp_path, f"student;book;date;percent\nAnn;Heidi;{cell};88,5\n", dates=dates)
    assert plan.faults == ()
    carry_out(busy, plan)
    assert [(m.marked_on, m.percent) for m in busy.old_marks.all()] == [(date(2025, 3, 1), 88.5)]


@pytest.mark.parametrize(
    "table",
    [
        "",
        "a,b\n1,2\n",
        "name,grade\n",
        "1,2\n3,4\n",
        "name,student,grade\na,b,3\n",
        "student,book,date\nAnn,x,2025-01-01\n",
    ],
)
def test_what_is_no_such_table_is_refused(busy, tmp_path, table):
    with pytest.raises(TableError, match=r"^table\.csv"):
        planned(busy, tmp_path, table)


def test_the_children_s_names_may_be_anything(family, tmp_path):
    table = 'name,grade\n"Robert\'); DROP TABLE students;--",6\n=cmd|x,5\n../../x,4\n'
    carry_out(family, planned(family, tmp_path, table))
    assert [s.name for s in family.students.all()] == ["Robert'); DROP TABLE students;--", "=cmd|x", "../../x"]
