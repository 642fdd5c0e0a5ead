"""What was done to each sentence between two drafts, down to the word."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Literal

from rubric_kit.reading import Essay
from rubric_kit.scoring.aligning import Link, align, plain

Kind = Literal["kept", "moved", "rewritten", "added", "cut", "split", "joined"]
WORD_OR_MARK = re.compile(r"[^\W_]+(?:['\u2019-][^\W_]+)*|[^\w\s]|_")


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of one draft, offsets in its text; ``start == end`` where nothing stands there.

    paragraph  the number of its paragraph, from 1
    """

    text: str
    start: int
    end: int
    paragraph: int


@dataclass(frozen=True, slots=True)
class Edit:
    """Words of the first draft and the words that stand for them in the second; one of the two may be empty."""

    before: Span
    after: Span


@dataclass(frozen=True, slots=True)
class Change:
    """What was done to a sentence; ``before`` and ``after`` are whole sentences, in order.

    kept       one on both sides, the same but for spaces and the shape of quotation marks
    moved      one on both sides, at another place in the order; its words may have changed too
    rewritten  one on both sides, with other words, spelling or marks
    added, cut one on one side only
    split      one before, two or more after; joined two or more before, one after
    edits      the words that changed, in the order of the second draft; none for kept, added and cut
    """

    kind: Kind
    before: tuple[Span, ...]
    after: tuple[Span, ...]
    edits: tuple[Edit, ...] = ()


def changes(before: Essay, after: Essay) -> tuple[Change, ...]:
    """Every sentence of both drafts, each once: in the order of the second, a cut one after what stood before it."""
    links = align(before, after)
    firsts, seconds = _sentences(before), _sentences(after)
    linked = [_linked(link, firsts, seconds, before, after) for link in links]
    kept = {i for link in links for i in link.before}
    came = {j for link in links for j in link.after}
    places = {i: link.after[-1] for link in links if not link.moved for i in link.before}
    rows = [((link.after[0], 0), change) for link, change in zip(links, linked, strict=True)]
    rows += [((j, 0), Change("added", (), (span,))) for j, span in enumerate(seconds) if j not in came]
    at = -1
    for i, span in enumerate(firsts):
        at = places.get(i, at)
        if i not in kept:
            rows.append(((at, 1), Change("cut", (span,), ())))
    return tuple(change for _, change in sorted(rows, key=lambda row: row[0]))


def _linked(link: Link, firsts: list[Span], seconds: list[Span], before: Essay, after: Essay) -> Change:
    ours, theirs = tuple(firsts[i] for i in link.before), tuple(seconds[j] for j in link.after)
    same = [plain(s.text) for s in ours] == [plain(s.text) for s in theirs]
    return Change(_kind(link, same), ours, theirs, () if same else tuple(_edits(ours, theirs, before, after)))


def _kind(link: Link, same: bool) -> Kind:
    if len(link.after) > 1:
        return "split"
    if len(link.before) > 1:
        return "joined"
    if link.moved:
        return "moved"
    return "kept" if same else "rewritten"


def _edits(ours: tuple[Span, ...], theirs: tuple[Span, ...], before: Essay, after: Essay) -> Iterator[Edit]:
    old = [m for span in ours for m in _words(span)]
    new = [m for span in theirs for m in _words(span)]
    matcher = SequenceMatcher(None, [plain(s.text) for s in old], [plain(s.text) for s in new], autojunk=False)
    for what, i, to_i, j, to_j in matcher.get_opcodes():
        if what != "equal":
            yield Edit(_stretch(old, i, to_i, ours, before), _stretch(new, j, to_j, theirs, after))


def _words(span: Span) -> Iterator[Span]:
    for match in WORD_OR_MARK.finditer(span.text):
        yield Span(match[0], span.start + match.start(), span.start + match.end(), span.paragraph)


def _stretch(words: list[Span], first: int, last: int, whole: tuple[Span, ...], essay: Essay) -> Span:
    """From the first of some words to the last; an empty place before the next word where there are none."""
    if first == last:
        at = words[first - 1].end if first else whole[0].start
        paragraph = words[first - 1].paragraph if first else whole[0].paragraph
        return Span("", at, at, paragraph)
    start, end = words[first].start, words[last - 1].end
    return Span(essay.text[start:end], start, end, words[first].paragraph)


def _sentences(essay: Essay) -> list[Span]:
    starts = [p.start for p in essay.paragraphs]
    return [Span(essay.text[s.start : s.end], s.start, s.end, bisect_right(starts, s.start)) for s in essay.sentences]
