"""rubric-kit score: proposals on the terminal, as JSON Lines, as pages."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubric_kit.cli.errors import INPUT_AT_FAULT, errors_in_words, failed_on, tell
from rubric_kit.cli.options import Form
from rubric_kit.errors import RubricKitError

if TYPE_CHECKING:
    from rubric_kit.reading import Essay
    from rubric_kit.scoring.rubric import Rubric
    from rubric_kit.scoring.sheet import ScoreSheet

PASTED = Path("-")

app = typer.Typer()

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
    with errors_in_words():
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
                tell(str(error))
            except BrokenPipeError:  # the reader of our output has seen enough
                raise
            except Exception as error:  # a fault of ours in one essay must not cost the others
                failed = True
                tell(f"{failed_on(path, error)} The other essays are not affected.")
    if failed:
        raise typer.Exit(INPUT_AT_FAULT)


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
