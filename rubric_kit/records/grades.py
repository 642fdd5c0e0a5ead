"""Grades of a book, a term and a year, each with its explanation down to the sentences.

A book's grade is the mean of its tasks; a term's, of its books and of the tasks that belong to none; a year's, of its
terms, or of them by the number of their graded tasks (setting ``year_counts``). A task belongs to the term in which it
is due; where it has no due date, to the one in which it was set; an old mark to the one in which it was made. What has
no grade yet, was excused or is missing counts nowhere and is listed. A grade is the parent's to give: what rests on
proposed levels is called provisional.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

from rubric_kit.records.family import Family
from rubric_kit.records.people import days_of, school_year_of
from rubric_kit.records.rows import Term
from rubric_kit.records.task_grades import TaskGrade, letters_of, task_grades
from rubric_kit.records.worked import Grade, Worked, letter_for, mean

TERMS = "terms"  # each term of a year counts the same; otherwise each one as much as its graded tasks
OUTSIDE = "outside every term"
ONE = Fraction(1)


def book_grade(family: Family, student_id: int, book_id: int, today: date) -> Grade:
    """A child's grade for a book, of all its tasks.

    Raises RecordsError for a student or book that is not there; so do the others below.
    """
    book = family.books.get(book_id)
    tasks = [each for each in task_grades(family, student_id, today) if each.book and each.book.id == book_id]
    return _of_book(book.title, tasks, family.students.get(student_id).name, family.settings.all())


def term_grade(family: Family, student_id: int, term_id: int, today: date) -> Grade:
    """A child's grade for a term."""
    term, tasks = family.terms.get(term_id), task_grades(family, student_id, today)
    return _of_term(term, tasks, family.students.get(student_id).name, family.settings.all())


def year_grade(family: Family, student_id: int, school_year: str, today: date) -> Grade:
    """A child's grade for a school year such as "2025-26"; where it has no terms, of all its books and tasks."""
    days_of(school_year)  # says so where it is not written like one
    terms, tasks = family.terms.all(), task_grades(family, student_id, today)
    return _of_year(school_year, terms, tasks, family.students.get(student_id).name, family.settings.all())


def every_grade(family: Family, student_id: int, today: date) -> list[Grade]:
    """All of a child's grades, the newest year first: the year, its terms, its books, its tasks."""
    name, settings, terms = family.students.get(student_id).name, family.settings.all(), family.terms.all()
    tasks = task_grades(family, student_id, today)
    found: list[Grade] = []
    for year in sorted({_year_of(each, terms) for each in tasks}, reverse=True):
        within = [each for each in tasks if _year_of(each, terms) == year]
        of_year = [
            _of_year(year, terms, tasks, name, settings),
            *(_of_term(term, tasks, name, settings) for term in _terms_of(year, terms)),
            *(_of_book(group[0].book.title, group, name, settings) for group in _units(within) if group[0].book),
            *(each.grade for each in within),
        ]
        found += [replace(grade, school_year=year) for grade in of_year]
    return found


def of_parts(
    kind: str,
    name: str,
    parts: Sequence[tuple[Fraction, Grade]],
    student: str,
    settings: Mapping[str, Any],
    how: str = "",
) -> Grade:
    """The weighted mean of (weight, grade) pairs; one without a percent, or of weight 0, is listed and not counted.

    how  the rule by which they weigh, for the explanation
    """
    counted = [(weight, grade.exact) for weight, grade in parts if grade.exact is not None and weight]
    value, sum_ = mean(counted) if counted else (None, "no grade yet")
    return Grade(
        kind=kind,
        name=name,
        student=student,
        exact=value,
        letter="" if value is None else letter_for(letters_of(settings), value),
        provisional=any(grade.provisional for _, grade in parts),
        pieces=sum(grade.pieces for weight, grade in parts if weight),
        missing=tuple(each for _, grade in parts for each in grade.missing),
        worked=Worked(f"{name}: {how}{sum_}", value, tuple(grade.worked for _, grade in parts)),
        excused=bool(parts) and all(grade.excused for _, grade in parts),
    )


def _of_book(title: str, tasks: Iterable[TaskGrade], student: str, settings: Mapping[str, Any]) -> Grade:
    return of_parts("book", title, [(ONE, each.grade) for each in tasks], student, settings)


def _of_units(kind: str, name: str, tasks: Iterable[TaskGrade], student: str, settings: Mapping[str, Any]) -> Grade:
    """The mean of books, and of tasks that belong to none."""
    units = [
        _of_book(group[0].book.title, group, student, settings) if group[0].book else group[0].grade
        for group in _units(tasks)
    ]
    return of_parts(kind, name, [(ONE, unit) for unit in units], student, settings)


def _of_term(term: Term, tasks: Iterable[TaskGrade], student: str, settings: Mapping[str, Any]) -> Grade:
    return _of_units("term", term.name, [each for each in tasks if _within(each, term)], student, settings)


def _of_year(
    year: str, all_terms: Sequence[Term], tasks: Sequence[TaskGrade], student: str, settings: Mapping[str, Any]
) -> Grade:
    terms = _terms_of(year, all_terms)
    of_year = [each for each in tasks if _year_of(each, all_terms) == year]
    if not terms:
        return _of_units("year", year, of_year, student, settings)
    alike = settings["year_counts"] == TERMS
    grades = [_of_term(term, tasks, student, settings) for term in terms]
    parts = [(ONE if alike else Fraction(grade.pieces), grade) for grade in grades]
    outside = [each for each in of_year if not any(_within(each, term) for term in all_terms)]
    if outside:
        name = f"{OUTSIDE}, so not counted" if alike else OUTSIDE
        rest = _of_units("term", name, outside, student, settings)
        parts.append((Fraction(0 if alike else rest.pieces), rest))
    how = "each term the same, " if alike else "each term by its number of graded tasks, "
    return of_parts("year", year, parts, student, settings, how if len(parts) > 1 else "")


def _units(tasks: Iterable[TaskGrade]) -> list[list[TaskGrade]]:
    """Tasks by book; a task without a book stands alone."""
    units: dict[object, list[TaskGrade]] = {}
    for number, each in enumerate(tasks):
        units.setdefault(each.book or number, []).append(each)
    return list(units.values())


def _within(task: TaskGrade, term: Term) -> bool:
    return term.begins <= task.day <= term.ends


def _terms_of(year: str, terms: Iterable[Term]) -> list[Term]:
    """The terms that begin in a school year, in order."""
    return sorted((t for t in terms if school_year_of(t.begins) == year), key=lambda t: (t.begins, t.id))


def _year_of(task: TaskGrade, terms: Iterable[Term]) -> str:
    """A task's school year: that of its term, else that of its day."""
    begins = [term.begins for term in terms if _within(task, term)]
    return school_year_of(min(begins, default=task.day))
