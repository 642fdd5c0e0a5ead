"""Feedback: in words no harder than the child's grade, one strength, one or two steps, and the child's own words."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from rubric_kit.measures.found import Found
from rubric_kit.reading import read_text
from rubric_kit.scoring.advice import advice, stretch
from rubric_kit.scoring.feedback import feedback, grade_of, strengths, sure_in_words
from rubric_kit.scoring.rubric import GRADES
from rubric_kit.scoring.score import score
from rubric_kit.scoring.sheet import CriterionScore, NextStep, Reason, ScoreSheet

LONG = (
    "Notwithstanding the extraordinary circumstances surrounding the expedition, the unfortunate mountaineers "
    "unanimously determined to continue ascending immediately, considering every alternative unsatisfactory."
)
TUNE = Path(__file__).parents[1] / "labelled" / "tune"
QUOTED = re.compile("“([^”]*)”")
GOOD, POOR = 4.0, 1.0
every_grade = pytest.mark.parametrize("grade", GRADES)


@pytest.fixture(scope="module")
def hard() -> ScoreSheet:
    """Five paragraphs of one long sentence of long words each."""
    return score(read_text("\n\n".join([LONG] * 5)), grade=8)


def told(sheet: ScoreSheet, grade: int, reason: Reason, *steps: NextStep) -> tuple[str, ...]:
    """The child's part for a sheet whose criteria have this one reason and these next steps."""
    criteria = tuple(
        replace(sheet.criteria[n], level=2, score=2.0, reasons=(reason,), next_step=step)
        for n, step in enumerate(steps)
    )
    return feedback(replace(sheet, grade=grade, criteria=criteria)).child


def step(row: dict[str, str], sheet: ScoreSheet) -> NextStep:
    first = sheet.measures.essay.sentences[0]
    text = sheet.measures.essay.text[first.start : first.end]
    return NextStep(row["teach"], row["exercise"], row["try"], Found(text, first.start, first.end, "sentence", "", 1))


def check(lines: tuple[str, ...], sheet: ScoreSheet, grade: int) -> None:
    assert grade_of(lines) <= grade, lines
    assert sum(line.startswith("What worked: ") for line in lines) == 1
    assert 1 <= sum(line.startswith("Try this next. ") for line in lines) <= 2
    assert len(lines) <= 3
    words = " ".join(sheet.measures.essay.text.split()).replace('"', "'").replace("“", "'").replace("”", "'")
    for line in lines:
        assert line.isprintable()
        for quoted in QUOTED.findall(line):
            assert quoted.removesuffix(" …") in words


@every_grade
@pytest.mark.parametrize("measure", advice())
def test_each_strength_and_each_step_is_no_harder_than_the_grade(
    measure: str, grade: int, bats: ScoreSheet, hard: ScoreSheet
) -> None:
    row = dict(advice()[measure])
    for sheet in (bats, hard):
        for level in (GOOD, POOR):
            reason = Reason(measure, 1.0, level, 1.0, "")
            check(told(sheet, grade, reason, step(row, sheet)), sheet, grade)


@every_grade
@pytest.mark.parametrize("criterion", stretch())
def test_each_stretch_is_no_harder_than_the_grade(
    criterion: str, grade: int, bats: ScoreSheet, hard: ScoreSheet
) -> None:
    for sheet in (bats, hard):
        reason = Reason("thesis_found", 1.0, GOOD, 1.0, "")
        check(told(sheet, grade, reason, step(dict(stretch()[criterion]), sheet)), sheet, grade)


@pytest.mark.parametrize("measure", advice())
def test_two_steps_together_are_no_harder_than_grade_3(measure: str, hard: ScoreSheet) -> None:
    reason = Reason(measure, 1.0, GOOD, 1.0, "")
    for other in advice():
        lines = told(hard, 3, reason, step(dict(advice()[measure]), hard), step(dict(advice()[other]), hard))
        check(lines, hard, 3)


