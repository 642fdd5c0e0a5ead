"""rubric-kit portfolio and report: the year's document, and a term on one page."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubric_kit.cli.errors import tell
from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder

if TYPE_CHECKING:
    from rubric_kit.showing.portfolio.views import Portfolio, TermReport

app = typer.Typer()

Student = Annotated[str, typer.Option(metavar="NAME", help="Whose work.")]
Initials = Annotated[
    bool, typer.Option("--initials", help="Initials for the names of the children and of the headings.")
]
Html = Annotated[Path | None, typer.Option(metavar="OUT", help="Write a web page.")]
Pdf = Annotated[Path | None, typer.Option(metavar="OUT", help="Write a PDF to print.")]
OnA4 = Annotated[bool, typer.Option("--a4", help="The PDF on A4 paper instead of US Letter.")]


@app.command()
def portfolio(
    student: Student,
    year: Annotated[
        str | None, typer.Option(metavar="YEAR", help="The school year, as 2025-26; else the last with work in it.")
    ] = None,
    pieces: Annotated[
        str | None,
        typer.Option(
            metavar="NUMBERS",
            help="Pieces to show in full, as 1,5,9 (rubric-kit draft list); else the first, a middle one and the last.",
        ),
    ] = None,
    include: Annotated[
        str | None,
        typer.Option(metavar="PARTS", help="Of work,pieces,growth,conferences,grades,rubric,method; else all of them."),
    ] = None,
    charts: Annotated[
        str | None,
        typer.Option(metavar="KINDS", help="Of level,criteria,parts,slips,proposals; else the first three."),
    ] = None,
    kept_by: Annotated[
        str, typer.Option(metavar="NAME", help="Who kept the records; else there is a line to sign on.")
    ] = "",
    initials: Initials = False,
    html: Html = None,
    pdf: Pdf = None,
    a4: OnA4 = False,
    family: FamilyFolder = None,
) -> None:
    """Write the portfolio of a school year: what was read and written, pieces in full, charts, grades, how it was done.

    Example: rubric-kit portfolio --student Tamsin --pdf portfolio.pdf
    """
    from rubric_kit.showing.portfolio import PARTS, last_year
    from rubric_kit.showing.portfolio import portfolio as portfolio_of
    from rubric_kit.showing.portfolio.figures import USUAL

    _check(html, pdf)
    with opened(family) as records:
        child = records.students.find(student).id
        made = portfolio_of(
            records,
            child,
            year or last_year(records, child, date.today()),
            pieces=None if pieces is None else _numbers(pieces),
            charts=USUAL if charts is None else _listed(charts),
            include=PARTS if include is None else _listed(include),
            initials=initials,
            kept_by=kept_by,
        )
        _write(made, html, pdf, a4)


@app.command()
def report(
    student: Student,
    term: Annotated[str, typer.Option(metavar="NAME", help="The term: rubric-kit term list.")],
    initials: Initials = False,
    html: Html = None,
    pdf: Pdf = None,
    a4: OnA4 = False,
    family: FamilyFolder = None,
) -> None:
    """Write the report of a term on one page.

    Example: rubric-kit report --student Tamsin --term autumn --pdf report.pdf
    """
    from rubric_kit.showing.portfolio import term_report

    _check(html, pdf)
    with opened(family) as records:
        child = records.students.find(student).id
        _write(term_report(records, child, records.terms.find(term), initials=initials), html, pdf, a4)


def _check(html: Path | None, pdf: Path | None) -> None:
    if html is None and pdf is None:
        raise typer.BadParameter("Say where to write it: --pdf OUT, --html OUT, or both.")


def _listed(text: str) -> list[str]:
    return [part.strip() for part in text.split(",") if part.strip()]


def _numbers(text: str) -> list[int]:
    if not all(part.isdecimal() for part in _listed(text)):
        raise typer.BadParameter(f"--pieces {text}: write the numbers of drafts with commas between, such as 1,5,9.")
    return [int(part) for part in _listed(text)]


def _write(view: Portfolio | TermReport, html: Path | None, pdf: Path | None, a4: bool) -> None:
    from rubric_kit.showing.portfolio import Paper, write_html, write_pdf

    if html:
        write_html(view, html)
        tell(f"Wrote {html}")
    if pdf:
        write_pdf(view, pdf, Paper.a4 if a4 else Paper.letter)
        tell(f"Wrote {pdf}")
