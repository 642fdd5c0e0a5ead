"""rubric-kit draft and answers: what the children hand in, and the points for short answers."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubric_kit.cli.errors import INPUT_AT_FAULT, failed_on, tell
from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder, Json, on_day
from rubric_kit.cli.printing import done, json_of, say, table
from rubric_kit.errors import RubricKitError

if TYPE_CHECKING:
    from rubric_kit.records.family import Family
    from rubric_kit.records.rows import Assignment

app = typer.Typer()
draft = typer.Typer(help="What was handed in: any number of drafts for each task.", no_args_is_help=True)
answers = typer.Typer(help="The points for short answers.", no_args_is_help=True)
app.add_typer(draft, name="draft")
app.add_typer(answers, name="answers")

Student = Annotated[str, typer.Option(help="The child's name.")]
TaskTitle = Annotated[str, typer.Option("--task", metavar="TITLE", help="The task's title.")]
OnlyStudent = Annotated[str | None, typer.Option("--student", help="Only this child's.")]
OnlyTask = Annotated[str | None, typer.Option("--task", metavar="TITLE", help="Only this task's.")]
Number = Annotated[int, typer.Argument(metavar="NUMBER", help="The draft's number: rubric-kit draft list.")]


@draft.command("add")
def add_draft(
    file: Annotated[Path, typer.Argument(help="The essay: .txt .md .docx .odt .rtf .pdf")],
    student: Student,
    task: TaskTitle,
    on: Annotated[date | None, on_day("When it was handed in, if not today.", "--on")] = None,
    blind: Annotated[
        bool, typer.Option("--blind", help="Do not show the proposal, so that you can mark first.")
    ] = False,
    family: FamilyFolder = None,
) -> None:
    """Hand in a draft: the file is kept as it is, and levels are proposed.

    Example: rubric-kit draft add essay.docx --student Tamsin --task "Treasure Island"
    """
    from rubric_kit.records.doubts import doubts
    from rubric_kit.records.pieces import piece
    from rubric_kit.showing.piece_view import called
    from rubric_kit.showing.terminal import print_sheet

    with opened(family) as records:
        assignment = _assignment(records, student, task)
        with records.database.write(f"hand in {file.name}: {student}, {task}"):  # with its proposal, so one undo
            made = records.drafts.hand_in(assignment.id, file, received_on=on or date.today())
            try:
                sheet = records.sheets.score(made)
                records.sheets.keep(made.id, sheet)
            except Exception as error:  # a fault of ours in scoring must not cost the parent the draft
                what = str(error) if isinstance(error, RubricKitError) else failed_on(file, error)
                tell(f"{what} The draft is handed in as number {made.id}, without a proposal: mark it yourself.")
                sheet = None
        for doubt in doubts(records, made, date.today()):
            tell(doubt)
        if sheet is None:
            raise typer.Exit(INPUT_AT_FAULT)
        if not blind:
            print_sheet(sheet)
        done(f"Handed in as number {made.id}: {called(piece(records, made.id))}.")
        say(f"Next: rubric-kit mark {made.id}" + (" --blind" if blind else ""))


@draft.command("list")
def list_drafts(
    student: OnlyStudent = None, task: OnlyTask = None, family: FamilyFolder = None, json: Json = False
) -> None:
    """List the drafts with your percent, and beside it what was proposed.

    Of a draft that you have not marked the list does not say it, so that you can mark first; draft show does.

    Example: rubric-kit draft list --student Tamsin
    """
    from rubric_kit.records.pieces import pieces

    with opened(family) as records:
        child = None if student is None else records.students.find(student).id
        about = None if task is None else records.tasks.find(task).id
        found = [p for p in pieces(records, child) if about in {None, p.task.id}]
        if json:
            json_of(
                [
                    {"student": p.student.name, "task": p.task.title, "draft": p.draft}
                    | {"proposed": p.proposed, "own": p.own, "percent": p.percent}
                    for p in found
                ]
            )
            return
        cells = [
            (
                *(p.draft.id, p.student.name, p.task.title, p.draft.number, p.date),
                f"{p.body['percent']:g}" if p.body and p.own else "",
                f"{p.percent:g}" if p.own and p.percent is not None else "",
            )
            for p in found
        ]
        heads = ("number", "student", "task", "draft", "handed in", "proposed", "yours")
        table(heads, cells, "No drafts yet. Hand one in: rubric-kit draft add FILE --student NAME --task TITLE")


@draft.command("show")
def show_draft(
    number: Number,
    sheet: Annotated[bool, typer.Option("--sheet", help="The whole score sheet, made anew.")] = False,
    html: Annotated[Path | None, typer.Option(metavar="OUT", help="Write a web page with the essay marked up.")] = None,
    pdf: Annotated[Path | None, typer.Option(metavar="OUT", help="Write a PDF to print.")] = None,
    family: FamilyFolder = None,
    json: Json = False,
) -> None:
    """Show a draft: the proposed levels and yours, your comment; with --sheet the reasons and sentences behind them.

    Example: rubric-kit draft show 3 --html essay.html
    """
    from rubric_kit.records.pieces import piece
    from rubric_kit.scoring.rubric_file import parse_rubric
    from rubric_kit.showing.piece_view import print_piece

    with opened(family) as records:
        shown = piece(records, number)
        if json:
            json_of(
                {"student": shown.student.name, "task": shown.task.title, "draft": shown.draft, "proposal": shown.body}
                | {"mark": shown.mark, "own": shown.own, "percent": shown.percent}
            )
            return
        name, text = records.sheets.rubric_for(shown.draft)
        print_piece(shown, shown.rubric or parse_rubric(text, name))
        if sheet or html or pdf:
            from rubric_kit.showing.pages import write_html, write_pdf
            from rubric_kit.showing.terminal import print_sheet

            made = records.sheets.score(shown.draft)
            if sheet:
                print_sheet(made)
            for out, write in ((html, write_html), (pdf, write_pdf)):
                if out is not None:
                    write(made, out, shown.own, shown.mark.comment if shown.mark else "")
                    typer.echo(f"Wrote {out}", err=True)


@draft.command("remove")
def remove_draft(number: Number, family: FamilyFolder = None) -> None:
    """Take a draft out of sight, with its marks. Nothing is deleted.

    Example: rubric-kit draft remove 3
    """
    with opened(family) as records:
        records.drafts.remove(number)
        done(f"Removed draft number {number}.")


@answers.command("give")
def give_answers(
    points: Annotated[list[str], typer.Argument(metavar="QUESTION=POINTS...", help="Such as 1=2 2=1.5")],
    student: Student,
    task: TaskTitle,
    family: FamilyFolder = None,
) -> None:
    """Give points for short answers, or other points.

    Example: rubric-kit answers give 1=2 2=1.5 --student Tamsin --task "Treasure Island"
    """
    given = dict(_points(text) for text in points)
    with opened(family) as records:
        assignment = _assignment(records, student, task)
        records.answers.give(assignment.id, given)
        asked = records.tasks.questions_of(assignment)
        got = records.answers.of(assignment.id)
        total = f"{sum(a.points for a in got):g} of {sum(q.points for q in asked):g} points"
        left = f"; {len(asked) - len(got)} without points yet" if len(got) < len(asked) else ""
        done(f"{student}, {task}: {total}{left}.")


@answers.command("list")
def list_answers(student: Student, task: TaskTitle, family: FamilyFolder = None, json: Json = False) -> None:
    """List a child's questions with the points given.

    Example: rubric-kit answers list --student Tamsin --task "Treasure Island"
    """
    with opened(family) as records:
        assignment = _assignment(records, student, task)
        got = {a.question_id: a.points for a in records.answers.of(assignment.id)}
        asked = records.tasks.questions_of(assignment)
        if json:
            json_of([{"number": q.number, "text": q.text, "of": q.points, "points": got.get(q.id)} for q in asked])
            return
        cells = [(q.number, q.text, f"{got[q.id]:g}" if q.id in got else "", f"{q.points:g}") for q in asked]
        table(("number", "question", "points", "of"), cells, "This child's task has no questions.")


def _assignment(records: Family, student: str, task: str) -> Assignment:
    return records.tasks.assignment(records.tasks.find(task).id, records.students.find(student).id)


def _points(text: str) -> tuple[int, float]:
    number, _, points = text.partition("=")
    try:
        return int(number), float(points)
    except ValueError:
        raise typer.BadParameter(f"{text!r}: write the question's number, an equals sign, the points: 2=1.5") from None