@every_grade
def test_the_demo_year_at_every_grade(grade: int, samples: dict[str, ScoreSheet]) -> None:
    for sheet in samples.values():
        check(feedback(replace(sheet, grade=grade)).child, sheet, grade)


@pytest.mark.slow
@pytest.mark.parametrize("path", sorted(TUNE.glob("*.toml")), ids=lambda path: path.stem)
def test_every_tuning_essay_at_its_own_grade_and_at_grade_3(path: Path) -> None:
    import tomllib

    labels = tomllib.loads(path.read_text("utf-8"))
    for grade in {3, labels["grade"]}:
        sheet = score(read_text(labels["text"]), grade, labels["form"])
        check(feedback(sheet).child, sheet, grade)


def test_a_quotation_is_shortened_before_it_is_too_hard(bats: ScoreSheet, hard: ScoreSheet) -> None:
    reason, easy = Reason("thesis_found", 1.0, GOOD, 1.0, ""), step(dict(advice()["length"]), hard)
    at_3, at_9 = (sum(map(len, told(hard, grade, reason, easy))) for grade in (3, 9))
    assert at_3 < at_9


def test_a_quotation_mark_within_a_quotation_and_line_ends_do_no_harm() -> None:
    sheet = score(read_text('"Stop!"\nhe said to “the dog” ' * 4 + "again."), 5)
    check(feedback(sheet).child, sheet, 5)


@pytest.mark.parametrize("text", ["Cat.", "W" * 900, "ka " * 20, "№ no. ½ a.", "I. " * 200, "!!! a !!!"])
def test_odd_texts_get_feedback_too(text: str) -> None:
    lines = feedback(score(read_text(text), 3)).child
    assert grade_of(lines) <= 3
    assert lines[0].startswith("What worked: ")


def test_where_nothing_is_good_yet_the_strength_claims_nothing_that_is_not_so(bats: ScoreSheet) -> None:
    poor = Reason("thesis_found", 0.0, POOR, 1.0, "")
    first = told(bats, 5, poor, step(dict(advice()["length"]), bats))[0]
    assert advice()["thesis_found"]["worked"] not in first
    assert "“" not in first


def test_the_parent_is_told_each_level_why_what_to_teach_and_what_only_they_can_judge(bats: ScoreSheet) -> None:
    lines = feedback(bats).parent
    assert len(lines) == len(bats.criteria)
    for line, criterion in zip(lines, bats.criteria, strict=True):
        assert line.startswith(f"{criterion.name.capitalize()}: level {criterion.level}")
        assert criterion.reasons[0].text in line
        assert f"Teach next: {criterion.next_step.what}." in line
        assert criterion.not_judged in line


def test_the_weakest_criterion_gives_the_first_step(bats: ScoreSheet) -> None:
    lines = feedback(bats).child
    weakest: CriterionScore = min((c for c in bats.criteria if c.level < 4), key=lambda c: c.score)
    assert weakest.next_step.child in lines[1]


def test_how_sure_is_said_in_words() -> None:
    assert [sure_in_words(s) for s in (0, 0.49, 0.5, 0.74, 0.75, 1)] == [
        "not sure", "not sure", "fairly sure", "fairly sure", "quite sure", "quite sure",
    ]  # fmt: skip


def test_what_stands_in_a_criterion_below_grade_is_praised_last(bats: ScoreSheet) -> None:
    rows = {"focus": "thesis_found", "conventions": "surface_slips_per_100_words"}
    criteria = tuple(
        replace(c, level=level, reasons=(Reason(rows[c.key], 1.0, GOOD, weight, ""),))
        for c in bats.criteria
        for level, weight in {"focus": [(3, 0.1)], "conventions": [(1, 1.0)]}.get(c.key, ())
    )
    praised = [strength.words for strength in strengths(replace(bats, criteria=criteria))]
    assert praised == [advice()["thesis_found"]["worked"], advice()["surface_slips_per_100_words"]["worked"]]
