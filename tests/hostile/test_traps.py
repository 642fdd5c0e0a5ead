"""Texts that a careless pattern or loop takes for ever on are read in time that grows with them, and read rightly."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import suppress

import pytest

from rubric_kit.errors import RubricKitError
from rubric_kit.measures.structure.transitions import transitions
from rubric_kit.reading import read_bytes, read_text
from rubric_kit.reading.markdown_files import without_marks
from rubric_kit.reading.page_lines import Line, text_of_lines

SENTENCE = "The old boat sank in the bay. "
SHORT, TIMES = 20_000, 8  # characters; the long text is as many times as long
GROWTH = 24  # times the time: 8 is linear, 64 is square
CALM = 0.5  # seconds of the processor: less is not looked at, as it may be chance
# What comes again and again in a line of its own.
UNITS = (
    "a ", " ", "\t", "a", "a-", "A. ", "a\n", "A\n", "- a\n", "1. A\n", "Mr. J. ", "No!? ", "(1) ", '"a" ', "'a' ", "“",
    "a, ", "Dear ", "# ", " # a ", "* ", "**a ", "`a ", "~~", "[a](", "![a](b) ", "<!-- ", "> ", "---\n", "__a", "\\",
    "1/2/", "a@", "www.a.", "a\u0301", "\u202e", "\u200b", "\ufeff", "\f", "\v", "\u2028", "\x1b[31m", "😀 ", "\ud83d",
)  # fmt: skip


def seconds(run: Callable[[], object]) -> float:
    before = time.process_time()
    with suppress(RubricKitError):
        run()
    return time.process_time() - before


def stays_in_proportion(run: Callable[[int], object]) -> None:
    """A slow one is timed again: another process may have been in the way."""
    for _ in range(3):
        long = seconds(lambda: run(SHORT * TIMES))
        if long < CALM or long < GROWTH * seconds(lambda: run(SHORT)):
            return
    pytest.fail(f"{long:.1f} s for {SHORT * TIMES} characters")


@pytest.mark.slow
@pytest.mark.parametrize("name", ["a.txt", "a.md"])
@pytest.mark.parametrize("unit", UNITS)
def test_a_text_of_one_thing_again_and_again_is_read_in_proportion(unit: str, name: str) -> None:
    def read(length: int) -> object:
        text = SENTENCE * 3 + "\n\n" + unit * (length // len(unit)) + "\0x\n\n" + SENTENCE * 3
        return read_bytes(text.encode("utf-8", "surrogatepass"), name)

    stays_in_proportion(read)


@pytest.mark.slow
@pytest.mark.parametrize("line", ["{{", "{\\*\\a ", "\\par", "\\u8217 ?", "\\'92", "\\bin1 ", "a\\~", "\n", " "])
def test_rich_text_of_one_thing_again_and_again_is_read_in_proportion(line: str) -> None:
    stays_in_proportion(
        lambda length: read_bytes(b"{\\rtf1 " + (SENTENCE + line * (length // len(line))).encode() + b"}", "a.rtf")
    )


def test_a_heading_with_endless_blanks_is_read_in_proportion() -> None:
    stays_in_proportion(lambda length: without_marks(" # a" + " " * length + "\0x"))


def test_marks_that_close_a_heading_go_and_others_stay() -> None:
    text = without_marks("# The boat ##  \n## C#\n### #\n#### a # b #\n##### ## ##\n")
    assert text.split() == ["The", "boat", "C#", "#", "a", "#", "b", "##"]


def test_an_endless_word_on_a_page_is_read_in_proportion() -> None:
    def page(length: int) -> str:
        return text_of_lines([Line(0, 72, 700 - 20 * n, 12, text) for n, text in enumerate(["a" * length, "b", "c d"])])

    stays_in_proportion(page)


def test_endless_blanks_in_a_sentence_are_looked_through_in_proportion() -> None:
    stays_in_proportion(lambda length: transitions(read_text(f"{SENTENCE}It was a{' ' * length}boat. {SENTENCE}")))


@pytest.mark.parametrize("phrase", ["two days later", "a  few years later", "a couple of hours after that"])
def test_a_lapse_of_time_is_a_transition(phrase: str) -> None:
    essay = read_text(f"We left the old boat in the bay. {phrase.capitalize()} it had sunk.")
    assert [found.text.lower() for found in transitions(essay)] == [phrase]
