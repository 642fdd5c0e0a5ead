"""What was read and written, with dates: books by unit, their tasks, and the drafts of each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rubric_kit.records.rows import Assignment, Book, Task
from rubric_kit.records.worked import exact, plain
from rubric_kit.showing.portfolio.material import Material
from rubric_kit.showing.portfolio.views import BookView, TaskView, UnitView
from rubric_kit.showing.portfolio.words import day_in_words, span_in_words

Row = tuple[Task, Assignment]


def units(material: Material) -> tuple[UnitView, ...]:
    """Units in the order in which the year came to them; what belongs to no book stands last."""
    books = {book.id: book for book in material.family.books.all()}
    by_book: dict[int, list[Row]] = {}
    for task, assignment in material.assignments:
        by_book.setdefault(task.book_id or 0, []).append((task, assignment))
    by_unit: dict[str, list[BookView]] = {}
    for book_id, rows in sorted(by_book.items(), key=lambda item: not item[0]):
        book = books.get(book_id)
        by_unit.setdefault(book.unit if book else "", []).append(_book(book, rows, material))
    return tuple(UnitView(material.names(unit), tuple(views)) for unit, views in by_unit.items())


def _book(book: Book | None, rows: Sequence[Row], material: Material) -> BookView:
    tasks = tuple(_task(task, assignment, material) for task, assignment in rows)
    if book is None:
        return BookView("", "", "", tasks)
    dates = span_in_words(book.started, book.finished, ("begun", "finished"))
    return BookView(material.names(book.title), material.names(book.author), dates, tasks)


def _task(task: Task, assignment: Assignment, material: Material) -> TaskView:
    drafts = [piece for piece in material.drafts if piece.assignment.id == assignment.id]
    handed_in = tuple(f"draft {p.draft.number} handed in {day_in_words(p.date)}" for p in drafts)
    excused = ("excused",) if assignment.excused else ()
    asked = [task.prompt, assignment.instructions]
    return TaskView(
        title=material.names(task.title),
        prompt=material.names(" ".join(part for part in asked if part)),
        form=material.names(assignment.form),
        dates=span_in_words(task.set_on, assignment.due, ("set", "due")),
        answers="" if assignment.excused else _answers(assignment, material),
        drafts=excused or handed_in or ("not handed in",),
    )


def _answers(assignment: Assignment, material: Material) -> str:
    """The points for short answers: "short answers: 10.5 of 12 points"."""
    asked = material.family.tasks.questions_of(assignment)
    given = {answer.question_id: answer.points for answer in material.family.answers.of(assignment.id)}
    if not asked:
        return ""
    worth = {question.id: question.points for question in asked}
    points = _sum(given[key] for key in worth if key in given)
    return f"short answers: {points} of {_sum(worth.values())} points" if given else "short answers: no points yet"


def _sum(points: Iterable[float]) -> str:
    return plain(sum((exact(each) for each in points), exact(0)))
