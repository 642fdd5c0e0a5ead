"""A scored essay: every level with its sentences, its percent by hand, how sure, and one thing to try next."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from rubric_kit.errors import RubricFileError
from rubric_kit.measures.found import Found
from rubric_kit.reading import read_text
from rubric_kit.scoring.advice import stretch
from rubric_kit.scoring.cautions import FEWEST_WORDS
from rubric_kit.scoring.rubric import LEVELS
from rubric_kit.scoring.rubric_file import load_form, parse_rubric, shipped
from rubric_kit.scoring.score import AT_ITS_BEST, READER_SPREAD, next_step, score
from rubric_kit.scoring.sheet import Reason, ScoreSheet

ONE_CRITERION = """
name = "length only"
form = "paragraph"
version = 1
default_grade = 7
paragraphs = [1, 1]
[percent]
1 = 50
2 = 60
3 = 80
4 = 100
[letters]
"P" = 70
"N" = 0
[criterion.size]
name = "size"
weight = 100
not_judged = "nothing"
1 = "a"
2 = "b"
3 = "c"
4 = "d"
[[criterion.size.look_for]]
measure = "length"
weight = 3
grade_5 = [20, 40, 60, 80]
[[criterion.size.look_for]]
measure = "sentences_per_paragraph"
weight = 1
grade_5 = [1, 3, 5, 7]
"""
SENTENCE = "The old boat sank in the bay on that day. "  # ten words


def spans(sheet: ScoreSheet) -> list[Found]:
    steps = [c.next_step.sentence for c in sheet.criteria if c.next_step.sentence]
    return [*steps, *(f for c in sheet.criteria for f in c.evidence)]


def test_every_level_of_the_demo_year_cites_the_childs_own_words_exactly(samples: dict[str, ScoreSheet]) -> None:
    for sheet in samples.values():
        essay = sheet.measures.essay
        assert all(c.evidence for c in sheet.criteria)
        for found in spans(sheet):
            assert essay.text[found.start : found.end] == found.text != ""
            paragraph = essay.paragraphs[found.paragraph - 1]
            assert paragraph.start <= found.start < found.end <= paragraph.end


def test_evidence_is_in_the_order_of_the_text_and_none_is_there_twice(samples: dict[str, ScoreSheet]) -> None:
    for sheet in samples.values():
        for criterion in sheet.criteria:
            places = [(f.start, f.end, f.kind) for f in criterion.evidence]
            assert [p[:2] for p in places] == sorted(p[:2] for p in places)
            assert len(places) == len(set(places))


def test_a_reason_has_its_share_and_the_shares_make_one(samples: dict[str, ScoreSheet]) -> None:
    for sheet in samples.values():
        for criterion in sheet.criteria:
            assert sum(r.weight for r in criterion.reasons) == pytest.approx(1)
            by_hand = sum(r.level * r.weight for r in criterion.reasons)
            assert criterion.score == pytest.approx(by_hand, abs=0.02)
            assert criterion.level == math.floor(criterion.score + 0.5) or abs(criterion.score % 1 - 0.5) < 0.02
            assert [r.weight for r in criterion.reasons] == sorted((r.weight for r in criterion.reasons), reverse=True)


def test_percent_and_letter_follow_from_the_levels_by_hand(samples: dict[str, ScoreSheet]) -> None:
    for sheet in samples.values():
        worth = [sheet.rubric.percent[c.level] * c.weight for c in sheet.criteria]
        assert sheet.percent == pytest.approx(sum(worth) / 100, abs=0.051)
        assert sheet.letter == next(letter for least, letter in sheet.rubric.letters if sheet.percent >= least)


def test_a_whole_score_worked_out_by_hand() -> None:
    sheet = score(read_text(SENTENCE * 5), rubric=parse_rubric(ONE_CRITERION, "size.toml"))
    (size,) = sheet.criteria
    # 50 words lie midway between 40 (level 2) and 60 (level 3); 5 sentences are level 3. (2.5 * 3 + 3 * 1) / 4 = 2.625
    assert {r.measure: (r.value, r.level, r.weight) for r in size.reasons} == {
        "length": (50, 2.5, 0.75),
        "sentences_per_paragraph": (5, 3, 0.25),
    }
    assert size.score == pytest.approx(2.625, abs=0.006)
    assert (size.level, size.descriptor, sheet.percent, sheet.letter) == (3, "c", 80, "P")
    # The reader's level is 3 from 2.5 up to 3.5: normal distribution, then the share of the 60 words wanted.
    upto, above = (math.erf(z / READER_SPREAD / math.sqrt(2)) for z in (3.5 - 2.625, 2.625 - 2.5))
    assert size.sure == pytest.approx((upto + above) / 2 * 50 / 60, abs=0.006)


@pytest.mark.parametrize(
    ("heading", "grade", "at"),
    [
        ("Robin Ashe\nGrade 4\n\n", None, 4),
        ("Robin Ashe\n6th grade\n\n", None, 6),
        ("Robin Ashe\nGrade 4\n\n", 9, 9),
        ("", None, 8),
        ("Robin Ashe\nGrade 12\n\n", None, 8),
    ],
)
def test_the_grade_is_the_one_asked_for_else_the_headings_else_the_rubrics(
    heading: str, grade: int | None, at: int
) -> None:
    sheet = score(read_text(heading + SENTENCE * 6), grade)
    assert sheet.grade == at
    assert any("No grade was given" in c for c in sheet.cautions) == (at == 8)


@pytest.mark.parametrize("grade", [0, 2, 10, -8])
def test_a_grade_beyond_the_norms_is_refused(grade: int) -> None:
    with pytest.raises(ValueError, match="outside 3 to 9"):
        score(read_text(SENTENCE), grade)


def test_a_heading_is_not_asked_for_its_grade_within_other_words() -> None:
    assert score(read_text("Robin Ashe\nUpgrade 4\n\n" + SENTENCE * 6)).grade == 8


def test_the_form_chooses_the_rubric_and_a_rubric_brings_its_form() -> None:
    essay = read_text(SENTENCE * 6)
    assert score(essay).rubric.form == score(essay).measures.form == "five-paragraph"
    assert score(essay, form="narrative").rubric == load_form("narrative")
    assert score(essay, form="narrative").measures.form == "narrative"
    own = parse_rubric(ONE_CRITERION, "size.toml")
    assert score(essay, rubric=own).measures.form == "paragraph"
    assert score(essay, rubric=own).grade == 7
    both = score(essay, form="narrative", rubric=own)
    assert (both.rubric, both.measures.form) == (own, "narrative")


def test_an_unknown_form_is_told_with_those_there_are() -> None:
    with pytest.raises(RubricFileError, match="Choose one of"):
        score(read_text(SENTENCE), form="poem")


def test_the_same_essay_always_gets_the_same_sheet(bats: ScoreSheet) -> None:
    again = score(read_text(bats.measures.essay.text), grade=8)
    assert (again.criteria, again.percent, again.letter, again.cautions) == (
        bats.criteria,
        bats.percent,
        bats.letter,
        bats.cautions,
    )


def test_how_sure_lies_between_0_and_1_and_is_less_for_a_short_piece(samples: dict[str, ScoreSheet]) -> None:
    for sheet in [*samples.values(), score(read_text("Dogs run."))]:
        assert all(0 <= c.sure <= 1 for c in sheet.criteria)
    assert all(c.sure < 0.1 for c in score(read_text("Dogs run.")).criteria)


def test_a_next_step_is_tried_on_a_sentence_of_the_childs(samples: dict[str, ScoreSheet]) -> None:
    for sheet in samples.values():
        sentences = {(s.start, s.end) for s in sheet.measures.essay.sentences}
        for criterion in sheet.criteria:
            step = criterion.next_step
            assert step.what
            assert step.exercise
            assert step.child
            assert step.sentence is not None
            assert (step.sentence.start, step.sentence.end) in sentences


def test_where_nothing_is_lacking_the_next_step_is_a_stretch(bats: ScoreSheet) -> None:
    best = [Reason("length", 500, 4.0, 0.6, ""), Reason("thesis_found", 1, AT_ITS_BEST, 0.4, "")]
    for criterion in ("focus", "organization", "evidence", "sentences", "conventions"):
        assert next_step(criterion, best, bats.measures).what == stretch()[criterion]["teach"]
    assert next_step("a criterion of one's own", best, bats.measures).what == stretch()["other"]["teach"]


def test_the_next_step_is_about_what_costs_most(bats: ScoreSheet) -> None:
    light = Reason("length", 10, 1.0, 0.1, "")  # costs 3 levels * 0.1
    heavy = Reason("mtld", 10, 2.5, 0.9, "")  # costs 1.5 levels * 0.9
    assert "word used too often" in next_step("sentences", [light, heavy], bats.measures).what


def test_less_than_a_few_lines_earns_no_level_though_nothing_is_wrong_with_it() -> None:
    for words in ("Cat.", "Dogs are good.", "a " * (FEWEST_WORDS - 1)):
        assert {c.level for c in score(read_text(words), form="paragraph").criteria} == {LEVELS[0]}
    enough = "My dog Rex is brown. " * 6
    assert {c.level for c in score(read_text(enough), form="paragraph", grade=3).criteria} != {LEVELS[0]}


def test_a_measure_that_cannot_be_said_leaves_its_weight_to_the_others() -> None:
    text = shipped("five-paragraph").replace('measure = "length"', 'measure = "mtld"')
    sheet = score(read_text("My dog Rex is brown. " * 6), rubric=parse_rubric(text, "own.toml"))
    for criterion in sheet.criteria:
        assert sum(r.weight for r in criterion.reasons) == pytest.approx(1)


def test_cautions_name_what_is_special_first_and_end_with_what_always_holds(bats: ScoreSheet) -> None:
    assert any("no diagnosis" in c for c in bats.cautions)
    short = score(read_text("My dog Rex is brown. "), grade=5).cautions
    for words in ("small sample", "earn no level yet", "one unbroken block"):
        assert any(words in c for c in short)
    long = score(read_text("The dog is in the old barn. " * 500), grade=5).cautions
    assert any("longer than any essay" in c for c in long)


def test_a_sheet_finds_a_criterion_by_key_and_shows_its_words_as_words(bats: ScoreSheet) -> None:
    assert bats.criterion("focus").name == "focus and thesis"
    with pytest.raises(KeyError):
        bats.criterion("nothing")
    odd = replace(bats, letter="<script>")
    assert "<script>" not in odd._repr_html_()
    assert "&lt;script&gt;" in odd._repr_html_()
