"""Books, and the tasks set on them: one shared prompt, a version of it for each child, and what is due."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from rubric_kit.errors import RecordsError
from rubric_kit.records.nouns import Noun
from rubric_kit.records.people import Students
from rubric_kit.records.rows import Answer, Assignment, Book, Question, Student, Task
from rubric_kit.records.rubrics import keep_rubric

# The form that is usual for a grade, from each of these grades up; common practice, no source.
USUAL_FORMS = ((7, "five-paragraph"), (5, "three-paragraph"), (0, "paragraph"))


@dataclass(frozen=True, slots=True)
class Version:
    """A task as one child gets it: the form (none: the usual one of the child's grade), how many of the questions
    (none: all), by when, what else is asked, on which rubric of the family's own.
    """

    form: str | None = None
    questions: int | None = None
    due: date | None = None
    instructions: str = ""
    rubric_id: int | None = None


class Books(Noun[Book]):
    kind = Book

    def add(
        self,
        title: str,
        author: str = "",
        *,
        unit: str = "",
        started: date | None = None,
        finished: date | None = None,
    ) -> Book:
        """A new book.

        Raises RecordsError for one that is in the list already.
        """
        with self._database.write(f"add book {title}") as write:
            book = write.add(
                Book, title=title.strip(), author=author.strip(), unit=unit.strip(), started=started, finished=finished
            )
        return self.get(book)

    def find(self, title: str) -> Book:
        """The book of a title, or of "title by author" where several have it.

        Raises RecordsError, which lists the books there are, where there is none, or one of several may be meant.
        """
        wanted, books = title.strip().casefold(), self.all()
        found = [book for book in books if wanted in {book.title.casefold(), _by_author(book).casefold()}]
        if len(found) > 1:
            raise RecordsError(f"{title} may be {' or '.join(map(_by_author, found))}. Write it just so.")
        if not found:
            known = ", ".join(book.title for book in books) or "none yet; add one with: rubric-kit book add"
            raise RecordsError(f"There is no book called {title}. There are: {known}.")
        return found[0]


class Tasks(Noun[Task]):
    kind = Task

    def add(
        self,
        title: str,
        prompt: str,
        *,
        set_on: date,
        book_id: int | None = None,
        questions: Sequence[tuple[str, float]] = (),
        versions: Mapping[int, Version] | None = None,
    ) -> Task:
        """A new task, for all its children at once.

        questions  short-answer questions with their points
        versions   by student id, which version each one gets

        Raises RecordsError for a title that is taken, or a version that cannot be.
        """
        with self._database.write(f"set task {title}") as write:
            task = write.add(Task, book_id=book_id, title=title.strip(), prompt=prompt.strip(), set_on=set_on)
            for number, (text, points) in enumerate(questions, start=1):
                write.add(Question, task_id=task, number=number, text=text.strip(), points=points)
            for student, version in (versions or {}).items():
                values = self._values(student, version, set_on, len(questions))
                write.add(Assignment, task_id=task, student_id=student, **values)
        return self.get(task)

    def find(self, title: str) -> Task:
        """The task of a title.

        Raises RecordsError where there is none.
        """
        rows = self.all()
        found = [t for t in rows if t.title == title] or [
            t for t in rows if t.title.casefold() == title.strip().casefold()
        ]
        if not found:
            known = ", ".join(task.title for task in rows) or "none yet; set one with: rubric-kit task add"
            raise RecordsError(f"There is no task called {title}. There are: {known}.")
        return found[0]

    def give(self, task_id: int, student_id: int, version: Version) -> Assignment:
        """The task to one more child, or the child's version of it anew."""
        task, student = self.get(task_id), self._database.row(Student, student_id)
        had = self._database.rows(Assignment, "task_id = ? AND student_id = ?", [task_id, student_id])
        values = self._values(student_id, version, task.set_on, len(self.questions(task_id)))
        with self._database.write(f"give task {task.title} to {student.name}") as write:
            if had:
                write.change(Assignment, had[0].id, **values)
            else:
                write.add(Assignment, task_id=task_id, student_id=student_id, **values)
        return self.assignment(task_id, student_id)

    def excuse(self, task_id: int, student_id: int, *, excused: bool = True) -> None:
        """Let a child off a task, so that it counts nowhere; or take that back."""
        row = self.assignment(task_id, student_id)
        with self._database.write(f"excuse from task {self.get(task_id).title}") as write:
            write.change(Assignment, row.id, excused=excused)

    def assignment(self, task_id: int, student_id: int) -> Assignment:
        """A child's version of a task.

        Raises RecordsError where the child did not get it.
        """
        found = self._database.rows(Assignment, "task_id = ? AND student_id = ?", [task_id, student_id])
        if not found:
            name = self._database.row(Student, student_id).name
            raise RecordsError(f"{name} did not get the task {self.get(task_id).title}. Give it: rubric-kit task give.")
        return found[0]

    def assignments(self, student_id: int | None = None) -> list[Assignment]:
        """All versions, or one child's."""
        if student_id is None:
            return self._database.rows(Assignment)
        return self._database.rows(Assignment, "student_id = ?", [student_id])

    def questions(self, task_id: int) -> list[Question]:
        """The questions of a task, in order."""
        return self._database.rows(Question, "task_id = ? ORDER BY number", [task_id])

    def questions_of(self, assignment: Assignment) -> list[Question]:
        """The questions that a child answers: the first so many."""
        return self.questions(assignment.task_id)[: assignment.questions]

    def move_due(self, task_id: int, due: date | None) -> None:
        """Another day, or none, by which the task is due for all its children."""
        versions = self._database.rows(Assignment, "task_id = ?", [task_id])
        with self._database.write(f"move the day of task {self.get(task_id).title}") as write:
            for version in versions:
                write.change(Assignment, version.id, due=due)

    def set_question(self, task_id: int, number: int, text: str, points: float) -> None:
        """A short-answer question put otherwise, or, where the number is the next one, one question more.

        Raises RecordsError for a number beyond the next, or fewer points than were given for an answer already.
        """
        asked = self.questions(task_id)
        if not 1 <= number <= len(asked) + 1:
            raise RecordsError(f"The task has {len(asked)} questions, so the next is number {len(asked) + 1}.")
        values = {"text": text.strip(), "points": points}
        with self._database.write(f"question {number} of task {self.get(task_id).title}") as write:
            if number > len(asked):
                write.add(Question, task_id=task_id, number=number, **values)
                return
            question = asked[number - 1].id
            given = max((a.points for a in self._database.rows(Answer, "question_id = ?", [question])), default=0.0)
            if points < given:
                raise RecordsError(
                    f"An answer to question {number} has {given:g} points already, more than {points:g}."
                )
            write.change(Question, question, **values)

    def keep_rubric(self, text: str, name: str, version: int) -> int:
        """The number under which a rubric is kept word for word; one that is there already is not added again."""
        with self._database.write(f"keep rubric {name}") as write:
            return keep_rubric(self._database, write, text=text, name=name, version=version)

    def _values(self, student_id: int, version: Version, day: date, asked: int) -> dict[str, object]:
        if version.questions is not None and not 0 <= version.questions <= asked:
            raise RecordsError(f"The task has {asked} questions, so a child cannot answer {version.questions} of them.")
        form = version.form or usual_form(Students(self._database).grade_on(student_id, day))
        return {
            "form": form,
            "questions": asked if version.questions is None else version.questions,
            "due": version.due,
            "instructions": version.instructions.strip(),
            "rubric_id": version.rubric_id,
        }


def _by_author(book: Book) -> str:
    return f"{book.title} by {book.author}" if book.author else book.title


def usual_form(grade: int) -> str:
    """The form of task that is usual for a grade."""
    return next(form for least, form in USUAL_FORMS if grade >= least)
