"""What stands around the essay proper: heading block and title above it; The End, a signature or sources below."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from operator import or_
from typing import NamedTuple

from rubric_kit.reading.lists import word_list
from rubric_kit.reading.paragraphs import Line

MOST_LINES = 8  # a heading block of five lines, a title and a subtitle, and one to spare
LONGEST_HEADING = 60  # characters; also keeps every pattern below on short text
SHORTEST_TITLE = 3  # characters; a letter or two alone is a slip of the Enter key
LONGEST_TITLE = 90  # characters
LONGEST_PROMPT = 300  # characters; the question that the essay answers, copied above it
TITLE_WORDS = 14  # long titles of book reports included
NAME_WORDS = 3  # first, middle, last; initials do not count
PLAIN_TITLE_WORDS = 8  # in a title without capitals
SHOUTED_TITLE_WORDS = 3  # in a title with a period behind it: The Best Day Ever.
CENTRED = 8  # columns past the line below
MUCH_LONGER = 3  # times: a line this much longer below makes a plain short line a title
RECURRENCE = 3  # letters (owl, after its s): shorter words of a title recur by chance
BODY_LOOKED_AT = 20_000  # characters of the body searched for the title's words
SIGNATURE_LINES = 3

MONTH = r"(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*\.?"
WEEKDAY = r"(?:(?:mon|tues?|wed|wednes|thur?s?|fri|sat|satur|sun)(?:day)?\.?,?\s+)?"
DAY = r"\d{1,2}(?:st|nd|rd|th)?"
DATE = re.compile(
    rf"(?:{WEEKDAY}(?:{MONTH}\s+{DAY}(?:,?\s*(?:\d{{4}}|'\d\d))?|{DAY}(?:\s+of)?\s+{MONTH}(?:,?\s+\d{{4}})?|{MONTH},?\s+\d{{4}}"
    r"|\d{1,4}[./-]\d{1,2}[./-]\d{2,4}|\d{1,2}/\d{1,2})|(?:fall|spring|summer|winter|autumn)\s+\d{4})",
    re.IGNORECASE,
)
LABELLED_TITLE = re.compile(r"title\s*[:=]\s*(?=\S)", re.IGNORECASE)
CELLS = re.compile(r"[ \u00a0]*\t\s*|[ \u00a0]{3,}|\s+[-–—|•]\s+|\s*[|;]\s*|,\s+(?!\d{4}\b)")
NAME_PART = r"[A-Z][^\W\d_]*(?:['’-][^\W\d_]+)*"
NAME = re.compile(rf"{NAME_PART}(?:(?:\.\s*|\s+){NAME_PART})*\.?")
SHORT_NAME = re.compile(r"[A-Z][a-z]")
SALUTATION = re.compile(r"dear\b(?:[^.?!]|(?<=mr|ms|dr)\.|(?<=mrs)\.)+|to whom it may concern\W?", re.IGNORECASE)
SALUTATION_WORDS = 5  # Dear Mr. and Mrs. Brown; To whom it may concern
RUNNING_HEAD = re.compile(r"[A-Z][a-z]+\s+(?:page\s+)?\d{1,2}")
NUMBER_WORD = re.compile(r"[#\d]+(?:st|nd|rd|th)?[a-z]?", re.IGNORECASE)
TEACHER = re.compile(r"(?:mr|mrs|ms|miss|dr|prof|professor|coach|sister)\b\.?\s+[A-Z][\w'’-]*", re.IGNORECASE)
PROMPT = re.compile(
    r"(?:question|prompt|assignment|essay question|q)\s*(?:#?\s*\d+)?\s*[:.)=-]\s*(?=\S)", re.IGNORECASE
)
SENTENCE_LIKE = re.compile(r"[a-z]{3}[.!?]$|[.!?]\s+[a-z]")
UNFINISHED = re.compile(r"(?:[,;:–—…-]|\.\.)$")
SECOND_SENTENCE = re.compile(r"(?<!\bMr)(?<!\bMrs)(?<!\bMs)(?<!\bDr)(?<!\bSt)(?<!\bvs)(?<!\b[A-Z])[.?!]\s+\w")
WRAPPING = "#*_ \t\u00a0="
QUOTES = {'"': '"', "“": "”", "'": "'", "‘": "’"}
SIGNATURE_DASH = "-–—~ "


class Front(NamedTuple):
    """Spans (start, end) of heading and title, and how many lines they and nothing else take up."""

    heading: tuple[int, int] | None
    title: tuple[int, int] | None
    lines: int


class _Candidate(NamedTuple):
    line: Line
    text: str
    kind: str  # "heading", "title", or "name" (a subject's name as well) and "phrase", which may be either


def find_front(text: str, lines: Sequence[Line]) -> Front:
    """Heading and title at the top. A text of one line is an essay, never only a title."""
    candidates: list[_Candidate] = []
    block = _heading_block(text, lines)
    for place, (line, below) in enumerate(pairwise(lines[: MOST_LINES + 1])):
        kind = _kind(text, line, below)
        if place < block or (place == 0 and _is_short_name(text, lines)):
            kind = kind or "heading"
        elif kind == "phrase":  # a title below the block: what could have been one inside it was not
            candidates = [c._replace(kind="heading") if c.kind == "phrase" else c for c in candidates]
        if kind is None or (kind in ("title", "phrase") and any(c.kind in ("title", "phrase") for c in candidates)):
            break
        candidates.append(_Candidate(line, text[line.start : line.end], kind))
    body = text[lines[len(candidates)].start :][:BODY_LOOKED_AT].lower() if lines else ""
    title = _choose_title(candidates, body)
    heading = [c.line for c in candidates if c is not title]
    return Front(
        heading=(heading[0].start, heading[-1].end) if heading else None,
        title=_bare_title(text, title.line) if title else None,
        lines=len(candidates),
    )


def _heading_block(text: str, lines: Sequence[Line]) -> int:
    """How many lines stand together above the first gap or long line, all short, one of them surely of a heading.

    A name in the first line will do. The others are then of the heading too, whatever they say (Tutorial, Bear Creek
    Co-op, second try).
    """
    below = enumerate(lines[1 : MOST_LINES + 1], 1)
    gap = next((place for place, line in below if line.blanks or line.end - line.start > LONGEST_TITLE), 0)
    block = [text[line.start : line.end] for line in lines[:gap]]
    short = all(len(raw) <= LONGEST_HEADING and not SENTENCE_LIKE.search(raw) for raw in block)
    return gap if len(block) > 1 and short and (_is_name(block[0]) or any(map(_is_heading, block))) else 0


def _is_short_name(text: str, lines: Sequence[Line]) -> bool:
    """A first line such as Bo or Al: too short to be known for a name by itself, but with a title or heading below."""
    first = text[lines[0].start : lines[0].end]
    if len(lines) <= 2 or not SHORT_NAME.fullmatch(first):  # name, title, and an essay below them
        return False
    plain = any(first.lower() in word_list(name) for name in ("small_words", "sentence_starters", "sentence_openers"))
    return not plain and _kind(text, lines[1], lines[2]) in ("heading", "title", "phrase")


def body_end(text: str, lines: Sequence[Line]) -> int:
    """How many of the lines are left without The End, a signature, or a list of sources; at least one is."""
    count = len(lines)
    for place in range(1, count):
        if _is_listed(text, lines[place], "source_lists"):
            count = place
            break
    while count > 1 and _is_closing(text, lines[count - 1]):
        count -= 1
    for place in range(max(1, count - SIGNATURE_LINES), count):
        if text[lines[place].end - 1] == "," and _is_listed(text, lines[place], "sign_offs"):
            return place
    return count


def is_section_label(text: str, line: Line) -> bool:
    """A line that only labels a part of the essay ("Introduction", "Body Paragraph 1:"), or a Markdown heading."""
    return text.startswith("#", line.start) or _is_listed(text, line, "section_labels")


def _is_listed(text: str, line: Line, name: str) -> bool:
    if line.end - line.start > LONGEST_HEADING:
        return False
    return "_".join(re.findall(r"\w+", text[line.start : line.end].lower())) in word_list(name)


def _is_closing(text: str, line: Line) -> bool:
    raw = text[line.start : line.end]
    if _is_listed(text, line, "closings"):
        return True
    signed = raw[0] in SIGNATURE_DASH or line.blanks > 0
    return len(raw) <= LONGEST_HEADING and signed and (_is_byline(raw) or _is_known_name(raw.lstrip(SIGNATURE_DASH)))


def _choose_title(candidates: Sequence[_Candidate], body: str) -> _Candidate | None:
    """A marked title; else a phrase; else what looks like a name, but comes back in the body.

    A name that does not come back is a title only if it stands alone, or last and below another name.
    """
    marked = [c for c in candidates if c.kind == "title"]
    phrases = [c for c in candidates if c.kind == "phrase"]
    names = [c for c in candidates if c.kind == "name"]
    recurring = [c for c in names if _recurs(c.text, body)]
    first_choice = marked or phrases or recurring
    if first_choice or not names:
        return first_choice[0] if first_choice else None
    last = names[-1]
    person = _is_known_name(last.text) or TEACHER.fullmatch(last.text)
    alone = len(candidates) == 1
    below_a_name = len(names) > 1 and last is candidates[-1]
    return last if not person and (alone or below_a_name) else None


def _recurs(title: str, body: str) -> bool:
    """Does a word of some length come back in the body, in singular or plural?"""
    words = (word.lower().rstrip("s") for word in re.findall(r"[^\W\d_]+", title))
    wanted = [word for word in words if len(word) >= RECURRENCE and word not in word_list("small_words")]
    return any(re.search(rf"\b{word}", body) for word in wanted)


def _kind(text: str, line: Line, below: Line) -> str | None:  # noqa: PLR0911  # one line for each kind
    raw = text[line.start : line.end]
    if len(raw) <= LONGEST_PROMPT and PROMPT.match(raw):
        return "heading"
    if len(raw) > LONGEST_TITLE or _is_listed(text, line, "section_labels"):
        return None
    if raw.startswith("#") or LABELLED_TITLE.match(raw):
        return "title"
    if len(raw) <= LONGEST_HEADING and _is_heading(raw):
        return "heading"
    if len(raw) <= LONGEST_HEADING and (_is_name(raw) or raw.lower() in word_list("heading_words")):
        goes_on = not below.blanks and len(raw.split()) == 1 and text[below.start].islower()
        return None if goes_on else "name"
    if len(raw.split()) <= NAME_WORDS and NAME.fullmatch(raw) and DATE.fullmatch(text[below.start : below.end]):
        return "name"  # whatever the word means elsewhere (Wren, Rose, Hunter), above a date it is the writer
    return "phrase" if _is_title(text, line, below) else None


def _is_heading(raw: str) -> bool:
    """Every cell of the line is a label with its value, a date, a byline, a course or a grade, or a name beside one."""
    if _is_salutation(raw) or _is_byline(raw):
        return True
    if DATE.fullmatch(raw):
        return True
    cells = [cell for cell in CELLS.split(raw.rstrip(".")) if cell]
    sure = [bool(_label().match(c) or DATE.fullmatch(c) or RUNNING_HEAD.fullmatch(c) or _is_course(c)) for c in cells]
    beside = [_is_name(cell) or cell.lower() in word_list("heading_words") for cell in cells]
    return any(sure) and all(map(or_, sure, beside))


@cache
def _label() -> re.Pattern[str]:
    return re.compile(rf"(?:{'|'.join(word_list('heading_labels'))})\s*[:=#]", re.IGNORECASE)


def _is_salutation(raw: str) -> bool:
    return bool(SALUTATION.fullmatch(raw)) and len(raw.split()) <= SALUTATION_WORDS


def _is_byline(raw: str) -> bool:
    opening = re.match(r"(?:written\s+)?by:?\s+", raw.lower())
    return bool(opening and NAME.fullmatch(raw[opening.end() :]))


def _is_course(cell: str) -> bool:
    """Two or more words of a school heading, or one and a number; a teacher's name may stand with them."""
    rest = TEACHER.sub(" ", cell)
    words = re.findall(r"[#\w-]+", rest)
    words = [word for word in words if word != "s"]
    known = [word for word in words if word.lower() in word_list("heading_words")]
    if not known or not all(word in known or NUMBER_WORD.fullmatch(word) for word in words):
        return False
    return len(words) > 1 or rest != cell


