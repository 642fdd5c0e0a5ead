"""rubric-kit steady, compare: how steadily the reader marks, and what changed between two drafts."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubric_kit.cli.errors import errors_in_words
from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder, Json
from rubric_kit.cli.printing import json_of, say
from rubric_kit.errors import RecordsError

if TYPE_CHECKING:
    from rubric_kit.records.pieces import Piece
    from rubric_kit.scoring.revision import Revision

app = typer.Typer()


@app.command()
def steady(family: FamilyFolder = None, json: Json = False) -> None:
    """Tell how steadily you mark, from old pieces marked again, and how your levels differ from the proposed ones.

    Example: rubric-kit steady
    """
    from rubric_kit.showing.steadiness_view import print_reader, reader, reader_as_json

    with opened(family) as records:
        found = reader(records)
        if json:
            json_of(reader_as_json(found))
        else:
            print_reader(found)


@app.command()
def compare(
    files: Annotated[
        list[Path] | None, typer.Argument(metavar="[FIRST SECOND]", help="Two files. Or --student and --task.")
    ] = None,
    student: Annotated[str | None, typer.Option(help="Whose drafts.")] = None,
    task: Annotated[str | None, typer.Option(help="Of which task: its first and last draft.")] = None,
    grade: Annotated[int | None, typer.Option(min=3, max=9, help="The child's school grade, for two files.")] = None,
    html: Annotated[Path | None, typer.Option(metavar="OUT", help="Write a web page, the drafts side by side.")] = None,
    pdf: Annotated[Path | None, typer.Option(metavar="OUT", help="Write a PDF to print.")] = None,
    family: FamilyFolder = None,
) -> None:
    """Lay two drafts side by side: what changed, sentence by sentence, and which next steps were taken.

    Example: rubric-kit compare --student Tamsin --task "A Little Princess"
    """
    from rubric_kit.showing.pages import write_revision_html, write_revision_pdf
    from rubric_kit.showing.piece_view import print_own_levels
    from rubric_kit.showing.revision_terminal import print_revision

    two_files = files is not None and len(files) == 2
    if two_files == bool(student and task) or (files and not two_files):
        raise typer.BadParameter("Give two files, or --student and --task.")
    with errors_in_words():
        if files:
            revision = _of_files(files, grade)
            print_revision(revision)
        else:
            revision, first, last = _of_records(family, str(student), str(task))
            print_revision(revision)
            print_own_levels(revision.after.rubric, first, last)
        for path, write in ((html, write_revision_html), (pdf, write_revision_pdf)):
            if path is not None:
                write(revision, path)
                say(f"Wrote {path}")


def _of_files(files: list[Path], grade: int | None) -> Revision:
    from rubric_kit.reading import read
    from rubric_kit.scoring.revision import compare as compare_sheets
    from rubric_kit.scoring.score import score

    first, second = (score(read(path), grade) for path in files)
    return compare_sheets(first, second)


def _of_records(folder: Path | None, student: str, task: str) -> tuple[Revision, Piece, Piece]:
    """The first and the last draft compared, and both as the records have them."""
    from rubric_kit.records.pieces import piece
    from rubric_kit.scoring.revision import compare as compare_sheets

    with opened(folder) as records:
        whose, what = records.students.find(student), records.tasks.find(task)
        drafts = records.drafts.of(records.tasks.assignment(what.id, whose.id).id)
        if len(drafts) < 2:
            has = "one draft" if drafts else "no draft"
            raise RecordsError(f"{whose.name} has handed in {has} of {what.title}; two are needed to compare.")
        first, last = drafts[0], drafts[-1]
        revision = compare_sheets(records.sheets.score(first), records.sheets.score(last))
        return revision, piece(records, first.id), piece(records, last.id)
