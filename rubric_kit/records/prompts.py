"""Prompts made from a parent's own question: the question word for word, the book, and the form in plain words."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from rubric_kit.records.rows import Book


def prompt_from(question: str, book: Book | None = None) -> str:
    """The shared prompt of a task: the question as it stands, under the title of the book."""
    if book is None:
        template = "question"
    elif book.author:
        template = "about_book_by"
    else:
        template = "about_book"
    title, author = (book.title, book.author) if book else ("", "")
    return str(_words()[template]).format(question=question.strip(), book=title, author=author)


def instructions_for(form: str) -> str:
    """What a form asks for, in words for the child.

    Raises KeyError for a form that has no rubric.
    """
    return str(_words()["form"][form]).strip()


@cache
def _words() -> dict[str, Any]:
    return tomllib.loads((files("rubric_kit.records") / "data/prompts.toml").read_text("utf-8"))
