"""What the task commands are given, taken apart, and a task as it is printed."""

from __future__ import annotations

import math
import re
from datetime import date
from typing import Any

import typer

from rubric_kit.cli.options import Form
from rubric_kit.errors import RecordsError
from rubric_kit.records.family import Family
from rubric_kit.records.prompts import instructions_for
from rubric_kit.records.rows import Assignment, KeptRubric, Student, Task
from rubric_kit.records.tasks import Version, usual_form
from rubric_kit.showing.due_view import what
from rubric_kit.showing.lines import Lines

FORMS = tuple(form.value for form in Form)
COUNT = re.compile(r"[0-9]{1,4}")  # a number of questions; a longer one is a slip


def question_of(text: str) -> tuple[str, float]:
    """A question and its points, from such as "Who is Jim? = 2"."""
    question, mark, points = text.rpartition("=")
    try:
        worth = float(points)
    except ValueError:
        worth = math.nan
    if not (mark and question.strip() and 0 < worth < math.inf):
        raise typer.BadParameter(
            f"{text!r}: write a question, an equals sign and its points: --answer 'Who is Jim? = 2'"
        )
    return question.strip(), worth


def version_of(records: Family, text: str, due: date | None, set_on: date) -> tuple[int, Version]:
    """A student's number and version, from such as "Tamsin:five-paragraph:6"; a name may hold colons itself."""
    name, form, questions = _parts(records, text)
    student = records.students.find(name)
    chosen = form or usual_form(records.students.grade_on(student.id, set_on))
    return student.id, Version(form=chosen, questions=questions, due=due, instructions=instructions_for(chosen))


def new_version(
    records: Family,
    task: Task,
    student: Student,
    form: str | None,
    rubric: str | None,
    instructions: str | None,
    questions: int | None,
    due: date | None,
) -> Version:
    """A child's version with what was asked for; all else as it was, where the child has one already."""
    had = next((a for a in records.tasks.assignments(student.id) if a.task_id == task.id), None)
    kept = None if rubric is None else kept_rubric(records, rubric)
    chosen = form or (_form_of(kept) if kept else None) or (had.form if had else None)
    chosen = chosen or usual_form(records.students.grade_on(student.id, task.set_on))
    if instructions is None:
        own_words = had is not None and had.instructions not in {"", instructions_for(had.form)}
        instructions = had.instructions if had and own_words else instructions_for(chosen)
    return Version(
        form=chosen,
        questions=questions if questions is not None or had is None else had.questions,
        due=due or (had.due if had else _due_of_others(records, task)),
        instructions=instructions,
        rubric_id=kept.id if kept else had.rubric_id if had else None,
    )


def kept_rubric(records: Family, name: str) -> KeptRubric:
    """The family's own rubric of a name, the one added last.

    Raises RecordsError, which lists those there are, where there is none.
    """
    rubrics = own_rubrics(records)
    found = [rubric for rubric in rubrics if rubric.name.casefold() == name.strip().casefold()]
    if not found:
        known = (
            ", ".join(dict.fromkeys(r.name for r in rubrics)) or "none yet; add one with: rubric-kit rubric add FILE"
        )
        raise RecordsError(f"There is no rubric of yours called {name}. There are: {known}.")
    return found[-1]


def own_rubrics(records: Family) -> list[KeptRubric]:
    """The rubrics that are the family's own, in the order they were added."""
    shipped = {f"{form}.toml" for form in FORMS}
    return [rubric for rubric in records.database.rows(KeptRubric) if rubric.name not in shipped]


def task_as_json(records: Family, task: Task) -> dict[str, Any]:
    """A task with its questions and versions."""
    return {
        "task": task,
        "questions": records.tasks.questions(task.id),
        "versions": [{"student": s.name, "version": a} for s, a in _versions(records, task)],
    }


def print_task(records: Family, task: Task) -> None:
    """The prompt, the questions with their points, and who has which version."""
    out = Lines()
    out.say(task.title, "bold")
    book = [b for b in records.books.all() if b.id == task.book_id]
    out.say(" · ".join([*(f"{b.title}, {b.author}".rstrip(", ") for b in book), f"set on {task.set_on}"]), "dim")
    out.blank()
    _print_text(out, task.prompt)
    questions = records.tasks.questions(task.id)
    if questions:
        out.heading("Short answers")
    for question in questions:
        out.say(f"{question.number}. {question.text} ({question.points:g})", indent=2)
    for student, version in _versions(records, task):
        out.heading(student.name + (" (excused)" if version.excused else ""))
        out.say(what(version) + (f", due {version.due}" if version.due else ""), indent=2)
        out.say(version.instructions, "dim", indent=2)


def print_for_child(records: Family, task: Task, student: Student) -> None:
    """What one child gets to see: the prompt, how to write it, the child's own questions."""
    version = records.tasks.assignment(task.id, student.id)
    out = Lines()
    out.say(f"{task.title}: {student.name}", "bold")
    if version.due:
        out.say(f"due {version.due}", "dim")
    questions = records.tasks.questions_of(version)
    if questions:
        out.heading("Answer in a few words")
    for question in questions:
        out.say(f"{question.number}. {question.text} ({_points(question.points)})", indent=2)
    out.heading("Write")
    _print_text(out, task.prompt)
    out.blank()
    _print_text(out, version.instructions)


def _parts(records: Family, text: str) -> tuple[str, str | None, int | None]:
    known = {student.name.casefold() for student in records.students.all()}
    name, form, questions = text, None, None
    head, _, tail = name.rpartition(":")
    if head and name.strip().casefold() not in known and COUNT.fullmatch(tail.strip()):
        name, questions = head, int(tail)
        head, _, tail = name.rpartition(":")
    if head and name.strip().casefold() not in known:
        if tail.strip() not in FORMS:
            raise typer.BadParameter(f"{tail!r} in {text!r} is no form. Write one of {', '.join(FORMS)}, or none.")
        name, form = head, tail.strip()
    return name, form, questions


def _form_of(rubric: KeptRubric) -> str:
    from rubric_kit.scoring.rubric_file import parse_rubric

    return parse_rubric(rubric.text, rubric.name).form


def _due_of_others(records: Family, task: Task) -> date | None:
    days = {version.due for _, version in _versions(records, task)}
    return days.pop() if len(days) == 1 else None


def _versions(records: Family, task: Task) -> list[tuple[Student, Assignment]]:
    versions = [a for a in records.tasks.assignments() if a.task_id == task.id]
    return [(records.students.get(a.student_id), a) for a in versions]


def _print_text(out: Lines, text: str) -> None:
    for line in text.splitlines():
        out.say(line, indent=2)


def _points(points: float) -> str:
    return f"{points:g} point{'' if points == 1 else 's'}"
