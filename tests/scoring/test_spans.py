"""Which sentences are shown for a level, and which one a next step is tried on."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from rubric_kit.measures.measured import Measures, measure
from rubric_kit.measures.structure.parts import ParagraphPart
from rubric_kit.reading import read_text
from rubric_kit.scoring.advice import advice
from rubric_kit.scoring.spans import ON, SHOW

# Two sentences open with "we"; the third has two misspellings, the fourth one and no end mark.
WALK = """We went out early in the cold morning with our old brown dog. It rained.

We saw a hevy bird in the wett grass. It was hungrey

He had fun. The end!"""
SHORT_TO_LONG = "Birds sing. My cat likes to sit by the warm stove all day. My dog runs."


@cache
def measured(text: str) -> Measures:
    return measure(read_text(text))


def shown(name: str, text: str = WALK) -> list[str]:
    return [found.text for found in SHOW[name](measured(text))]


def tried_on(name: str, text: str = WALK) -> str:
    found = ON[name](measured(text))
    assert found is not None
    assert text[found.start : found.end] == found.text
    return found.text


def test_every_name_of_the_advice_is_one_of_them() -> None:
    for row in advice().values():
        assert {row[key] for key in ("show", "praise") if key in row} <= SHOW.keys()
        assert row["on"] in ON


def test_the_openings_are_the_first_sentences_of_the_paragraphs_with_their_numbers() -> None:
    found = SHOW["paragraph_openings"](measured(WALK))
    assert [(f.paragraph, f.text.split()[0], f.kind) for f in found] == [
        (1, "We", "opening"),
        (2, "We", "opening"),
        (3, "He", "opening"),
    ]


def test_the_longest_and_the_shortest_sentence_are_shown_with_their_words() -> None:
    found = SHOW["long_and_short"](measured(SHORT_TO_LONG))
    assert [(f.text, f.why) for f in found] == [
        ("My cat likes to sit by the warm stove all day.", "has 11 words"),
        ("Birds sing.", "has 2 words"),
    ]
    (only,) = SHOW["long_and_short"](measured("Stop!"))
    assert (only.text, only.why) == ("Stop!", "has 1 word")


def test_sentences_with_the_commonest_first_word_are_shown_whatever_its_capitals() -> None:
    found = SHOW["same_openings"](measured(SHORT_TO_LONG))
    assert [f.text.split()[1] for f in found] == ["cat", "dog"]
    assert {f.why for f in found} == {"2 sentences open with this word"}
    assert shown("same_openings", "Birds sing. Dogs bark.") == []
    assert tried_on("same_opening", SHORT_TO_LONG) == "My dog runs."
    assert tried_on("same_opening", "Birds sing now. Dogs bark at the gate.") == "Birds sing now."


def test_slips_are_shown_in_the_order_of_the_text() -> None:
    assert shown("spelling") == ["hevy", "wett", "hungrey"]
    assert shown("surface") == ["hungrey"]
    assert shown("errors") == ["hevy", "wett", "hungrey", "hungrey"]


def test_the_longest_sentence_without_a_slip_is_shown_as_clean() -> None:
    (clean,) = SHOW["clean_sentence"](measured(WALK))
    assert clean.text.startswith("We went out early")
    assert clean.why == "no slip was found in it"
    assert shown("clean_sentence", "My hevy dogg ran") == []


def test_the_sentence_with_most_slips_of_the_kind_is_the_one_to_mend() -> None:
    assert tried_on("misspelled") == "We saw a hevy bird in the wett grass."
    found = ON["misspelled"](measured(WALK))
    assert found is not None
    assert (found.why, found.paragraph) == ("slips found: 2", 2)
    assert tried_on("surface_slip") == "It was hungrey"
    assert tried_on("worst_sentence", WALK.replace("wett", "wet")) == "It was hungrey"


def test_where_there_is_no_slip_the_shortest_sentence_is_the_one_to_work_on() -> None:
    assert tried_on("misspelled", SHORT_TO_LONG) == "Birds sing."
    assert tried_on("plainest_sentence", SHORT_TO_LONG) == "Birds sing."


def test_a_last_line_that_only_closes_is_left_alone() -> None:
    assert tried_on("last_sentence") == "He had fun."
    assert tried_on("plainest_sentence") == "It rained."
    assert tried_on("last_sentence", "It rained. We ran. Good night, all!") == "Good night, all!"
    assert tried_on("last_sentence", "It rained. Good night!") == "It rained."
    assert tried_on("last_sentence", "Good night!") == "Good night!"


def test_the_middle_is_that_of_the_paragraph_with_most_sentences() -> None:
    text = "One dog sat. Two dogs ran.\n\nOne cat sat. Two cats ran. Three cats hid. Four cats ate."
    assert tried_on("middle_sentence", text) == "Three cats hid."


def test_the_opening_is_the_first_sentence() -> None:
    assert tried_on("opening") == "We went out early in the cold morning with our old brown dog."
    assert tried_on("thesis_or_opening", "Birds sing. Cats hide.") in ("Birds sing.", "Cats hide.")


def test_the_first_later_paragraph_that_no_word_joins_to_what_came_before_is_the_one_to_link() -> None:
    text = "I like my dog.\n\nFirst, he is kind.\n\nHe is brave too.\n\nFinally, he is clever."
    assert tried_on("unlinked_opening", text) == "He is brave too."
    linked = "I like my dog.\n\nFirst, he is kind.\n\nFinally, he is clever and strong."
    assert tried_on("unlinked_opening", linked) == "Finally, he is clever and strong."
    assert tried_on("unlinked_opening", "My dog is kind. He is brave.") == "My dog is kind."


def test_a_body_paragraph_without_a_point_or_with_least_behind_it_is_worked_on_at_its_first_sentence() -> None:
    text = "Dogs are good.\n\nThey bark. They run.\n\nThey are kind. They love us."
    body = ParagraphPart(3, 0, 0, "body", None, (), 0, 0, 2, 0, 0.0)
    found = measured(text)
    m = replace(found, structure=replace(found.structure, paragraphs=(body,)))
    for name in ("pointless_body", "thinnest_body", "bare_evidence"):
        step = ON[name](m)
        assert step is not None
        assert (step.text, step.paragraph) == ("They are kind.", 3)


@pytest.mark.parametrize("name", ON)
def test_of_one_word_it_is_that_word(name: str) -> None:
    assert tried_on(name, "Stop!") == "Stop!"
