"""PDF: the text layer, as lines with their places on the page; ``page_lines`` puts them together again."""

from __future__ import annotations

import io
import logging
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from rubric_kit.errors import UnreadableFileError
from rubric_kit.reading.page_lines import SAME_LINE, Line, text_of_lines

if TYPE_CHECKING:
    from pypdf import PdfReader

PAGE_LIMIT = 1000  # more than any essay or novel; a page costs some hundredths of a second
STREAM_LIMIT = 5_000_000  # bytes of drawing on one page, unpacked; a page of writing has about 10,000
OPERATIONS_LIMIT = 300_000  # steps of drawing on one page; a page of writing has some thousands
STEPS_LIMIT = (
    2_000_000  # steps of drawing in one file: a book of 500 pages, each letter placed by itself; about twenty seconds
)
LIGATURES = str.maketrans({"\ufb00": "ff", "\ufb01": "fi", "\ufb02": "fl", "\ufb03": "ffi", "\ufb04": "ffl"})

logging.getLogger("pypdf").addHandler(logging.NullHandler())  # its warnings are for programmers: none on the terminal


def read_pdf(data: bytes) -> str:
    """The text layer of a PDF; raises UnreadableFileError without the file's name."""
    lines = _lines(data)
    if not any(character.isalnum() for line in lines for character in line.text):
        raise UnreadableFileError(
            "it holds no text, only pictures of pages. Run text recognition (OCR) on it, or type the essay into a "
            ".docx or .txt file"
        )
    return text_of_lines(lines)


def _lines(data: bytes) -> list[Line]:
    from pypdf import apply_configuration
    from pypdf.errors import LimitReachedError

    try:
        with apply_configuration(
            zlib_maximum_output_length=STREAM_LIMIT, stream_parsing_work_maximum_count=OPERATIONS_LIMIT
        ):
            return [line for line in _placed_lines(_unlocked(data)) if line.text.strip()]
    except LimitReachedError as error:
        raise UnreadableFileError(
            "a page is too full of drawing to be read. Save the essay as .docx or .txt"
        ) from error


def _placed_lines(reader: PdfReader) -> list[Line]:
    if len(reader.pages) > PAGE_LIMIT:
        raise UnreadableFileError(f"it has more than {PAGE_LIMIT} pages. Hand in the essay alone")
    lines: list[Line] = []
    steps = 0

    def count(*_: object) -> None:
        nonlocal steps
        steps += 1
        if steps > STEPS_LIMIT:
            raise UnreadableFileError("it holds more drawing than an essay can. Hand in the essay alone")

    def place(text: str, outer: Sequence[float], inner: Sequence[float], font: object, size: float) -> None:
        if text:
            _place(lines, _line(number, text, outer, inner, size))

    for number, page in enumerate(reader.pages):  # noqa: B007  # ``place`` reads the number of the page
        page.extract_text(visitor_operand_before=count, visitor_text=place)
    return lines


def _unlocked(data: bytes) -> PdfReader:
    """A reader of the pages. A file that only its owner may change opens without a password, if we know its cipher."""
    from pypdf import PasswordType, PdfReader
    from pypdf.errors import DependencyError

    locked = UnreadableFileError("it is locked with a password. Save or print it again as a PDF without a password")
    try:
        reader = PdfReader(io.BytesIO(data))
        if reader.is_encrypted and reader.decrypt("") == PasswordType.NOT_DECRYPTED:
            raise locked
    except DependencyError as error:  # AES needs a library that is not worth its weight here
        raise locked from error
    return reader


def _line(page: int, text: str, outer: Sequence[float], inner: Sequence[float], size: float) -> Line:
    """A piece of text with its place on the page: the inner matrix (text) times the outer one (page)."""
    x = inner[4] * outer[0] + inner[5] * outer[2] + outer[4]
    y = inner[4] * outer[1] + inner[5] * outer[3] + outer[5]
    scale = math.hypot(inner[2] * outer[0] + inner[3] * outer[2], inner[2] * outer[1] + inner[3] * outer[3])
    return Line(page, x, y, abs(size * scale) or 1.0, text.translate(LIGATURES).strip("\r\n"))


def _place(lines: list[Line], piece: Line) -> None:
    """Put a piece at the end of the last line, or begin a new line with it."""
    if lines and not lines[-1].text.strip():
        lines.pop()
    last = lines[-1] if lines else None
    if last and last.page == piece.page and abs(last.y - piece.y) < SAME_LINE * max(last.size, piece.size):
        last.text += piece.text
        last.size = max(last.size, piece.size)
    else:
        lines.append(piece)
