"""PDF: the text layer, as lines with their places on the page; ``page_lines`` puts them together again."""

from __future__ import annotations

import io
import logging
import math
from collections.abc import Sequence
from typing import Any

from rubric_kit.errors import UnreadableFileError
from rubric_kit.reading.page_lines import SAME_LINE, Line, text_of_lines

PAGE_LIMIT = 1000  # more than any essay or novel; a page costs some hundredths of a second
CONTENT_LIMIT = 5_000_000  # bytes of drawing on one page; a page of writing has about 10,000
PIECE_LIMIT = 3_000_000  # pieces of text in one file: more than its characters may be
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
    from pypdf import PasswordType, PdfReader

    reader = PdfReader(io.BytesIO(data))
    if reader.is_encrypted and reader.decrypt("") == PasswordType.NOT_DECRYPTED:
        raise UnreadableFileError("it is locked with a password. Save it again without a password")
    if len(reader.pages) > PAGE_LIMIT:
        raise UnreadableFileError(f"it has more than {PAGE_LIMIT} pages. Hand in the essay alone")
    lines: list[Line] = []
    pieces = 0
    for number, page in enumerate(reader.pages):
        content = page.get_contents()
        if content is not None and len(content.get_data()) > CONTENT_LIMIT:
            raise UnreadableFileError("a page is too full of drawing to be read. Save the essay as .docx or .txt")

        def place(
            text: str, outer: Sequence[float], inner: Sequence[float], font: Any, size: float, page: int = number
        ) -> None:
            nonlocal pieces
            pieces += 1
            if pieces > PIECE_LIMIT:
                raise UnreadableFileError("it holds more text than an essay can. Hand in the essay alone")
            if text:
                _place(lines, _line(page, text, outer, inner, size))

        page.extract_text(visitor_text=place)
    return [line for line in lines if line.text.strip()]


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
