"""What is said of a revision: to the child in easy, kind words without numbers, to the parent plainly."""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest

import rubric_kit as rk
from rubric_kit.scoring.advice import advice, stretch
from rubric_kit.scoring.feedback import grade_of
from rubric_kit.scoring.revision import Revision
from rubric_kit.scoring.revision_feedback import revision_feedback
from rubric_kit.scoring.rubric import GRADES
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.scoring.steps_taken import revision_words

sys.path.insert(0, str(Path(__file__).parent))
from labelled_revisions import HALVES, pairs
from measure_revisions import revision

QUOTED = re.compile("“[^”]*”")
UNKIND = re.compile(r"\b(wrong|bad|fail\w*|poor\w*|never|mistakes?|didn't|not good)\b", re.I)
ROWS = [*advice().values(), *stretch().values()]


def check(found: Revision, grade: int) -> None:
    lines = revision_feedback(replace(found, after=replace(found.after, grade=grade))).child
    assert grade_of(lines) <= grade, lines
    assert 1 <= len(lines) <= 3
    own = QUOTED.sub("", " ".join(lines))
    assert not re.search(r"\d", own)
    assert not UNKIND.search(own)
    assert all(line.isprintable() for line in lines)


@pytest.mark.parametrize("half", HALVES)
def test_the_child_can_read_what_is_said_of_every_labelled_revision(half: str) -> None:
    for pair in pairs(half):
        found = revision(pair)
        for grade in {GRADES[0], pair.grade}:
            check(found, grade)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["try"])
@pytest.mark.parametrize("taken", ["taken", "partly", "not yet"])
def test_every_step_however_far_it_got_is_no_harder_than_grade_3(
    row: dict[str, str], taken: str, bats: ScoreSheet
) -> None:
    same = rk.compare(bats, bats)
    step = replace(same.steps[0], taken=taken, step=replace(same.steps[0].step, child=row["try"]))
    check(replace(same, steps=(step,)), GRADES[0])


def test_what_is_said_of_each_kind_of_change_is_no_harder_than_grade_3() -> None:
    words = revision_words()["child"]
    for lines in (words["one"], words["more"]):
        assert lines.keys() == {"added", "rewritten", "moved", "joined", "split", "cut"}
        for line in lines.values():
            assert grade_of((line,)) <= GRADES[0], line


def test_no_change_is_said_kindly_and_something_is_still_to_try(bats: ScoreSheet) -> None:
    lines = revision_feedback(rk.compare(bats, bats)).child
    assert lines[0].startswith("Your lines are the same as last time.")
    assert lines[1].startswith("This is still here for you to try.")


def test_the_parent_is_told_what_became_of_the_sentences_the_levels_and_the_steps(
    samples: dict[str, ScoreSheet],
) -> None:
    first, second = (samples[name] for name in sorted(samples) if "a-little-princess_draft" in name)
    found = rk.compare(first, second)
    changed, levels, steps = revision_feedback(found).parent
    assert f"{len(first.measures.essay.sentences)} sentences" in changed
    assert f"{found.counts['added']} new sentences" in changed
    assert f"from {first.percent:g} to {second.percent:g} out of 100" in levels
    assert all(step.name in steps for step in found.steps)


def test_sentences_are_told_as_one_none_or_many_in_whole_lines() -> None:
    first = "Dogs are loyal and kind to me. My dog waits at the gate all day. Cats sleep all day long."
    one, other = (rk.score(rk.read_text(t), grade=5) for t in (first, first.replace("Cats sleep", "Our cats sleep")))
    changed, _, _ = revision_feedback(rk.compare(one, other)).parent
    assert changed == (
        "Of the first draft's 3 sentences: 2 kept and 1 rewritten. The second draft has no new sentences."
    )
    alone = rk.score(rk.read_text("Dogs are loyal and kind to me."), grade=5)
    changed, levels, _ = revision_feedback(rk.compare(alone, one)).parent
    assert changed == "Of the first draft's 1 sentence: 1 kept. The second draft has 2 new sentences."
    assert levels.endswith("out of 100, as proposed.")
    _, levels, _ = revision_feedback(rk.compare(one, one)).parent
    assert levels == f"No proposed level changed. All in all still {one.percent:g} out of 100, as proposed."
