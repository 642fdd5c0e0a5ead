"""Texts that a careless pattern or loop takes for ever on are read in time that grows with them, and read rightly."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from rubric_kit.errors import RubricKitError
from rubric_kit.measures.structure.transitions import transitions
from rubric_kit.reading import read, read_bytes, read_text
from rubric_kit.reading.markdown_files import without_marks
from rubric_kit.reading.page_lines import Line, text_of_lines

sys.path.insert(0, str(Path(__file__).parents[1] / "reading"))
from hostile_files import pdf

MINUTE = 60  # seconds of the processor
SENTENCE = "The old boat sank in the bay. "
SHORT, TIMES = 8_000, 8  # characters; the long text is as many times as long
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
@pytest.mark.parametrize("unit", UNITS)
def test_a_text_of_one_thing_again_and_again_is_read_in_proportion(unit: str) -> None:
    name = "a.md" if unit[0] in " #*`~[!<>-_\\" else "a.txt"

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


@pytest.mark.slow
def test_a_thousand_pages_full_of_drawing_are_told_before_a_minute_is_over() -> None:
    data = pdf(b"BT /F1 12 Tf 72 700 Td (The boat sank.) Tj ET " + b"0 0 m " * 60_000, pages=1000)
    before = time.process_time()
    with pytest.raises(RubricKitError, match="more drawing than an essay can"):
        read_bytes(data, "a.pdf")
    assert time.process_time() - before < MINUTE


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("a.txt", b"cat " * 25_000_000),
        ("a.docx", b"PK\x03\x04" + bytes(100_000_000)),
        ("a.md", b"cat " * 1_000_000),
        ("a.txt", b"cat " * 499_999),
        ("a.txt", b"a" * 1_999_999),
    ],
    ids=[
        "100 MB of text",
        "100 MB of zip",
        "a line of a million words",
        "a line of half a million",
        "one endless word",
    ],
)
def test_what_is_too_large_is_told_at_once(name: str, data: bytes, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(data)
    before = time.process_time()
    with pytest.raises(RubricKitError, match=r"larger than|longer than|without an end mark|without a space"):
        read(tmp_path / name)
    assert time.process_time() - before < MINUTE
