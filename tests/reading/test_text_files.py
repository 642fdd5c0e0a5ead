"""Plain text and Markdown: encodings, characters, marks."""

from __future__ import annotations

import codecs
from pathlib import Path

import pytest

from rubric_kit.reading.files import text_of
from rubric_kit.reading.markdown_files import without_marks
from rubric_kit.reading.text_files import decode, harmless

CHILDREN_TYPE = "“Don’t go,” she said—twice…\r\n\r\n\tThe café\u00a0was closed.\r\n"
LONG_DASHES = "It’s – well — “odd”. " * 3


@pytest.mark.parametrize("text", [CHILDREN_TYPE, LONG_DASHES, "Plain words only.\n", "x"])
@pytest.mark.parametrize(
    ("mark", "encoding"),
    [
        (b"", "utf-8"),
        (codecs.BOM_UTF8, "utf-8"),
        (codecs.BOM_UTF16_LE, "utf-16-le"),
        (codecs.BOM_UTF16_BE, "utf-16-be"),
        (codecs.BOM_UTF32_LE, "utf-32-le"),
        (codecs.BOM_UTF32_BE, "utf-32-be"),
        (b"", "utf-16-le"),
        (b"", "utf-16-be"),
        (b"", "cp1252"),
    ],
)
def test_a_text_comes_out_the_same_from_every_encoding(text: str, mark: bytes, encoding: str, tmp_path: Path) -> None:
    file = tmp_path / "essay.txt"
    file.write_bytes(mark + text.encode(encoding))
    assert text_of(file) == text


def test_a_file_pasted_together_from_utf8_and_windows_1252_comes_out_whole() -> None:
    assert decode("It’s ".encode() + "Zoë’s café".encode("cp1252")) == "It’s Zoë’s café"


def test_a_utf8_file_cut_off_inside_a_character_keeps_the_rest() -> None:
    assert decode("The café is “closed”".encode()[:-1]).startswith("The café is “closed")


def test_utf16_with_an_odd_last_byte_keeps_the_rest() -> None:
    assert decode("A fine day.".encode("utf-16-le") + b"\n").startswith("A fine day.")


def test_a_long_line_in_windows_1252_without_spaces_is_read() -> None:
    assert len(decode("é".encode("cp1252") * 300_000)) == 300_000


@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r", "\n\r\n", "\x0b", "\x0c", "\u2028", "\u0085"])
def test_line_ends_stay_as_they_were_typed(ends: str) -> None:
    assert decode(f"One.{ends}Two.".encode()) == f"One.{ends}Two."


def test_a_stray_control_character_becomes_one_replacement_character_in_the_same_place() -> None:
    text = "The dog\x00 ran and \x1b[31m ran. " + "It was a long and happy day. " * 10
    assert harmless(decode(text.encode())) == text.replace("\x00", "\ufffd").replace("\x1b", "\ufffd")


def test_windows_characters_taken_for_latin_1_are_put_right_in_place() -> None:
    assert harmless("It\x92s \x93odd\x94") == "It’s “odd”"


def test_half_a_surrogate_pair_becomes_a_replacement_character() -> None:
    assert harmless("a\ud83d b") == "a\ufffd b"


@pytest.mark.parametrize(
    ("marked", "plain"),
    [
        ("# The Old Boat\n\nIt sank.", "The Old Boat\n\nIt sank."),
        ("# The Old Boat #\nIt sank.", "The Old Boat\n\nIt sank."),
        ("The Old Boat\n===\nIt sank.", "The Old Boat\n\nIt sank."),
        ("Ada Finch\n---\nIt sank.", "Ada Finch\n\nIt sank."),
        ("It was **very** *cold* and ***wet***.", "It was very cold and wet."),
        ("It was __very__ _cold_ and ~~wet~~ `dry`.", "It was very cold and wet dry."),
        ("In *The Call\nof the Wild* he runs.", "In The Call\nof the Wild he runs."),
        ("**Buck *never* slept**.", "Buck never slept."),
        ("2 * 3 * 4 and snake_case_word", "2 * 3 * 4 and snake_case_word"),
        ("a *lonely star", "a *lonely star"),
        (r"a \*real\* star", "a *real* star"),
        ("See [the map](http://a.example/b) and [it][1].\n\n[1]: http://a.example", "See the map and it."),
        ("A ![boat](boat.png)boat <http://a.example> sank.", "A boat  sank."),
        ("> It was the best of times.", "It was the best of times."),
        ("- a boat\n- an oar\n1. a hook", "- a boat\n- an oar\n1. a hook"),
        ("One.\n\n***\n\nTwo.", "One.\n\nTwo."),
        ("One. <!-- a note\nfor me --> Two.", "One.  Two."),
        ("---\nname: Ada\n---\nIt sank.", "It sank."),
        ("    An indented paragraph.\n    Another one.", "    An indented paragraph.\n    Another one."),
        ("One.\r\n\r\nTwo.\rThree.", "One.\n\nTwo.\nThree."),
        ("```\nIt sank.\n```", "It sank."),
        ("#1 is my dog.", "#1 is my dog."),
        ("I'm 5'2\" & <tall>.", "I'm 5'2\" & <tall>."),
    ],
)
def test_markdown_marks_go_and_the_childs_words_and_lines_stay(marked: str, plain: str) -> None:
    assert without_marks(marked).rstrip() == plain


@pytest.mark.parametrize(
    "mark", ["*", "**", "_a", "*a ", "[", "[a](", "![", "<!--", "`", "> ", "#", "---\n", "a\n-", "<http:"]
)
def test_three_hundred_thousand_characters_of_one_markdown_mark_end_soon(mark: str) -> None:
    assert without_marks(mark * (300_000 // len(mark))) is not None
