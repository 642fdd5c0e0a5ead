"""From the lines of pages to running text: paragraphs by indents and gaps, divided words made whole.

A page knows no paragraphs, only where each line stands. Lines stay lines, and a blank line is put where the page shows
a new paragraph: a wider gap, an indent, a change of size, a short line at the foot of a page. A word divided at a
line's end is made whole; page numbers and lines that recur on every page are left out.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median_low

# Set by what word processors do (a first line goes in by 18 points or more; space after a paragraph is 6 points or
# more, a fifth of a double-spaced line) and checked on pages that typst sets (tests/reading/test_pdf_files.py).
SAME_LINE = 0.5  # of the letter size: less up or down is the same line (raised letters, other fonts)
WIDER_GAP = 1.15  # of the usual distance between lines
INDENT = 0.8  # of the letter size
CENTRED = 4.0  # of the letter size: further in than that is no first line of a paragraph
OTHER_SIZE = 1.1  # of the letter size of the line before
SHORT_LINE = 0.75  # of the longest line, in characters
ROOM = 0.9  # of the longest line: a full line with the next word is longer than that

HYPHENS = "-\u00ad\u2010"
DIVIDED = re.compile(rf"(?<!\w)(\w+)[{HYPHENS}]$")  # from the word's start only, so that it stays linear
# Zipf frequency, log10 of times per billion words. A hyphen between two known words stays unless the two together are a
# word too, and not much rarer than its halves, as misspelt compounds are ("wellknown").
KNOWN_WORD = 2.0
RARER_THAN_ITS_HALVES = 2.0


@dataclass(slots=True)
class Line:
    """One line of a page: ``x``, ``y`` of its start and ``size`` of its letters in points; ``y`` grows upwards.

    ``length``: characters on the page, before a divided word is made whole.
    """

    page: int
    x: float
    y: float
    size: float
    text: str
    length: int = 0


def text_of_lines(lines: Sequence[Line]) -> str:
    """The running text of the lines of all pages, a blank line between paragraphs."""
    kept = _without_running_heads(lines)
    for line in kept:
        line.length = len(line.text)
    return _in_paragraphs(_without_divided_words(kept))


def _without_running_heads(lines: Sequence[Line]) -> list[Line]:
    """Drop, at the head and foot of pages, bare page numbers and what recurs with at most its number changed."""
    pages: dict[int, list[Line]] = {}
    for line in lines:
        pages.setdefault(line.page, []).append(line)
    edges = [edge for page in pages.values() for edge in _edges(page)]
    seen = Counter((_but_its_number(edge.text), round(edge.y)) for edge in edges)
    dropped = {
        id(edge)
        for edge in edges
        if _but_its_number(edge.text) == "#" or seen[_but_its_number(edge.text), round(edge.y)] > 1 < len(pages)
    }
    return [line for line in lines if id(line) not in dropped]


def _edges(page: Sequence[Line]) -> tuple[Line, ...]:
    """The highest and the lowest line of a page; one line where the page has no more."""
    by_height = sorted(page, key=lambda line: line.y)
    return (by_height[0], by_height[-1]) if len(page) > 1 else (by_height[0],)


def _but_its_number(text: str) -> str:
    return re.sub(r"\d+", "#", text.strip().strip("-–— "))


def _without_divided_words(lines: Sequence[Line]) -> list[Line]:
    """Make a word divided at a line's end whole, on the line where it begins; other odd hyphens become plain ones."""
    whole: list[Line] = []
    for line in lines:
        divided = DIVIDED.search(whole[-1].text.rstrip()) if whole else None
        rest = re.match(r"\s*(\w+\S*)\s*", line.text)
        if divided and rest and rest[1][0].islower():
            before = whole[-1]
            hyphen = "" if _is_one_word(divided[1], rest[1]) else "-"
            before.text = before.text.rstrip().rstrip(HYPHENS) + hyphen + rest[1]
            line.text = line.text[rest.end() :]
        if line.text.strip():
            whole.append(line)
    for line in whole:
        line.text = line.text.replace("\u00ad", "-").replace("\u2010", "-").rstrip()
    return whole


def _is_one_word(first: str, second: str) -> bool:
    """Whether the hyphen came from the line's end ("remem-ber") rather than from the writer ("well-known")."""
    from wordfreq import zipf_frequency

    halves = (first, re.split(r"\W", second, maxsplit=1)[0])
    rarer_half = min(zipf_frequency(half, "en") for half in halves)
    together = zipf_frequency("".join(halves), "en")
    return rarer_half < KNOWN_WORD or together >= max(KNOWN_WORD, rarer_half - RARER_THAN_ITS_HALVES)


def _in_paragraphs(lines: Sequence[Line]) -> str:
    """Lines that fill the page run on with a space; after a short one the new line is kept, as the writer's own."""
    if not lines:
        return ""
    page = _Page.of(lines)
    pieces = [lines[0].text.strip()]
    for before, line in pairwise(lines):
        if page.begins_paragraph(before, line):
            pieces.append("\n\n")
        else:
            pieces.append("\n" if page.is_short(before) else " ")
        pieces.append(line.text.strip())
    return "".join(pieces)


@dataclass(frozen=True, slots=True)
class _Page:
    """What is usual on these pages: left margin and distance of lines in points, the longest line in characters."""

    margin: float
    gap: float
    longest: int
    indents: bool  # paragraphs begin with one

    @classmethod
    def of(cls, lines: Sequence[Line]) -> _Page:
        longest = max(line.length for line in lines)
        margin = min(line.x for line in lines)
        indented = [line for line in lines if INDENT * line.size < line.x - margin <= CENTRED * line.size]
        pairs = [(a, b) for a, b in pairwise(lines) if a.page == b.page and a.y > b.y]
        # the line after a full one goes on in the same paragraph, as a rule
        gaps = [a.y - b.y for a, b in pairs if a.length >= SHORT_LINE * longest] or [a.y - b.y for a, b in pairs]
        return cls(margin, median_low(gaps) if gaps else 0.0, longest, len(indented) > 1)

    def is_short(self, line: Line) -> bool:
        """The line ends well before the longest ones do, so the writer may have ended it."""
        return line.length < SHORT_LINE * self.longest

    def begins_paragraph(self, before: Line, line: Line) -> bool:
        if max(before.size, line.size) > OTHER_SIZE * min(before.size, line.size):
            return True
        indent, indent_before = line.x - self.margin, before.x - self.margin
        least = INDENT * line.size
        ended = before.text.rstrip("\"'”’)").endswith((".", "?", "!"))
        if indent > least and (self.is_short(before) or ended or abs(indent - indent_before) > least):
            return True
        if indent_before > CENTRED * before.size and self.is_short(before) and indent <= least:
            return True
        if before.page != line.page or before.y < line.y:
            with_next_word = before.length + 1 + len(line.text.split()[0])
            return ended and not self.indents and with_next_word < ROOM * self.longest
        return before.y - line.y > WIDER_GAP * self.gap
