"""Paragraphs: blocks by the child's own layout, whether blank lines, indents or new lines that are no hard wrap."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from rubric_kit.reading.lists import abbreviations

# A form feed with the newline beside it is one page break; \v and \u2028 are soft breaks inside a paragraph.
LINE_BREAK = re.compile(r"(?:\r\n?|\n)?\f(?:\r\n?|\n)?|\r\n?|[\n\v\x85\u2028\u2029]")
SOFT_BREAKS = "\v\u2028"
PARAGRAPH_BREAK = "\u2029"
NO_WIDTH = "\u200b\u2060\ufeff"  # marks that files bring along
WIDTHS = {"\t": 4, "\u3000": 2, "\u2003": 2, "\u200b": 0, "\u2060": 0, "\ufeff": 0}  # columns; others are 1 wide
LIST_ITEM = re.compile(r"(?:[-*•–◦▪‣]|\(?\d{1,2}[.)]|\(?[A-Za-z][.)])[^\S\r\n]")

INDENT = 2  # columns past the block's margin; one stray space is no indent
LONG_ITEM = 200  # characters: a list item as long as a paragraph is one (a typical body paragraph has 300 to 600)
WIDEST_WRAP = 140  # characters: pages and mail programs wrap at 60 to 130; longer lines are whole paragraphs
NARROWEST_WRAP = 40  # characters: shorter lines of equal length are short sentences, not full lines
MID_SENTENCE = 0.4  # of the line breaks: in wrapped prose three in four fall before a small letter, else almost none
FULL_UNFINISHED = 0.6  # of the full lines end without an end mark: in wrapped prose nine in ten do
RAGGED = 0.75  # of the width: a line at least this long was broken by hand at the margin
DOUBLE_SPACED = 4  # lines, each alone between blank lines, before they may be one double-spaced page
FIRST_WORD = 40  # characters looked through for the end of a line's first word
COMMA_IN_QUOTES = re.compile(r"[,;][\"”'’]$")
OPENING = "(\"“'‘"
NEVER_ENDS = "inner"  # the kind of abbreviation after which no sentence ends (Mr.)
END_MARKS = tuple(".?!…\"”'’):*_")


class Line(NamedTuple):
    """A line with something on it; ``start`` and ``end`` leave out the white space at its edges.

    indent  columns of white space before it
    blanks  blank lines before it; a line made only of symbols (a rule, ***) counts as blank
    soft    its break is a soft one, inside a paragraph
    """

    start: int
    end: int
    indent: int
    blanks: int
    soft: bool


class Wrap(NamedTuple):
    """How wide the writer's hard-wrapped lines are, and whether they were broken by hand (ragged)."""

    width: int
    ragged: bool


def find_lines(text: str) -> list[Line]:
    """The lines that have a letter or a digit on them."""
    lines = []
    blanks, start, soft = 0, 0, False
    ends = [(match.start(), match.end()) for match in LINE_BREAK.finditer(text)]
    for stop, resume in (*ends, (len(text), len(text))):
        raw = text[start:stop]
        inner = raw.strip().strip(NO_WIDTH).strip()
        if any(c.isalnum() for c in inner):
            first = start + raw.index(inner)
            indent = sum(WIDTHS.get(c, 1) for c in text[start:first])
            lines.append(Line(first, first + len(inner), indent, blanks, soft))
            blanks = 0
        else:
            blanks += 1
        blanks += text[stop:resume] == PARAGRAPH_BREAK
        start, soft = resume, text[stop:resume] in SOFT_BREAKS
    return lines


def paragraph_spans(text: str, lines: Sequence[Line]) -> Iterator[tuple[int, int]]:
    """Where each paragraph starts and ends, in order."""
    blocks = list(_blocks(lines))
    if _is_double_spaced(text, blocks):
        blocks = list(_blocks(line._replace(blanks=max(0, line.blanks - 1)) for line in lines))
    wrap = _find_wrap(text, blocks)
    for block in blocks:
        start = block[0].start
        margin = _margin(text, block)
        for line, following in pairwise(block):
            item = LIST_ITEM.match(text, following.start)
            indented = following.indent >= margin + INDENT and not item
            if not following.soft and (indented or not _goes_on(text, line, following, wrap)):
                yield start, line.end
                start = following.start
        yield start, block[-1].end


