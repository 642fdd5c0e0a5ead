"""rubric-kit book: the shared list of books and other units."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any

import typer

from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder, Json, on_day
from rubric_kit.cli.printing import done, json_of, table

app = typer.Typer()
book = typer.Typer(help="The books that are read together, or other units of study.", no_args_is_help=True)
app.add_typer(book, name="book")

Title = Annotated[str, typer.Argument(help='The title; "title by author" where two books have the same.')]
Started = Annotated[date | None, on_day("When it was begun.")]
Finished = Annotated[date | None, on_day("When it was finished.")]
Unit = Annotated[str | None, typer.Option(help="What groups it with other books, such as Sea stories.")]


@book.command("add")
def add_book(
    title: Annotated[str, typer.Argument(help="The title.")],
    author: Annotated[str, typer.Option(help="Who wrote it.")] = "",
    unit: Unit = None,
    started: Started = None,
    finished: Finished = None,
    family: FamilyFolder = None,
) -> None:
    """Add a book.

    Example: rubric-kit book add "Treasure Island" --author "Robert Louis Stevenson"
    """
    with opened(family) as records:
        added = records.books.add(title, author, unit=unit or "", started=started, finished=finished)
        done(f"Added the book {added.title}.")


@book.command("list")
def list_books(family: FamilyFolder = None, json: Json = False) -> None:
    """List the books.

    Example: rubric-kit book list
    """
    with opened(family) as records:
        books = records.books.all()
        if json:
            json_of(books)
        else:
            cells = [(b.title, b.author, b.unit, b.started, b.finished) for b in books]
            heads = ("book", "author", "unit", "started", "finished")
            table(heads, cells, "No books yet. Add one: rubric-kit book add TITLE --author NAME")


@book.command("change")
def change_book(
    title: Title,
    to: Annotated[str | None, typer.Option("--title", help="The new title.")] = None,
    author: Annotated[str | None, typer.Option(help="Who wrote it.")] = None,
    unit: Unit = None,
    started: Started = None,
    finished: Finished = None,
    family: FamilyFolder = None,
) -> None:
    """Change what is known of a book.

    Example: rubric-kit book change "Treasure Island" --finished 2026-03-04
    """
    texts = {"title": to, "author": author, "unit": unit}
    values: dict[str, Any] = {name: text.strip() for name, text in texts.items() if text is not None}
    values |= {name: day for name, day in {"started": started, "finished": finished}.items() if day is not None}
    if not values:
        raise typer.BadParameter("Nothing to change: give --title, --author, --unit, --started or --finished.")
    with opened(family) as records:
        changed = records.books.change(records.books.find(title).id, **values)
        done(f"Changed the book {changed.title}.")


@book.command("remove")
def remove_book(title: Title, family: FamilyFolder = None) -> None:
    """Take a book out of sight; the tasks set on it stay.

    Example: rubric-kit book remove "Treasure Island"
    """
    with opened(family) as records:
        records.books.remove(records.books.find(title).id)
        done(f"Removed the book {title}.")
