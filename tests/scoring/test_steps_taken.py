"""Whether a next step of the first draft was taken: by what changed and by how far its measure moved."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rubric_kit.reading import read_text
from rubric_kit.scoring.changes import changes
from rubric_kit.scoring.rubric import LookFor
from rubric_kit.scoring.score import score
from rubric_kit.scoring.sheet import NextStep, Reason, ScoreSheet
from rubric_kit.scoring.spans import ON
from rubric_kit.scoring.steps_taken import StepTaken, better, figure, steps_taken

RISING = LookFor("length", 1.0, {5: (100, 150, 200, 250)})
FALLING = LookFor("errors_per_100_words", 1.0, {5: (8.0, 5.0, 2.0, 1.0)})
DRAFT = """I think that dogs are the best pets. They are loyal and they are fun.

First, dogs are loyal. My dog waits at the gate for me every day.

Second, dogs are fun. They run after a ball in the park.

So dogs are the best pets for a child."""


def step(measure: str, on: str, second: str, first: str = DRAFT) -> StepTaken:
    """What is said of a step of the first draft's first criterion that was about this measure and this sentence."""
    before, after = (score(read_text(text), grade=5) for text in (first, second))
    criterion, *others = before.criteria
    sentence = next(f for name in ON if (f := ON[name](before.measures)) and f.text == on) if on else None
    reason = Reason(measure, 1.0, 1.0, 1.0, "")
    asked = replace(criterion, reasons=(reason,), next_step=NextStep("", "", "", sentence))
    sheet: ScoreSheet = replace(before, criteria=(asked, *others))
    return steps_taken(sheet, after, changes(before.measures.essay, after.measures.essay))[0]


def test_better_is_a_share_of_the_first_value_by_the_way_the_rubric_looks() -> None:
    assert better(RISING, 5, 200.0, 250.0) == 0.25
    assert better(RISING, 5, 200.0, 150.0) == -0.25
    assert better(FALLING, 5, 4.0, 3.0) == 0.25
    assert better(FALLING, 5, 4.0, 5.0) == -0.25
    assert better(RISING, 5, 0.0, 3.0) == 3.0
    assert better(FALLING, 5, 0.0, 3.0) == -3.0


@pytest.mark.parametrize(
    ("value", "shown"), [(3.0, "3"), (0.5, "0.5"), (10.0, "10"), (1.256, "1.26"), (0.001, "0"), (-1.5, "-1.5")]
)
def test_a_figure_has_two_decimals_at_most_and_no_needless_zero(value: float, shown: str) -> None:
    assert figure(value) == shown


THIN = "First, dogs are loyal."


def test_a_thin_paragraph_with_a_new_sentence_is_filled_out() -> None:
    told = step("thinnest_body_words", THIN, DRAFT.replace(" every day.", " every day. Once he waited in the snow."))
    assert told.taken == "taken"
    assert told.why.startswith("The paragraph that it was about has a new sentence; ")


def test_a_new_sentence_in_another_paragraph_does_not_fill_this_one() -> None:
    told = step("thinnest_body_words", THIN, DRAFT.replace("in the park.", "in the park. Once we met a fox."))
    assert told.taken == "not yet"
    assert told.why.startswith("The paragraph that it was about has not grown; ")


def test_sentences_of_the_paragraph_that_grew_by_a_quarter_are_a_beginning() -> None:
    # 4 and 10 words; 14 / 4 = 3.5, so four more are enough and three are not
    more = DRAFT.replace("for me every day", "for me and my sister every single day")
    assert step("thinnest_body_words", THIN, more).taken == "partly"
    assert step("thinnest_body_words", THIN, more).why.startswith("The sentences of the paragraph that it was about")
    less = DRAFT.replace("for me every day", "for me and Ann every single day")
    assert step("thinnest_body_words", THIN, less).taken == "not yet"


def test_an_untouched_draft_took_no_step() -> None:
    for measure in ("thinnest_body_words", "words_per_t_unit", "length", "evidence_per_body", "thesis_words"):
        told = step(measure, THIN, DRAFT)
        assert (told.taken, told.measure) == ("not yet", measure)


def test_a_stretch_has_no_measure_behind_it_and_is_judged_by_its_sentence() -> None:
    told = step("", THIN, DRAFT.replace("dogs are loyal.", "dogs are loyal and true."))
    assert told.taken in ("partly", "taken", "not yet")
    assert told.change is not None
    assert told.change.kind == "rewritten"


def test_three_words_more_and_a_sentence_has_grown() -> None:
    on = "So dogs are the best pets for a child."
    grown = step("words_per_t_unit", on, DRAFT.replace("for a child.", "for a child and her mother."))
    assert grown.taken == "taken"
    assert "1 of 7 sentences grew or were joined" in grown.why
    not_grown = step("words_per_t_unit", on, DRAFT.replace("for a child.", "for a very young child."))
    assert not_grown.taken == "not yet"
    assert "0 of 7 sentences" in not_grown.why


def test_half_of_the_sentences_grown_is_enough_and_one_in_seven_is_no_beginning() -> None:
    on = "So dogs are the best pets for a child."
    one = DRAFT.replace("in the park.", "in the park near our house.")
    assert step("words_per_t_unit", on, one).taken == "not yet"
    two = one.replace("the best pets. They", "the best pets that there are. They")
    assert step("words_per_t_unit", on, two).taken == "partly"
    four = two.replace("for me every day", "for me at the door every day").replace(
        "they are fun", "they are a lot of fun"
    )
    assert step("words_per_t_unit", on, four).taken == "taken"


def test_the_sentence_that_a_step_was_about_and_what_became_of_it_are_named() -> None:
    told = step("thesis_words", THIN, DRAFT.replace("First, dogs are loyal.", "Dogs are very loyal."))
    assert told.why.startswith("The sentence that it was about was rewritten; ")
    told = step("thesis_words", THIN, DRAFT.replace("First, dogs are loyal. ", ""))
    assert told.why.startswith("The sentence that it was about was cut; ")
    assert told.change is not None
    assert told.change.kind == "cut"
    told = step("thesis_words", "", DRAFT)
    assert told.why.startswith("It was about no single sentence; ")
    assert told.change is None
