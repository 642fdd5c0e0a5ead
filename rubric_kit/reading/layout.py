"""The layout of a handed-in text: heading block, title and paragraphs, each with its offsets.

Counted as running text is what stands between the title and the end. Left out, as Flesch (1979) leaves out titles,
headings, captions and signature lines: the heading block, the title, lines that only label a part ("Introduction"),
rules and ornaments, a closing "The End" on a line of its own, a signature, and a list of sources.
"""

from __future__ import annotations

from rubric_kit.reading.essay import Block, Essay, Paragraph
from rubric_kit.reading.front import body_end, find_front, is_section_label
from rubric_kit.reading.paragraphs import Line, find_lines, paragraph_spans
from rubric_kit.reading.sentences import find_sentences, writes_capitals


def essay_from_text(text: str, source: str) -> Essay:
    """Find the parts of a text; ``source`` is the file's name, or says how else the text came.

    Never fails: a text without a word is an essay without a paragraph. The heading block reaches from its first to its
    last line; a title between them (title, then name and date) lies within it.
    """
    lines = find_lines(text)
    front = find_front(text, lines)
    body = _body(text, lines[front.lines :])
    careful = writes_capitals(text)
    paragraphs = (
        Paragraph(start, end, find_sentences(text, start, end, careful=careful))
        for start, end in paragraph_spans(text, body)
    )
    return Essay(
        text=text,
        title=_block(text, front.title),
        heading=_block(text, front.heading),
        paragraphs=tuple(paragraph for paragraph in paragraphs if paragraph.sentences),
        source=source,
    )


def _body(text: str, lines: list[Line]) -> list[Line]:
    """The lines of running text; one behind a label left out starts a paragraph as if behind a blank line."""
    body: list[Line] = []
    label = False
    for line in lines[: body_end(text, lines)]:
        if is_section_label(text, line):
            label = True
        else:
            body.append(line._replace(blanks=max(line.blanks, label)))
            label = False
    return body or lines


def _block(text: str, span: tuple[int, int] | None) -> Block | None:
    return Block(*span, text[slice(*span)]) if span else None
