# ruff: noqa: PT017  (no error is as good as one that is fit to show)
"""Whatever characters a text is made of: places are right, counts make sense, and a score is a score."""

from __future__ import annotations

import json
import math
import re
import sys
from dataclasses import fields
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from rubric_kit.errors import RubricKitError
from rubric_kit.measures.counts import Counts, count
from rubric_kit.measures.found import Found
from rubric_kit.measures.readability import readability
from rubric_kit.reading import Essay, read_bytes, read_text
from rubric_kit.reading.layout import essay_from_text
from rubric_kit.reading.sentences import find_sentences
from rubric_kit.reading.words import find_words
from rubric_kit.scoring.as_json import as_json
from rubric_kit.scoring.feedback import feedback
from rubric_kit.scoring.score import score
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.html import page_html
from rubric_kit.showing.pdf import page_pdf
from rubric_kit.showing.terminal import print_sheet

sys.path.insert(0, str(Path(__file__).parent))
from any_text import FRONT, anything, essay, mixed, paragraph

QUICK = settings(max_examples=150, deadline=None, derandomize=True)
SCORED = settings(
    max_examples=25, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
THOROUGH = settings(SCORED, max_examples=150)
FORMS = ("paragraph", "three-paragraph", "five-paragraph", "narrative")
ADDED_UP = (
    "paragraphs",
    "sentences",
    "words",
    "syllables",
    "letters",
    "characters",
    "monosyllables",
    "polysyllables",
    "long_words",
)
PER_WORD = ("flesch_reading_ease", "flesch_kincaid_grade", "automated_readability", "coleman_liau", "lix", "rix")


def check_places(made: Essay) -> None:
    """Paragraphs, sentences and words lie inside what holds them, in order, apart, and are the text that they name."""
    blocks = [block for block in (made.heading, made.title) if block]
    assert all(0 <= block.start < block.end <= len(made.text) for block in blocks)
    assert all(block.end <= made.paragraphs[0].start for block in blocks if made.paragraphs)
    check_order([(p.start, p.end) for p in made.paragraphs], 0, len(made.text))
    for each in made.paragraphs:
        check_order([(s.start, s.end) for s in each.sentences], each.start, each.end)
        for inner in each.sentences:
            assert inner.words
            check_order([(w.start, w.end) for w in inner.words], inner.start, inner.end)
            assert all(made.text[w.start : w.end] == w.text for w in inner.words)


def check_order(spans: list[tuple[int, int]], start: int, end: int) -> None:
    assert all(start <= a < b <= end for a, b in spans), (spans, start, end)
    assert all(one[1] <= other[0] for one, other in pairwise(spans)), spans


def check_counts(counts: Counts) -> None:
    values = {field.name: getattr(counts, field.name) for field in fields(counts)}
    assert all(isinstance(value, int) and value >= 0 for value in values.values()), values
    assert counts.syllables >= counts.words >= counts.sentences >= counts.paragraphs
    assert counts.monosyllables + counts.polysyllables <= counts.words
    assert max(counts.complex_words, counts.hard_words) <= counts.polysyllables
    assert max(counts.unfamiliar, counts.long_words, counts.spache_unfamiliar) <= counts.words
    assert counts.letters <= counts.characters


@given(st.one_of(anything, mixed, essay))
@QUICK
def test_any_text_is_an_essay_with_right_places_or_is_told(text: str) -> None:
    try:
        made = read_text(text)
    except RubricKitError as error:
        assert str(error).isprintable()
        return
    assert len(made.text) == len(text.removeprefix("\ufeff"))
    check_places(made)
    check_counts(count(made))


@given(st.one_of(anything, mixed))
@QUICK
def test_layout_sentences_and_words_take_any_text_as_it_is(text: str) -> None:
    made = essay_from_text(text, "a.txt")
    assert made.text == text
    check_places(made)
    check_counts(count(made))
    inside = len(text) // 3, len(text) - len(text) // 4
    for start, end in ((0, len(text)), inside):
        check_order([(w.start, w.end) for w in find_words(text, start, end)], start, max(end, start))
        check_order([(s.start, s.end) for s in find_sentences(text, start, end)], start, max(end, start))


@given(st.binary(max_size=400), st.sampled_from(("a.txt", "a.md", "a.docx", "a.odt", "a.rtf", "a.pdf")))
@QUICK
def test_any_bytes_are_an_essay_or_are_told(data: bytes, name: str) -> None:
    beginnings = {"a.rtf": b"{\\rtf1 ", "a.pdf": b"%PDF-1.7\n", "a.docx": b"PK\x03\x04", "a.odt": b"PK\x03\x04"}
    for content in (data, beginnings.get(name, b"\xff\xfe") + data, beginnings.get(name, b"\xfe\xff") + data + b"}"):
        try:
            check_places(read_bytes(content, name))
        except RubricKitError as error:
            assert str(error).isprintable()


@given(mixed, paragraph)
@QUICK
def test_a_sentence_more_never_lowers_the_number_of_words(text: str, opening: str) -> None:
    before = count(essay_from_text(f"{FRONT}{opening}\n\n{text}", "a.txt"))
    after = count(essay_from_text(f"{FRONT}{opening}\n\n{text}\n\nThe old boat had sunk there.", "a.txt"))
    assert after.words >= before.words


@given(st.lists(paragraph, min_size=2, max_size=5))
@QUICK
def test_the_counts_of_paragraphs_add_up_to_those_of_the_essay(paragraphs: list[str]) -> None:
    apart = [count(essay_from_text(FRONT + each, "a.txt")) for each in paragraphs]
    together = count(essay_from_text(FRONT + "\n\n".join(paragraphs), "a.txt"))
    for name in ADDED_UP:
        assert getattr(together, name) == sum(getattr(each, name) for each in apart), name


@given(st.lists(paragraph, min_size=1, max_size=3), st.integers(2, 4))
@QUICK
def test_a_text_written_twice_is_as_easy_to_read(paragraphs: list[str], times: int) -> None:
    once = readability(count(essay_from_text(FRONT + "\n\n".join(paragraphs), "a.txt")))
    often = readability(count(essay_from_text(FRONT + "\n\n".join(paragraphs * times), "a.txt")))
    for name in PER_WORD:
        one, other = once[name].value, often[name].value
        assert one is not None
        assert other is not None
        assert math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9), name


