"""Transitions by the job they do, and words that look like one and do other work."""

from __future__ import annotations

from itertools import pairwise

import pytest

from rubric_kit.measures.structure.transitions import WHY, transitions
from rubric_kit.reading import read_text


def found_in(text: str) -> list[tuple[str, str]]:
    essay = read_text(text)
    found = transitions(essay)
    for item in found:
        assert essay.text[item.start : item.end] == item.text
        assert item.why == WHY[item.kind]
    return [(item.text, item.kind) for item in found]


@pytest.mark.parametrize(
    ("sentence", "text", "kind"),
    [
        ("In addition, owls hear well.", "In addition", "adding"),
        ("Another reason is that they are kind.", "Another reason", "adding"),
        ("Owls also hear well.", "also", "adding"),
        ("However, not all owls hunt at night.", "However", "contrasting"),
        ("On the other hand, cats are clean.", "On the other hand", "contrasting"),
        ("Dogs bark. But cats do not.", "But", "contrasting"),
        ("As a result, the town was saved.", "As a result", "cause"),
        ("Therefore we stayed at home.", "Therefore", "cause"),
        ("That is why I like dogs.", "That is why", "cause"),
        ("First, you need a rope.", "First", "order"),
        ("The second reason is the price.", "The second reason", "order"),
        ("The next day it rained.", "The next day", "order"),
        ("We ran home, and then we ate.", "then", "order"),
        ("Next we fed the dog.", "Next", "order"),
        ("Later we fed the dog.", "Later", "order"),
        ("Once he was a boy.", "Once", "order"),
        ("Third, we ate.", "Third", "order"),
        ("Now we know.", "Now", "order"),
        ("Still, it is a good dog.", "Still", "contrasting"),
        ("So we stayed at home.", "So", "cause"),
        ("For example, a dog can find a lost child.", "For example", "example"),
        ("For instance, he gave away his coat.", "For instance", "example"),
        ("In conclusion, dogs are loyal.", "In conclusion", "closing"),
        ("All in all, it was a good year.", "All in all", "closing"),
    ],
)
def test_a_transition_is_found_with_its_job(sentence: str, text: str, kind: str) -> None:
    assert (text, kind) in found_in(sentence)


@pytest.mark.parametrize(
    "sentence",
    [
        "He was so tired that he fell asleep.",
        "So many people came.",
        "So much rain fell.",
        "The second grade sang.",
        "The third place is mine.",
        "The next chapter was sad.",
        "The last chapter was sad.",
        "She won first prize.",
        "The first time was the best.",
        "He was the last man.",
        "Now that it is dark, owls hunt.",
        "The dog and the cat sat there.",
        "It was an example to us all.",
    ],
)
def test_a_word_that_does_other_work_is_none(sentence: str) -> None:
    assert found_in(sentence) == []


def test_they_are_in_order_and_do_not_overlap() -> None:
    text = "First of all, dogs bark. Another reason is that they run, and then they sleep. In the end, I like dogs."
    essay = read_text(text)
    places = [(t.start, t.end) for t in transitions(essay)]
    assert places == sorted(places)
    assert all(one[1] <= other[0] for one, other in pairwise(places))
    assert found_in(text)[0][0] == "First of all"


def test_case_curly_marks_and_line_ends_do_no_harm() -> None:
    assert ("That’s why", "cause") in found_in("That’s why we left.")
    assert ("IN CONCLUSION", "closing") in found_in("IN CONCLUSION, WE WON.")
    assert ("For\nexample", "example") in found_in("We like it here. For\nexample, we swim all day in the summer.")


def test_a_text_of_transitions_takes_time_in_proportion() -> None:
    assert len(found_in("First, he ran. Then, he sat. " * 2000)) == 4000
