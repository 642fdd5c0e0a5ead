"""Students with their grades by school year, and the terms of the year."""

from __future__ import annotations

from datetime import date

from rubric_kit.errors import RecordsError
from rubric_kit.records.nouns import Noun
from rubric_kit.records.rows import Enrolment, Student, Term

YEAR_BEGINS = 7  # July: the month from which work belongs to the coming school year; common practice, no source


class Students(Noun[Student]):
    kind = Student

    def add(self, name: str, *, grade: int, school_year: str | None = None) -> Student:
        """A new student with the grade in a school year such as "2025-26" (else the one that today is in).

        Raises RecordsError for a name that is taken or empty, or a grade outside 0 to 12.
        """
        year = school_year or school_year_of(date.today())
        with self._database.write(f"add student {name}") as write:
            student = write.add(Student, name=name.strip())
            write.add(Enrolment, student_id=student, school_year=year, grade=grade)
        return self.get(student)

    def find(self, name: str) -> Student:
        """The student of a name, however it is capitalized.

        Raises RecordsError, which lists the students there are, where there is none, or one of several may be meant.
        """
        rows = self.all()
        found = [s for s in rows if s.name == name] or [s for s in rows if s.name.casefold() == name.strip().casefold()]
        if len(found) > 1:
            raise RecordsError(f"{name} may be {' or '.join(s.name for s in found)}. Write the name just so.")
        if not found:
            known = ", ".join(s.name for s in rows) or "none yet; add one with: rubric-kit student add"
            raise RecordsError(f"There is no student called {name}. There are: {known}.")
        return found[0]

    def grades(self, student_id: int) -> dict[str, int]:
        """Grades by school year."""
        rows = self._database.rows(Enrolment, "student_id = ? ORDER BY school_year", [student_id])
        return {row.school_year: row.grade for row in rows}

    def set_grade(self, student_id: int, grade: int, school_year: str) -> None:
        """The grade in a school year, new or corrected.

        Raises RecordsError for a grade or a school year that cannot be.
        """
        student = self.get(student_id)
        old = self._database.rows(Enrolment, "student_id = ? AND school_year = ?", [student_id, school_year])
        with self._database.write(f"grade {grade} for {student.name} in {school_year}") as write:
            if old:
                write.change(Enrolment, old[0].id, grade=grade)
            else:
                write.add(Enrolment, student_id=student_id, school_year=school_year, grade=grade)

    def grade_on(self, student_id: int, day: date) -> int:
        """The grade on a day: that of its school year, else worked out from the nearest year that is known.

        Raises RecordsError where no grade is known at all.
        """
        known = {int(year[:4]): grade for year, grade in self.grades(student_id).items()}
        if not known:
            raise RecordsError(f"{self.get(student_id).name} has no grade yet. Set one: rubric-kit student grade.")
        begins = int(school_year_of(day)[:4])
        nearest = min(known, key=lambda year: abs(year - begins))
        return known[nearest] + begins - nearest


class Terms(Noun[Term]):
    kind = Term

    def add(self, name: str, begins: date, ends: date) -> Term:
        """A new term.

        Raises RecordsError where it ends before it begins.
        """
        with self._database.write(f"add term {name}") as write:
            term = write.add(Term, name=name.strip(), begins=begins, ends=ends)
        return self.get(term)

    def find(self, name: str) -> Term:
        """The term of a name, the latest where several have it.

        Raises RecordsError where there is none.
        """
        rows = sorted(self.all(), key=lambda term: term.begins)
        found = [term for term in rows if term.name.casefold() == name.strip().casefold()]
        if not found:
            known = ", ".join(term.name for term in rows) or "none yet; add one with: rubric-kit term add"
            raise RecordsError(f"There is no term called {name}. There are: {known}.")
        return found[-1]


def school_year_of(day: date) -> str:
    """The school year of a day, such as "2025-26"."""
    begins = day.year if day.month >= YEAR_BEGINS else day.year - 1
    return f"{begins}-{(begins + 1) % 100:02d}"


def days_of(school_year: str) -> tuple[date, date]:
    """First and last day of a school year.

    Raises RecordsError where it is not written like 2025-26.
    """
    head, _, tail = school_year.partition("-")
    if not (head.isdecimal() and len(head) == 4 and tail == f"{(int(head) + 1) % 100:02d}" and int(head) > 0):
        raise RecordsError(f"{school_year} is no school year. Write it like 2025-26.")
    return date(int(head), YEAR_BEGINS, 1), date(int(head) + 1, YEAR_BEGINS - 1, 30)