@given(st.lists(paragraph, min_size=1, max_size=3))
@QUICK
def test_line_ends_blank_lines_curly_marks_and_blanks_at_the_end_change_no_count(paragraphs: list[str]) -> None:
    text = FRONT + "\n\n".join(paragraphs)
    plain = count(read_text(text))
    for other in (
        text.replace("\n", "\r\n"),
        text.replace("\n", "\r"),
        text + " \n\n\n",
        "\ufeff" + text,
        text.replace("\n\n", "\n\n\n\n"),
        text.replace("'", "’"),
        re.sub("\n", "  \n", text),
    ):
        assert count(read_text(other)) == plain, repr(other)


def check_sheet(sheet: ScoreSheet) -> None:
    made, percent = sheet.measures.essay, sheet.rubric.percent
    assert min(percent.values()) <= sheet.percent <= max(percent.values())
    assert sheet.letter in {letter for _, letter in sheet.rubric.letters}
    for criterion in sheet.criteria:
        assert criterion.level in (1, 2, 3, 4)
        assert 0 <= criterion.sure <= 1
        assert all(made.text[f.start : f.end] == f.text for f in criterion.evidence if isinstance(f, Found))
    for result in sheet.measures.values():
        assert result.value is None or math.isfinite(result.value), result
        assert result.value is not None or result.why_not, result
    mechanics = sheet.measures.mechanics
    for found in (each for field in fields(mechanics) for each in getattr(mechanics, field.name)):
        assert made.text[found.start : found.end] == found.text


def score_and_show(text: str, form: str, grade: int, capsys: pytest.CaptureFixture[str]) -> ScoreSheet | None:
    try:
        sheet = score(read_text(text), grade, form)
    except RubricKitError as error:
        assert str(error).isprintable()
        return None
    check_sheet(sheet)
    json.loads(json.dumps(as_json(sheet), allow_nan=False))
    told = feedback(sheet)
    assert told.child
    assert told.parent
    page_html(sheet).encode("utf-8")
    print_sheet(sheet)
    assert not {"\x1b", "\u202e", "\u2066", "\0"} & set(capsys.readouterr().out)
    return sheet


@given(essay, st.sampled_from(FORMS), st.integers(3, 9))
@SCORED
def test_an_essay_with_any_characters_in_it_is_scored_and_shown(
    capsys: pytest.CaptureFixture[str], text: str, form: str, grade: int
) -> None:
    sheet = score_and_show(text, form, grade, capsys)
    if sheet and len(text) % 3 == 0:  # setting a page takes longer than scoring
        assert page_pdf(sheet).startswith(b"%PDF-")


@pytest.mark.slow
@given(essay, st.sampled_from(FORMS), st.integers(3, 9))
@THOROUGH
def test_many_essays_with_any_characters_in_them_are_scored_and_shown(
    capsys: pytest.CaptureFixture[str], text: str, form: str, grade: int
) -> None:
    sheet = score_and_show(text, form, grade, capsys)
    assume(sheet)
    assert page_pdf(sheet).startswith(b"%PDF-")
