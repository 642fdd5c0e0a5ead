"""Students with their grades by school year, and terms."""

from datetime import date

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.records.people import days_of, school_year_of

NAMES = (
    "Robert'); DROP TABLE students;--",
    "🦊 Fox",
    "x" * 300,
    "../../x",
    "O’Neill: the 2nd",
    "Ann\x1b[31m",
    "%s {name}",
)


@pytest.mark.parametrize("name", NAMES)
def test_any_name_is_just_a_name(family, name):
    added = family.students.add(name, grade=5, school_year="2025-26")
    assert family.students.find(name) == added
    assert added.name == name


def test_a_student_is_found_however_the_name_is_capitalized(family):
    ann = family.students.add("Ann", grade=5)
    assert family.students.find(" aNN ") == ann


def test_a_name_that_may_mean_two_asks_for_the_exact_one(family):
    upper, lower = family.students.add("Éva", grade=5), family.students.add("éva", grade=6)
    assert (family.students.find("Éva"), family.students.find("éva")) == (upper, lower)
    with pytest.raises(RecordsError, match="Éva or éva"):
        family.students.find("ÉVA")


def test_an_unknown_name_lists_those_there_are(busy):
    with pytest.raises(RecordsError, match="There are: Ann, Ben"):
        busy.students.find("Zoe")


@pytest.mark.parametrize(("name", "grade"), [("", 5), ("  ", 5), ("Zoe", 13), ("Zoe", -1), ("Ann", 5)])
def test_no_name_a_taken_name_and_no_grade_are_refused_and_leave_nothing(busy, name, grade):
    with pytest.raises(RecordsError):
        busy.students.add(name, grade=grade)
    assert [s.name for s in busy.students.all()] == ["Ann", "Ben"]


def test_the_name_of_a_removed_student_is_free(family):
    first = family.students.add("Ann", grade=5)
    family.students.remove(first.id)
    assert family.students.add("Ann", grade=3).id != first.id


def test_the_grade_of_another_year_is_worked_out_from_the_nearest(family):
    ann = family.students.add("Ann", grade=5, school_year="2025-26")
    assert family.students.grade_on(ann.id, date(2026, 6, 30)) == 5
    assert family.students.grade_on(ann.id, date(2026, 7, 1)) == 6
    assert family.students.grade_on(ann.id, date(2024, 9, 1)) == 4
    family.students.set_grade(ann.id, 5, "2026-27")  # the same grade once more
    assert family.students.grade_on(ann.id, date(2027, 9, 1)) == 6


def test_a_school_year_runs_from_july_to_june():
    assert (school_year_of(date(2025, 7, 1)), school_year_of(date(2026, 6, 30))) == ("2025-26", "2025-26")
    assert school_year_of(date(1999, 9, 1)) == "1999-00"
    assert days_of("1999-00") == (date(1999, 7, 1), date(2000, 6, 30))


@pytest.mark.parametrize("year", ["2025", "2025-2026", "2025-27", "25-26", "next", ""])
def test_what_is_no_school_year_is_refused(year):
    with pytest.raises(RecordsError, match="2025-26"):
        days_of(year)


def test_a_term_must_begin_before_it_ends(family):
    with pytest.raises(RecordsError, match="begin before"):
        family.terms.add("autumn", date(2026, 1, 1), date(2025, 9, 1))
    assert family.terms.all() == []


def test_of_two_terms_of_a_name_the_later_is_found(family):
    family.terms.add("autumn", date(2025, 9, 1), date(2026, 1, 16))
    later = family.terms.add("autumn", date(2026, 9, 1), date(2027, 1, 16))
    assert family.terms.find("Autumn") == later
    with pytest.raises(RecordsError, match="There are: autumn"):
        family.terms.find("spring")