def _is_name(raw: str) -> bool:
    """Up to three capitalised words, none of them one that only titles and sentences have."""
    if TEACHER.fullmatch(raw):
        return True
    words = [word for word in raw.split() if len(word.strip(".")) > 1]
    if not NAME.fullmatch(raw) or not 1 <= len(words) <= NAME_WORDS or raw.isupper():
        return False
    plain = [word.lower().strip(".") for word in words]
    with_initial = len(raw.split()) > 1
    return not any(w in word_list("small_words") or w in word_list("sentence_starters") for w in plain) and (
        with_initial or plain[0] in word_list("given_names")
    )


def _is_known_name(raw: str) -> bool:
    return _is_name(raw) and raw.split(maxsplit=1)[0].lower() in word_list("given_names")


def _is_title(text: str, line: Line, below: Line) -> bool:
    """A short line of its own, without an end mark or with ? or !, set off by capitals, place or a blank line."""
    raw = text[line.start : line.end]
    bare = raw.strip(WRAPPING).strip("\"“”'‘’")
    words = re.findall(r"\w[\w'’-]*", bare)
    if (
        len(bare) < SHORTEST_TITLE
        or len(words) > TITLE_WORDS
        or UNFINISHED.search(bare)
        or SECOND_SENTENCE.search(bare)
    ):
        return False
    set_off = below.blanks > 0
    begun = text[below.start].islower() and not set_off and not _is_byline(text[below.start : below.end])
    goes_on = text[below.start] in ",;" or begun
    capitals = _in_capitals(words)
    if bare[-1] == ".":
        shouted = sum(word[0].isupper() for word in words) >= SHOUTED_TITLE_WORDS
        return capitals and shouted and not any(word.lower() in word_list("sentence_openers") for word in words)
    if bare[-1] in "?!":
        return capitals and len(words) > 1
    if capitals or goes_on:
        return capitals and (len(words) > 1 or not goes_on)
    placed = line.indent >= below.indent + CENTRED or (raw[0] in "*_" and raw[-1] in "*_")
    much_longer = below.end - below.start >= MUCH_LONGER * len(raw)
    return placed or ((set_off or much_longer) and _is_plain_title(text, words, below))


