"""The same from a terminal: rubric-kit score, rubric-kit rubric, rubric-kit agree."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from enum import StrEnum
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubric_kit.errors import RubricKitError

if TYPE_CHECKING:
    from rubric_kit.reading import Essay
    from rubric_kit.scoring.rubric import Rubric
    from rubric_kit.scoring.sheet import ScoreSheet

INPUT_AT_FAULT = 1
STOPPED = 130  # by Ctrl-C, as shells count it
PASTED = Path("-")
FAULT = "{path}: rubric-kit failed on it ({kind}: {error}). Please report this line; the other essays are not affected."

app = typer.Typer(
    name="rubric-kit",
    help="Score children's essays on an open rubric, with the sentences behind every level.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)
rubrics = typer.Typer(help="Look at the rubrics, or copy one to change it.", no_args_is_help=True)
app.add_typer(rubrics, name="rubric")


class Form(StrEnum):
    """The forms of task that have a rubric."""

    paragraph = "paragraph"
    three = "three-paragraph"
    five = "five-paragraph"
    narrative = "narrative"


Files = Annotated[
    list[Path], typer.Argument(metavar="FILE...", help="Essays: .txt .md .docx .odt .rtf .pdf; - for text pasted in.")
]
Grade = Annotated[
    int | None,
    typer.Option(min=3, max=9, help="The child's school grade. Else the one in the heading, else the rubric's own."),
]
FormOption = Annotated[
    Form | None, typer.Option(help="The form of the task. Else the rubric's own, else five-paragraph.")
]
RubricFile = Annotated[Path | None, typer.Option(metavar="FILE", help="A rubric of your own: rubric-kit rubric copy.")]
Json = Annotated[bool, typer.Option("--json", help="Print one JSON object a line, and nothing else.")]
Html = Annotated[
    Path | None, typer.Option(metavar="OUT", help="Write a web page, the essay marked up. For many files, a folder.")
]
Pdf = Annotated[Path | None, typer.Option(metavar="OUT", help="Also write a PDF to print. For many files, a folder.")]


@app.command()
def score(
    files: Files,
    grade: Grade = None,
    form: FormOption = None,
    rubric: RubricFile = None,
    json: Json = False,
    html: Html = None,
    pdf: Pdf = None,
) -> None:
    """Score essays: a level for each criterion, the sentences behind it, and one thing to try next.

    Example: rubric-kit score essay.docx --grade 8 --html essay.html
    """
    with _errors_in_words():
        own = _own_rubric(rubric)
        pages = [(out, suffix) for out, suffix in ((html, ".html"), (pdf, ".pdf")) if out is not None]
        written: set[Path] = set()
        failed = False
        for path in _with_progress(files):
            try:
                sheet = _score_one(path, grade, form.value if form else None, own)
                _print(sheet, as_json=json)
                for out, suffix in pages:
                    page = _page_path(out, path, suffix, many=len(files) > 1)
                    if page in written:
                        raise RubricKitError(f"{page}: another essay was just written there. Score them one by one.")
                    _write_page(sheet, page, suffix)
                    written.add(page)
            except RubricKitError as error:
                failed = True
                typer.echo(_inert(str(error)), err=True)
            except BrokenPipeError:  # the reader of our output has seen enough
                raise
            except Exception as error:  # a fault of ours in one essay must not cost the others
                failed = True
                typer.echo(_inert(FAULT.format(path=path, kind=type(error).__name__, error=error)), err=True)
    if failed:
        raise typer.Exit(INPUT_AT_FAULT)


@app.command()
def agree(
    file: Annotated[
        Path, typer.Argument(metavar="FILE.csv", help="A table: names of columns, then a row for each essay.")
    ],
    first: Annotated[
        str | None, typer.Option(metavar="NAME", help="The first marker's column. Else the first one of numbers.")
    ] = None,
    second: Annotated[
        str | None, typer.Option(metavar="NAME", help="The second marker's column. Else the next one of numbers.")
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print one JSON object, and nothing else.")] = False,
) -> None:
    """Tell how well two markers agree who scored the same essays: a parent and the tool, or two parents.

    Example: rubric-kit agree marks.csv --first mother --second father
    """
    from json import dumps

    from rubric_kit.scoring.agreement import agreement
    from rubric_kit.scoring.marks_file import UnknownColumnError, read_marks
    from rubric_kit.showing.agreement_view import agreement_as_json, print_agreement

    with _errors_in_words():
        try:
            marks = read_marks(file, first, second)
        except UnknownColumnError as error:
            raise typer.BadParameter(_inert(str(error))) from error
        agreed = agreement(marks.first, marks.second)
        if json:
            typer.echo(dumps(agreement_as_json(marks, agreed)))
        else:
            print_agreement(marks, agreed)


@rubrics.command()
def show(form: Annotated[Form, typer.Argument(help="Which rubric.")] = Form.five) -> None:
    """Show a rubric: criteria, weights, what each level means, what a level is worth."""
    from rubric_kit.scoring.rubric_file import load_form
    from rubric_kit.showing.terminal import print_rubric

    with _errors_in_words():
        print_rubric(load_form(form.value))


@rubrics.command()
def copy(
    form: Annotated[Form, typer.Argument(help="Which rubric.")],
    to: Annotated[Path, typer.Argument(help="The file to write, such as my-rubric.toml. It must not exist yet.")],
) -> None:
    """Copy a rubric to a file of your own, to change and use with: rubric-kit score --rubric FILE."""
    from rubric_kit.scoring.rubric_file import shipped

    with _errors_in_words():
        try:
            with to.open("x", encoding="utf-8", newline="\n") as file:
                file.write(shipped(form.value))
        except FileExistsError as error:
            raise RubricKitError(f"{to.name}: there is such a file already. Choose another name.") from error
        except OSError as error:
            raise RubricKitError(f"{to.name}: cannot be written ({error.strerror}). Choose another place.") from error
        typer.echo(f"Copied. Change {to}, then: rubric-kit score ESSAY --rubric {to}")


@rubrics.command()
def measures() -> None:
    """List what a rubric may look for: each measure, its formula and its unit."""
    from rubric_kit.measures.measured import FAMILIES
    from rubric_kit.showing.terminal import print_measures

    print_measures(FAMILIES)


def main() -> None:
    """Run the command line; 0 is fine, 1 the input is at fault, 2 the command line is, 130 it was stopped."""
    if isinstance(sys.stdout, TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # a letter that the terminal does not know is no reason to stop
    try:
        app()
    except KeyboardInterrupt:
        sys.exit(STOPPED)


@contextmanager
def _errors_in_words() -> Iterator[None]:
    try:
        yield
    except RubricKitError as error:
        typer.echo(_inert(str(error)), err=True)
        raise typer.Exit(INPUT_AT_FAULT) from error


def _inert(message: str) -> str:
    """A message may quote a file, and a file may hold what steers a terminal."""
    from rubric_kit.showing.inert import inert

    return inert(message)


def _own_rubric(path: Path | None) -> Rubric | None:
    if path is None:
        return None
    from rubric_kit.scoring.rubric_file import load_file

    return load_file(path)


def _with_progress(paths: list[Path]) -> Iterable[Path]:
    if len(paths) == 1 or not sys.stderr.isatty():
        return paths
    from rich.console import Console
    from rich.progress import track

    return track(paths, "Scoring", console=Console(stderr=True), transient=True)


def _score_one(path: Path, grade: int | None, form: str | None, rubric: Rubric | None) -> ScoreSheet:
    from rubric_kit.scoring.score import score as score_essay

    return score_essay(_read(path), grade, form, rubric)


def _read(path: Path) -> Essay:
    from rubric_kit import reading

    if path == PASTED:
        return reading.read_piped(sys.stdin.buffer.read())
    return reading.read(path)


def _print(sheet: ScoreSheet, *, as_json: bool) -> None:
    if as_json:
        import json

        from rubric_kit.scoring.as_json import as_json as plain

        typer.echo(json.dumps(plain(sheet)))
    else:
        from rubric_kit.showing.terminal import print_sheet

        print_sheet(sheet)


def _page_path(out: Path, essay: Path, suffix: str, *, many: bool) -> Path:
    return out / f"{essay.stem}{suffix}" if many or out.is_dir() else out


def _write_page(sheet: ScoreSheet, path: Path, suffix: str) -> None:
    from rubric_kit.showing.pages import write_html, write_pdf

    (write_html if suffix == ".html" else write_pdf)(sheet, path)
    typer.echo(f"Wrote {path}", err=True)
