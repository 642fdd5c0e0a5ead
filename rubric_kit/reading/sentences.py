"""Sentences: what the child ended with . ? or ! or with the paragraph.

A quotation and its "he said" are one sentence; each sentence inside a longer quotation counts by itself. Abbreviations,
decimals, list numbers and an ellipsis inside a sentence do not end one; a colon, a semicolon or a dash never does,
save a dash that breaks off a quotation.
A list item on a line of its own is ended by its line once it is long enough to be a sentence.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator

from rubric_kit.reading.essay import Sentence, Word
from rubric_kit.reading.marks import Mark, ends_sentence
from rubric_kit.reading.words import EMOTICON, find_words

ENDERS = ".?!…‽。！？؟।"
CLOSERS = "\"'”’»)\\]}*_」』"
CITATION = r"(?<=[\"”’'])\s?\((?:[^()\n]{0,60}\D)?\d[^()\n]{0,20}\)[.?!]?"  # (12), (p. 12), (Smith 45): on one line
BROKEN_OFF = r"(?:[—–]|--)[\"”](?=\s)"  # speech that is interrupted ends its sentence: "Is it--" "It's me."
FOOTNOTE = r"\[\d{1,3}\]"
RUN = re.compile(
    rf"([{ENDERS}](?:[{ENDERS}{CLOSERS}]|[ \u00a0][{ENDERS}](?!\w))*|{BROKEN_OFF})(?:{CITATION}|{FOOTNOTE})?"
)
# A smiley behind the end mark belongs to the sentence that it comments on.
SMILEYS = re.compile(rf"(?:[ \u00a0]*(?:{EMOTICON}|[\u2190-\u2bff\ufe0f\u200d\U0001f000-\U0001faff]))*")
DOUBLE_QUOTE = re.compile('["“”«»]')
ITEM = re.compile(
    r"(?<=[\r\n\v\u2028])[^\S\r\n]*(?:[-*•–◦▪‣]|\(?\d{1,2}[.)]|\(?[A-Za-z][.)])[^\S\r\n]+(?=[\"'“‘(]?[A-Z])"
)
ITEM_NUMBER = re.compile(r"\(?(?:\d{1,2}|[A-Za-z])[.)]\s")
SENTENCE_ITEM = 3  # marker and words: an item no longer ("- two eggs") is a part of the sentence that leads in
# A small letter behind a quotation is no slip ("Yes." he said), so there only capitals count.
PERIOD_START = re.compile(r"[a-z]{2}(?:\.\s+[\"“‘(]?(?:([A-Z])|[a-z])|[.?!][\"”’)]+\s+[\"“‘(]*([A-Z]))")
CAPITALS_SEEN = 3  # sentence starts needed before a writer is known to use capitals
CAPITALS_SHARE = 0.9  # and the share of them that have one


def writes_capitals(text: str) -> bool:
    """True if this writer nearly always starts a sentence with a capital."""
    starts = [match.lastindex is not None for match in PERIOD_START.finditer(text)]
    return sum(starts) >= max(CAPITALS_SEEN, CAPITALS_SHARE * len(starts))


def find_sentences(text: str, start: int, end: int, *, careful: bool = False) -> tuple[Sentence, ...]:
    """The sentences of the paragraph ``text[start:end]``, in order; none is without a word. Offsets index ``text``.

    ``careful``: the writer starts sentences with a capital (see ``writes_capitals``).
    """
    sentences = []
    for piece_start, piece_end in _pieces(text, start, end):
        words = find_words(text, piece_start, piece_end)
        first, here = 0, piece_start
        for last, cut in (*_cuts(text, piece_start, piece_end, words, careful), (len(words), piece_end)):
            if last > first:
                sentences.append(_sentence(text, here, cut, words[first:last]))
            first, here = last, cut
    return tuple(sentences)


def _pieces(text: str, start: int, end: int) -> Iterator[tuple[int, int]]:
    """The paragraph in one piece, or cut in front of those list items that follow a whole sentence."""
    length, seen = 0, start  # words of the piece so far, counted up to here
    for item in ITEM.finditer(text, start, end):
        before = text[seen : item.start()].split()
        length, seen = length + len(before), item.start()
        if length > SENTENCE_ITEM and before[-1][-1] not in ":,;":
            yield start, seen
            start, length = seen, 0
    yield start, end


def _sentence(text: str, start: int, end: int, words: tuple[Word, ...]) -> Sentence:
    """Trim the white space; the number of a list item is no running text, so no word (Flesch)."""
    while text[start].isspace():
        start += 1
    while text[end - 1].isspace():
        end -= 1
    numbered = len(words) > 1 and ITEM_NUMBER.match(text, start, end)
    return Sentence(start, end, words[1:] if numbered else words)


def _cuts(text: str, start: int, end: int, words: tuple[Word, ...], careful: bool) -> Iterator[tuple[int, int]]:
    """Where a sentence is over with another one behind it: the number of words, and the place, up to there."""
    places, openings = _quotations(text, start, end)
    starts = [word.start for word in words]
    first = 0
    for match in RUN.finditer(text, start, end):
        last = bisect_left(starts, match.start()) - 1
        if last < first or match.start() < words[last].end - 1:  # no word yet, or inside 3.5 or U.S.
            continue
        quoted = openings[bisect_left(places, match.start())]
        run, run_end = match.group(1), match.end()
        if quoted is None and run[-1] in "\"'" and run_end == match.end(1) and text[run_end : run_end + 1].isalnum():
            run, run_end = run[:-1], run_end - 1  # it opens the next quotation: He ran."Stop!"
        following = bisect_left(starts, run_end, lo=last + 1)
        if following > last + 1 and starts[last + 1] < match.end(1):  # the point belongs to the next word, as in .5
            continue
        if following == len(words):
            return
        if ends_sentence(Mark(text, words, first, last, following, run, run_end, quoted, careful)):
            first = following
            yield following, SMILEYS.match(text, run_end, end).end()  # type: ignore[union-attr]


def _quotations(text: str, start: int, end: int) -> tuple[list[int], list[int | None]]:
    """The places of the double quotation marks, and for each stretch between them where its quotation opened."""
    places: list[int] = []
    openings: list[int | None] = [None]
    for match in DOUBLE_QUOTE.finditer(text, start, end):
        place = match.start()
        opens = match.group() in "“«" or (match.group() == '"' and _opens(text, start, end, place, openings[-1]))
        places.append(place)
        openings.append(place if opens else None)
    return places, openings


def _opens(text: str, start: int, end: int, place: int, opened: int | None) -> bool:
    """Does this straight mark open a quotation? By the space on its outer side; else by turns."""
    space_before = place == start or text[place - 1].isspace() or text[place - 1] in "([—-"
    space_after = place + 1 >= end or text[place + 1].isspace()
    return opened is None if space_before == space_after else space_before
