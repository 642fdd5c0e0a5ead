"""The layout of a handed-in text: heading, title and paragraphs."""

from __future__ import annotations

import re

from rubric_kit.reading.essay import Block, Essay, Paragraph
from rubric_kit.reading.sentences import find_sentences

BLANK_LINE = re.compile(r"(?:\r\n?|\n)[^\S\r\n]*(?:\r\n?|\n)\s*")
TITLE = re.compile(r"[#\s]*([A-Z][^.\r\n]{0,70}[^\s.,:;])[^\S\r\n]*(?:\r\n?|\n)(?=[\s\S]*\S)")


def essay_from_text(text: str, source: str) -> Essay:
    """Find the parts of a text; ``source`` is the file name, or how else the text came."""
    title = TITLE.match(text)
    done = title.end() if title else 0
    paragraphs = []
    for stop in (*(m.start() for m in BLANK_LINE.finditer(text, done)), len(text)):
        raw = text[done:stop]
        start, end = done + len(raw) - len(raw.lstrip()), done + len(raw.rstrip())
        sentences = find_sentences(text, start, end)
        if sentences:
            paragraphs.append(Paragraph(start, end, sentences))
        done = stop
    block = Block(*title.span(1), title.group(1)) if title else None
    return Essay(text, block, None, tuple(paragraphs), source)
