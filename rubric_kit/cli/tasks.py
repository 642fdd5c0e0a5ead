"""rubric-kit task and due: what is set, who gets which version of it, and what is open."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any

import typer

from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder, Form, Json, on_day
from rubric_kit.cli.printing import done, json_of, say, table

app = typer.Typer()
task = typer.Typer(help="What is set: one prompt, and a version of it that fits each child.", no_args_is_help=True)
app.add_typer(task, name="task")

Title = Annotated[str, typer.Argument(help="The task's title.")]
Child = Annotated[str, typer.Argument(metavar="STUDENT", help="The child's name.")]
BookTitle = Annotated[str | None, typer.Option("--book", metavar="TITLE", help="The book that it is about.")]
Prompt = Annotated[str | None, typer.Option(help="What is asked, in your words.")]
Due = Annotated[date | None, on_day("When it is due.", "--due")]
Rubric = Annotated[
    str | None, typer.Option(metavar="NAME", help="A rubric of your own, kept with: rubric-kit rubric add.")
]
Instructions = Annotated[
    str | None, typer.Option(help='How to write it, in words for the child. Else the form is explained; "" for none.')
]


@task.command("add")
def add_task(
    title: Annotated[str | None, typer.Option(help="What you call the task. Else the book's title.")] = None,
    prompt: Prompt = None,
    question: Annotated[
        str | None, typer.Option(help="A comprehension question, word for word, to be made into the prompt.")
    ] = None,
    book: BookTitle = None,
    due: Due = None,
    set_on: Annotated[date | None, on_day("When it was set, if not today.", "--set-on")] = None,
    versions: Annotated[
        list[str] | None,
        typer.Option("--for", metavar="STUDENT[:FORM][:N]", help="Who gets it, in which form, with how many answers."),
    ] = None,
    answers: Annotated[
        list[str] | None,
        typer.Option("--answer", metavar="QUESTION=POINTS", help="A short-answer question and what it is worth."),
    ] = None,
    family: FamilyFolder = None,
) -> None:
    """Set a task for one child or several. Without a form, each gets the one that is usual for the grade.

    Example: rubric-kit task add --book "Treasure Island" --question "Is Silver all bad?" --due 2026-03-13
    --for Tamsin:five-paragraph:6 --for Wren --answer "Who hides in the apple barrel? = 2"
    """
    from rubric_kit.cli.task_parts import question_of, version_of
    from rubric_kit.records.prompts import prompt_from

    if (prompt is None) == (question is None):
        raise typer.BadParameter("Give --prompt (your own words) or --question (to be made into one), one of the two.")
    if title is None and book is None:
        raise typer.BadParameter("Give --title, or --book to call it by the book's title.")
    with opened(family) as records:
        about = None if book is None else records.books.find(book)
        added = records.tasks.add(
            title if title is not None else about.title if about else "",
            prompt if prompt is not None else prompt_from(question or "", about),
            set_on=set_on or date.today(),
            book_id=about.id if about else None,
            questions=[question_of(text) for text in answers or ()],
            versions=dict(version_of(records, text, due, set_on or date.today()) for text in versions or ()),
        )
        done(f"Set the task {added.title}.")
        if not versions:
            say(f'Nobody has it yet. Give it: rubric-kit task give "{added.title}" STUDENT')


@task.command("list")
def list_tasks(family: FamilyFolder = None, json: Json = False) -> None:
    """List the tasks.

    Example: rubric-kit task list
    """
    with opened(family) as records:
        tasks = sorted(records.tasks.all(), key=lambda t: t.set_on)
        if json:
            json_of(tasks)
            return
        names = {s.id: s.name for s in records.students.all()}
        books = {b.id: b.title for b in records.books.all()}
        got: dict[int, list[str]] = {}
        for version in records.tasks.assignments():
            got.setdefault(version.task_id, []).append(names[version.student_id])
        cells = [(t.title, books.get(t.book_id or 0, ""), t.set_on, ", ".join(got.get(t.id, []))) for t in tasks]
        table(("task", "book", "set on", "for"), cells, "No tasks yet. Set one: rubric-kit task add -h")


@task.command("show")
def show_task(
    title: Title,
    child: Annotated[str | None, typer.Option("--for", metavar="STUDENT", help="As this child gets it.")] = None,
    family: FamilyFolder = None,
    json: Json = False,
) -> None:
    """Show a task: the prompt, the questions, and every child's version; with --for a sheet to hand to one child.

    Example: rubric-kit task show "Treasure Island" --for Wren
    """
    from rubric_kit.cli.task_parts import print_for_child, print_task, task_as_json

    with opened(family) as records:
        shown = records.tasks.find(title)
        if json:
            json_of(task_as_json(records, shown))
        elif child is not None:
            print_for_child(records, shown, records.students.find(child))
        else:
            print_task(records, shown)


@task.command("give")
def give_task(
    title: Title,
    child: Child,
    form: Annotated[
        Form | None, typer.Option(help="The form. Else as before, else the usual one of the grade.")
    ] = None,
    questions: Annotated[
        int | None, typer.Option(min=0, help="How many of the questions. Else as before, or all.")
    ] = None,
    due: Due = None,
    instructions: Instructions = None,
    rubric: Rubric = None,
    family: FamilyFolder = None,
) -> None:
    """Give a task to one more child, or change the version that a child has.

    Example: rubric-kit task give "Treasure Island" Jonas --form three-paragraph --questions 4
    """
    from rubric_kit.cli.task_parts import new_version

    with opened(family) as records:
        given, student = records.tasks.find(title), records.students.find(child)
        version = new_version(records, given, student, form and form.value, rubric, instructions, questions, due)
        made = records.tasks.give(given.id, student.id, version)
        done(f"{student.name} has {given.title} as {made.form}" + (f", due {made.due}." if made.due else "."))


@task.command("change")
def change_task(
    title: Title,
    to: Annotated[str | None, typer.Option("--title", help="The new title.")] = None,
    prompt: Prompt = None,
    book: BookTitle = None,
    set_on: Annotated[date | None, on_day("When it was set.", "--set-on")] = None,
    due: Due = None,
    family: FamilyFolder = None,
) -> None:
    """Change a task for all who have it.

    Example: rubric-kit task change "Treasure Island" --due 2026-03-20
    """
    given = {"title": to and to.strip(), "prompt": prompt and prompt.strip(), "set_on": set_on}
    values: dict[str, Any] = {name: value for name, value in given.items() if value is not None}
    if not values and book is None and due is None:
        raise typer.BadParameter("Nothing to change: give --title, --prompt, --book, --set-on or --due.")
    with opened(family) as records:
        changed = records.tasks.find(title)
        if book is not None:
            values["book_id"] = records.books.find(book).id
        if values:
            changed = records.tasks.change(changed.id, **values)
        if due is not None:
            records.tasks.move_due(changed.id, due)
        done(f"Changed the task {changed.title}.")


@task.command("question")
def question_task(
    title: Title,
    number: Annotated[int, typer.Argument(min=1, help="The question's number; the next free one adds a question.")],
    text: Annotated[str, typer.Argument(metavar="QUESTION=POINTS", help="The question and what it is worth.")],
    family: FamilyFolder = None,
) -> None:
    """Put a short-answer question otherwise, or add one.

    Example: rubric-kit task question "Treasure Island" 3 "Who is Ben Gunn? = 2"
    """
    from rubric_kit.cli.task_parts import question_of

    with opened(family) as records:
        about = records.tasks.find(title)
        records.tasks.set_question(about.id, number, *question_of(text))
        done(f"Question {number} of {about.title} is now: {text.rpartition('=')[0].strip()}")


@task.command("excuse")
def excuse_task(
    title: Title,
    child: Child,
    no_longer: Annotated[bool, typer.Option("--no-longer", help="Take the excuse back.")] = False,
    family: FamilyFolder = None,
) -> None:
    """Let a child off a task, so that it counts nowhere.

    Example: rubric-kit task excuse "Treasure Island" Wren
    """
    with opened(family) as records:
        excused, student = records.tasks.find(title), records.students.find(child)
        records.tasks.excuse(excused.id, student.id, excused=not no_longer)
        done(f"{student.name} is {'no longer ' if no_longer else ''}excused from {excused.title}.")


@task.command("remove")
def remove_task(title: Title, family: FamilyFolder = None) -> None:
    """Take a task out of sight, with all that was handed in for it. Nothing is deleted.

    Example: rubric-kit task remove "Treasure Island"
    """
    with opened(family) as records:
        removed = records.tasks.find(title)
        records.tasks.remove(removed.id)
        done(f"Removed the task {removed.title}.")


@app.command()
def due(
    student: Annotated[str | None, typer.Option(help="Only this child's.")] = None,
    everything: Annotated[bool, typer.Option("--all", help="The marked and the excused ones too.")] = False,
    on: Annotated[date | None, on_day("As of this day, if not today.", "--on")] = None,
    family: FamilyFolder = None,
    json: Json = False,
) -> None:
    """What is due, by child and date: what is late, what waits for your mark, what is to come.

    Example: rubric-kit due --student Wren
    """
    from rubric_kit.records.due import due as due_rows
    from rubric_kit.showing.due_view import how_far, summary, when

    with opened(family) as records:
        only = None if student is None else records.students.find(student).id
        rows = [
            row
            for row in due_rows(records, on or date.today(), everything=everything)
            if only is None or row.student.id == only
        ]
        rows.sort(key=lambda row: row.student.name)  # stays in order of dates for each child
        if json:
            json_of(rows)
            return
        open_now = summary(rows)
        if open_now:
            say(open_now)
        cells = [(r.student.name, r.task.title, r.assignment.form, when(r), how_far(r)) for r in rows]
        table(("student", "task", "form", "due", "how far"), cells, "Nothing is due.")