def _in_capitals(words: Sequence[str]) -> bool:
    small = word_list("small_words")
    return not words[0][0].islower() and all(not word[0].islower() or word in small for word in words)


def _is_plain_title(text: str, words: Sequence[str], below: Line) -> bool:
    """In small letters: short, no sentence by its words, above a body that does have end marks."""
    plain = [word.lower() for word in words]
    asks = plain[0] in ("why", "how", "what", "when", "where", "who")
    tells = plain[0] in word_list("sentence_openers") or any(word in word_list("telling_words") for word in plain)
    punctuated = any(c in ".?!" for c in text[below.start : below.start + BODY_LOOKED_AT])
    return len(words) <= PLAIN_TITLE_WORDS and punctuated and (asks or not tells)


def _bare_title(text: str, line: Line) -> tuple[int, int]:
    """The title without its label, Markdown marks or quotation marks around the whole."""
    start, end = line.start, line.end
    label = LABELLED_TITLE.match(text, start, end)
    start = label.end() if label else start
    while start < end - 1 and text[start] in WRAPPING:
        start += 1
    while end > start + 1 and text[end - 1] in WRAPPING:
        end -= 1
    if end - start > 2 and QUOTES.get(text[start]) == text[end - 1]:
        return start + 1, end - 1
    return start, end
