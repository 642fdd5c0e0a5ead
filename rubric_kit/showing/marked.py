"""The child's text cut into pieces that carry their labels; put together again the pieces are the text itself."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rubric_kit.measures.found import Found
from rubric_kit.measures.measured import Measures
from rubric_kit.reading import Essay, Paragraph
from rubric_kit.showing.inert import inert
from rubric_kit.showing.labels import Label, labels

NOT_COUNTED = "not counted"


@dataclass(frozen=True, slots=True)
class Mark:
    """A found thing with its label; offsets in the essay's text."""

    found: Found
    label: Label


@dataclass(frozen=True, slots=True)
class Tag:
    """A label as it stands in the text."""

    words: str
    family: str


@dataclass(frozen=True, slots=True)
class Piece:
    """Some characters under the same marks.

    whole, phrase  how it is drawn: the family of its sentence, and of the word or phrase; "" for none
    before, after  labels of sentences that begin with it, and of words or phrases that end with it
    """

    text: str
    whole: str
    phrase: str
    before: tuple[Tag, ...]
    after: tuple[Tag, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """A sentence (``anchor`` names it on the page) or what stands between two (``anchor`` is "")."""

    anchor: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Block:
    """A paragraph of the essay with its number and role, or a block that is not counted (number 0)."""

    kind: str
    number: int
    lines: tuple[Line, ...]


def marks_of(measured: Measures) -> tuple[Mark, ...]:
    """Every found thing of the structure and the mechanics that the labels name."""
    structure, mechanics = labels("structure"), labels("mechanics")
    topics = (p.topic_sentence for p in measured.structure.paragraphs)
    marks = [Mark(f, structure["topic_sentence"]) for f in topics if f]
    for name in structure.keys() - {"topic_sentence"}:
        found = getattr(measured.structure, name)
        items = (found,) if isinstance(found, Found) else found or ()
        marks += [Mark(f, structure[name]) for f in items]
    for name, label in mechanics.items():
        marks += [Mark(f, label) for f in getattr(measured.mechanics, name)]
    return tuple(sorted(marks, key=lambda m: (m.found.start, m.label.rank)))


def sentence_anchor(paragraph: int, sentence: int) -> str:
    return f"s{paragraph}-{sentence}"


def marked_essay(essay: Essay, marks: Iterable[Mark]) -> tuple[Block, ...]:
    """The whole text in order: heading, title, paragraphs, and whatever was left out of the counts."""
    every = sorted(marks, key=_start)
    blocks: list[Block] = []
    done = 0
    for number, paragraph in enumerate(essay.paragraphs, start=1):
        blocks += _uncounted(essay, done, paragraph.start)
        here = _between(every, paragraph.start, paragraph.end)
        blocks.append(Block("paragraph", number, tuple(_lines(essay, paragraph, number, here))))
        done = paragraph.end
    return (*blocks, *_uncounted(essay, done, len(essay.text)))


def _uncounted(essay: Essay, start: int, end: int) -> Iterator[Block]:
    """The heading and the title in a gap between paragraphs, and whatever else of it is not blank."""
    named = [(b.start, b.end, kind) for b, kind in ((essay.heading, "heading"), (essay.title, "title")) if b]
    inside = sorted(n for n in named if start <= n[0] < end)
    for block_start, block_end, kind in (*inside, (end, end, "")):
        yield from _plain(essay.text[start:block_start], NOT_COUNTED)
        yield from _plain(essay.text[block_start:block_end], kind)
        start = block_end


def _plain(text: str, kind: str) -> Iterator[Block]:
    """A block of unmarked lines, or nothing where there are none."""
    lines = [Line("", (Piece(inert(line.strip()), "", "", (), ()),)) for line in text.splitlines() if line.strip()]
    if lines:
        yield Block(kind, 0, tuple(lines))


def _lines(essay: Essay, paragraph: Paragraph, number: int, marks: Sequence[Mark]) -> Iterator[Line]:
    longest = max((m.found.end - m.found.start for m in marks), default=0)

    def line(anchor: str, start: int, end: int) -> Line:
        return Line(anchor, tuple(pieces(essay.text, start, end, _between(marks, start - longest, end))))

    done = paragraph.start
    for index, sentence in enumerate(paragraph.sentences, start=1):
        if sentence.start > done:
            yield line("", done, sentence.start)
        yield line(sentence_anchor(number, index), sentence.start, sentence.end)
        done = sentence.end
    if paragraph.end > done:
        yield line("", done, paragraph.end)


def _between(marks: Sequence[Mark], first: int, last: int) -> Sequence[Mark]:
    """Of marks in order those that begin from the first to the last of these places."""
    return marks[bisect_left(marks, first, key=_start) : bisect_right(marks, last, key=_start)]


def _start(mark: Mark) -> int:
    return mark.found.start


def pieces(text: str, start: int, end: int, marks: Iterable[Mark]) -> Iterator[Piece]:
    """Cut ``text[start:end]`` wherever a mark begins or ends. A mark's label stands at its own first or last piece."""
    here = [m for m in marks if _touches(m.found, start, end)]
    cuts = {start, end} | {at for m in here for at in (m.found.start, m.found.end) if start < at < end}
    for left, right in pairwise(sorted(cuts)):
        over = [m.label for m in here if m.found.start < right and m.found.end > left]
        yield Piece(
            text=inert(text[left:right]),
            whole=_first(sorted((label for label in over if label.whole), key=lambda label: label.rank)),
            phrase=_first(sorted((label for label in over if not label.whole), key=lambda label: -label.rank)),
            before=_tags(m for m in here if m.label.whole and m.found.start == left),
            after=_tags(m for m in here if not m.label.whole and m.found.end == right),
        )


def _touches(found: Found, start: int, end: int) -> bool:
    if found.start == found.end:  # something is missing at this place, such as an end mark
        return start < found.end <= end
    return found.start < end and found.end > start


def _first(ordered: list[Label]) -> str:
    return ordered[0].family if ordered else ""


def _tags(marks: Iterable[Mark]) -> tuple[Tag, ...]:
    return tuple(dict.fromkeys(Tag(m.label.words(m.found), m.label.family) for m in marks))