def _blocks(lines: Iterable[Line]) -> Iterator[list[Line]]:
    block: list[Line] = []
    for line in lines:
        if line.blanks and block:
            yield block
            block = []
        block.append(line)
    if block:
        yield block


def _margin(text: str, block: Sequence[Line]) -> int:
    """The block's left edge; with only the first line out at the left (a hanging indent), the edge of the others."""
    edge = min(line.indent for line in block)
    others = [line.indent for line in block[1:]]
    if (
        len(others) >= 2
        and min(others) == max(others) > edge
        and all(_breaks_mid(text, a, b) for a, b in pairwise(block))
    ):
        return others[0]
    return edge


def _goes_on(text: str, line: Line, following: Line, wrap: Wrap | None) -> bool:
    """Does the paragraph of ``line`` go on in ``following``, the next line of its block?"""
    if LIST_ITEM.match(text, following.start):
        return following.end - following.start < LONG_ITEM
    if _breaks_mid(text, line, following) or _is_unfinished(text, line, following):
        return True
    if wrap is None:
        return False
    if wrap.ragged or not _ends_with_mark(text, line):
        return line.end - line.start >= RAGGED * wrap.width
    return _is_full(text, line, following, wrap.width)


def _ends_with_mark(text: str, line: Line) -> bool:
    return text[line.end - 1] in END_MARKS


def _is_unfinished(text: str, line: Line, following: Line) -> bool:
    """A line that ends with a comma (in a quotation before a small letter) or with Mr. is no end of a paragraph."""
    if text[line.end - 1] in ",;":
        return True
    last = text[line.start : line.end].rsplit(maxsplit=1)[-1]
    if COMMA_IN_QUOTES.search(last):
        return text[following.start].islower()
    return last.endswith(".") and abbreviations().get(last.lstrip(OPENING).removesuffix(".").lower()) == NEVER_ENDS


def _breaks_mid(text: str, line: Line, following: Line) -> bool:
    return text[following.start].islower() and not _ends_with_mark(text, line)


def _is_full(text: str, line: Line, following: Line, width: int) -> bool:
    """A hard wrap breaks a line where the next word would no longer fit."""
    word = text[following.start : min(following.end, following.start + FIRST_WORD)].split(maxsplit=1)[0]
    return line.end - line.start + 1 + len(word) > width


def _find_wrap(text: str, blocks: Sequence[Sequence[Line]]) -> Wrap | None:
    """The width at which lines were hard-wrapped; None if every new line is the child's own."""
    pairs = [
        (a, b) for block in blocks for a, b in pairwise(block) if not LIST_ITEM.match(text, b.start) and not b.soft
    ]
    if not pairs:
        return None
    lengths = sorted(line.end - line.start for pair in pairs for line in pair)
    width = lengths[int(0.95 * (len(lengths) - 1))]  # one overlong address must not hide the margin
    if width > WIDEST_WRAP:
        return None
    mid = sum(_breaks_mid(text, a, b) for a, b in pairs)
    full = [a for a, b in pairs if _is_full(text, a, b, width)]
    unfinished = sum(not _ends_with_mark(text, a) for a in full)
    by_margin = width >= NARROWEST_WRAP and len(full) > 1 and unfinished >= FULL_UNFINISHED * len(full)
    if mid >= MID_SENTENCE * len(pairs) or by_margin:
        return Wrap(width, ragged=len(full) < mid / 2)
    return None


def _is_double_spaced(text: str, blocks: Sequence[Sequence[Line]]) -> bool:
    """Every line alone between blank lines, and many broken in mid-sentence: a double-spaced page."""
    if len(blocks) < DOUBLE_SPACED or any(len(block) > 1 for block in blocks):
        return False
    mid = sum(_breaks_mid(text, a[0], b[0]) for a, b in pairwise(blocks))
    return mid >= MID_SENTENCE * (len(blocks) - 1)
