"""Subject and verb that do not agree, and a or an."""

from __future__ import annotations

import pytest

from rubric_kit.measures.mechanics.agreement import agreement, third_person
from rubric_kit.measures.parse import parse
from rubric_kit.reading.layout import essay_from_text


def _claims(text: str) -> list[tuple[str, str]]:
    essay = essay_from_text(text, "test")
    return [(item.text, item.suggestions[0]) for item in agreement(essay, parse(essay))]


@pytest.mark.parametrize(
    ("base", "form"), [("buzz", "buzzes"), ("wash", "washes"), ("try", "tries"), ("play", "plays")]
)
def test_the_form_for_he_she_and_it(base: str, form: str) -> None:
    assert third_person(base) == form


@pytest.mark.parametrize(
    ("text", "claims"),
    [
        ("He go to school.", [("He go", "goes")]),
        ("They was late.", [("They was", "were")]),
        ("We was happy.", [("we was", "were")]),
        ("The dogs is loud.", [("dogs is", "are")]),
        ("I has a cat.", [("I has", "have")]),
        ("He don't know.", [("He don't", "doesn't")]),
        ("She have a bike.", [("She have", "has")]),
        ("Everybody know that.", [("Everybody know", "knows")]),
        ("A dog are a good pet.", [("dog are", "is")]),
        ("She always try hard.", [("She always try", "tries")]),
        ("She watch TV every night.", [("She watch", "watches")]),
        ("He fly a kite.", [("He fly", "flies")]),
        ("He play ball.", [("He play", "plays")]),
        ("He enjoy it.", [("He enjoy", "enjoys")]),
        ("He do his homework.", [("He do", "does")]),
        ("I is late.", [("I is", "am")]),
        ("The big dogs was late.", [("dogs was", "were")]),
        ("An owl are a bird.", [("owl are", "is")]),
        ("Anyone want cake.", [("Anyone want", "wants")]),
        ("You was late.", [("You was", "were")]),
        ("They has a dog.", [("They has", "have")]),
        ("They doesn't know.", [("They doesn't", "don't")]),
        ("My dogs doesn't bite.", [("dogs doesn't", "don't")]),
        ("She haven't been there.", [("She haven't", "hasn't")]),
        ("We wasn't ready.", [("We wasn't", "weren't")]),
        ("He weren't home.", [("He weren't", "wasn't")]),
        ("A hour ago we left.", [("A hour", "An hour")]),
        ("It was an European cake.", [("an European", "a European")]),
        ("This dog are loud.", [("dog are", "is")]),
        ("Every dog are loud.", [("dog are", "is")]),
        ("I saw a owl.", [("a owl", "an owl")]),
        ("He is an hero.", [("an hero", "a hero")]),
        ("It took a hour.", [("a hour", "an hour")]),
        ("It is an unicorn.", [("an unicorn", "a unicorn")]),
    ],
)
def test_a_slip_is_found_with_the_right_form(text: str, claims: list[tuple[str, str]]) -> None:
    assert [(a.lower(), b) for a, b in _claims(text)] == [(a.lower(), b) for a, b in claims]


@pytest.mark.parametrize(
    "text",
    [
        "He goes to school and they go too.",
        "If he were here, I would be glad.",
        "I wish it were summer.",
        "Let it go.",
        "We watched it grow and helped her run.",
        "Does he go?",
        "He can sing and she dance.",
        "Tom and he go home.",
        "My brother and I were late.",
        "One of the dogs was loud.",
        "The team are ready. The team is ready.",
        "Some people are nice.",
        "He put it down and hit it.",
        "He said he watched a barber do it.",
        "What he did was wrong.",
        "There are three reasons.",
        "The number of dogs is large.",
        "Mathematics is fun and the news is good.",
        "Each of the boys has a hat.",
        "I am late, you are early.",
        "It is important that he go.",
        "Neither he nor they were there.",
        "An hour, a unicorn, a one-way road, an honest man, an X-ray, a U-turn.",
        "He got an A and a B and an F.",
        "Ten dollars is enough.",
        "The boy who likes dogs was here.",
    ],
)
def test_right_forms_are_let_alone(text: str) -> None:
    assert not _claims(text)


def test_an_empty_essay_has_no_slips() -> None:
    assert not _claims("")
