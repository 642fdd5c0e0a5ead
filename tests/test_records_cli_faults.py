"""What the commands of the family's year say to what cannot be, and to odd names; their exit codes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rubric_kit.records import open_family

from .commands import COMMAND_LINE, FINE, INPUT, read, run

NAMES = ("Robert'); DROP TABLE students;--", "🦊", "x" * 300, "../../x", "Ann: the 2nd", "[bold]Ann[/bold]")


@pytest.mark.parametrize(
    ("words", "code", "message"),
    [
        (("student", "add", "Ann", "--grade", 8), INPUT, "of this name already"),
        (("student", "add", "", "--grade", 8), INPUT, "must not be empty"),
        (("student", "add", "Zoe", "--grade", 13), COMMAND_LINE, "equal to 12"),
        (("student", "add", "Zoe"), COMMAND_LINE, "--grade"),
        (("student", "add", "Zoe", "--grade", 8, "--year", "2025"), INPUT, "2025-26"),
        (("student", "add", "Zo\udcff", "--grade", 8), INPUT, "Type it anew"),
        (("history", "--newest", 10**30), INPUT, "too large"),
        (("task", "add", "--title", "x", "--prompt", "a", "--for", "Ann:" + "9" * 5000), COMMAND_LINE, "is no form"),
        (("student", "remove", "Zoe"), INPUT, "There are: Ann, Ben"),
        (("term", "add", "autumn", "--begins", "2025-09-01", "--ends", "2025-08-01"), INPUT, "begin before it ends"),
        (("term", "add", "autumn", "--begins", "1.9.2025", "--ends", "2025-12-01"), COMMAND_LINE, "2026-05-15"),
        (("term", "change", "autumn"), COMMAND_LINE, "Nothing to change"),
        (("term", "remove", "autumn"), INPUT, "none yet"),
        (("book", "add", "The Call of the Wild", "--author", "Jack London"), INPUT, "in the list already"),
        (("book", "change", "Heidi", "--unit", "x"), INPUT, "There are: The Call of the Wild"),
        (("book", "change", "The Call of the Wild"), COMMAND_LINE, "Nothing to change"),
        (("task", "add", "--title", "x"), COMMAND_LINE, "--prompt"),
        (("task", "add", "--title", "x", "--prompt", "a", "--question", "b"), COMMAND_LINE, "one of the two"),
        (("task", "add", "--prompt", "a"), COMMAND_LINE, "--title"),
        (("task", "add", "--title", "The wild", "--prompt", "a"), INPUT, "of this title already"),
        (("task", "add", "--title", "x", "--prompt", "a", "--for", "Zoe"), INPUT, "There are: Ann, Ben"),
        (("task", "add", "--title", "x", "--prompt", "a", "--for", "Ann:sonnet"), COMMAND_LINE, "five-paragraph"),
        (("task", "add", "--title", "x", "--prompt", "a", "--for", "Ann:2"), INPUT, "0 questions"),
        (("task", "add", "--title", "x", "--prompt", "a", "--answer", "Who?"), COMMAND_LINE, "equals sign"),
        (("task", "add", "--title", "x", "--prompt", "a", "--answer", "Who? = nan"), COMMAND_LINE, "equals sign"),
        (("task", "add", "--title", "x", "--prompt", "a", "--book", "Heidi"), INPUT, "no book called Heidi"),
        (("task", "show", "x"), INPUT, "There are: The wild"),
        (("task", "give", "The wild", "Ben", "--rubric", "mine.toml"), INPUT, "rubric-kit rubric add"),
        (("task", "give", "The wild", "Ben", "--questions", 3), INPUT, "has 2 questions"),
        (("task", "change", "The wild"), COMMAND_LINE, "Nothing to change"),
        (("task", "question", "The wild", 4, "Who? = 1"), INPUT, "next is number 3"),
        (("task", "question", "The wild", 1, "Who?"), COMMAND_LINE, "equals sign"),
        (("task", "excuse", "The wild", "Zoe"), INPUT, "There are: Ann, Ben"),
        (("due", "--student", "Zoe"), INPUT, "There are: Ann, Ben"),
        (("draft", "add", "gone.txt", "--student", "Ben", "--task", "The wild"), INPUT, "no such file"),
        (("draft", "show", 9), INPUT, "no number 9"),
        (("draft", "show", 10**30), INPUT, "no number"),
        (("draft", "remove", 0), INPUT, "no number 0"),
        (("answers", "give", "1", "--student", "Ann", "--task", "The wild"), COMMAND_LINE, "2=1.5"),
        (("answers", "give", "1=3", "--student", "Ann", "--task", "The wild"), INPUT, "0 to 2 points"),
        (("answers", "give", "1=nan", "--student", "Ann", "--task", "The wild"), INPUT, "0 to 2 points"),
        (("answers", "give", "2=1", "--student", "Ben", "--task", "The wild"), INPUT, "no question 2"),
        (("mark", 1, "--focus", 5), COMMAND_LINE, "A level is 1, 2, 3 or 4."),
        (("mark", 1, "--levels", "focus=5"), COMMAND_LINE, "from 1 to 4"),
        (("mark", 1, "--levels", "spelling=3"), INPUT, "It has: focus"),
        (("mark", 1, "--accept", "--blind"), COMMAND_LINE, "--accept"),
        (("mark", 9, "--accept"), INPUT, "no number 9"),
        (("conference", "add", 1), COMMAND_LINE, "Nothing to note"),
        (("conference", "add", 9, "--goal", "x"), INPUT, "no number 9"),
        (("conference", "change", 1, "--goal", "x"), INPUT, "no number 1"),
        (("setting", "set", "colour", "3"), INPUT, "There are: "),
        (("setting", "set", "answers_weight", "many"), INPUT, "must be like 40"),
        (("setting", "set", "answers_weight", "-5"), INPUT, "a percent from 0 to 100"),
        (("setting", "reset", "colour"), INPUT, "There are: "),
        (("rubric", "add", "gone.toml"), INPUT, "no such file"),
        (("old-mark", "remove", 1), INPUT, "no number 1"),
        (("import", "gone.csv"), INPUT, "cannot be opened"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_in_words_and_nothing_is_written(
    our_year: Path, words: tuple[object, ...], code: int, message: str
) -> None:
    before = read("history")
    result = run(*words, code=code)
    assert message in " ".join(re.sub("[│╭╮╰╯─]", " ", result.stderr).split())
    assert read("history") == before


@pytest.mark.parametrize("name", NAMES)
def test_a_child_may_have_any_name(our_year: Path, name: str) -> None:
    run("student", "add", name, "--grade", 6)
    run("task", "give", "The wild", name, "--questions", 1)
    run("task", "add", "--title", name, "--prompt", "Why?", "--for", f"{name}:paragraph:1", "--answer", "Who? = 1")
    run("task", "add", "--title", name + "2", "--prompt", "Why?", "--for", name)
    assert len(read("due", "--student", name)) == 3
    for words in (("student", "list"), ("task", "list"), ("due",), ("history",), ("task", "show", name)):
        assert name[:4] in run(*words).stdout
    run("student", "remove", name)


def test_nothing_that_was_typed_can_steer_the_terminal(our_year: Path) -> None:
    with open_family(our_year) as family:
        family.students.add("A\x1b[31m\u202eB", grade=6)
        family.books.add("T\x1b]0;x\x07", "W\x9b2J")
    for words in (("student", "list"), ("book", "list"), ("history",), ("student", "remove", "\x1b[2J")):
        output = run(*words, code=INPUT if "remove" in words else FINE).output
        assert not set(output) & set("\x1b\x07\x9b\u202e")
