"""Capitals, end marks and repeated words."""

from __future__ import annotations

import pytest

from rubric_kit.measures.mechanics.surface import capitals, end_marks, repeated_words
from rubric_kit.measures.parse import parse
from rubric_kit.reading.layout import essay_from_text


def _claims(finder, text: str) -> list[tuple[str, str]]:
    essay = essay_from_text(text, "test")
    return [(item.text, item.suggestions[0]) for item in finder(essay, parse(essay))]


@pytest.mark.parametrize(
    ("text", "claims"),
    [
        ("My friend and i went home.", [("i", "I")]),
        ("I hope i'm right.", [("i'm", "I'm")]),
        ("I hope i’m right.", [("i’m", "I’m")]),
        ("We said i'll go, i've got it and i'd stay.", [("i'll", "I'll"), ("i've", "I've"), ("i'd", "I'd")]),
        ("We left. the dog stayed.", [("the", "The")]),
        ("We meet on monday in july.", [("monday", "Monday"), ("july", "July")]),
        ("The party was on the 15th of march.", [("march", "March")]),
        ("I read about christmas in england.", [("christmas", "Christmas"), ("england", "England")]),
        ("She speaks spanish and english.", [("spanish", "Spanish"), ("english", "English")]),
        ("I met Zeb. The boy called Zeb ran and zeb fell.", [("zeb", "Zeb")]),
        ("I like it, but The dog does not.", [("The", "the")]),
        ("I went home And ate lunch.", [("And", "and")]),
        ("I love my Mom and my dog.", [("Mom", "mom")]),
        ('He turned and said, "uh oh."', [("uh", "Uh")]),
        ("Then I asked mom about it.", [("mom", "Mom")]),
        ("Then I asked mom.", [("mom", "Mom")]),
        ("I like monday's lunch.", [("monday's", "Monday's")]),
    ],
)
def test_a_wrong_letter_is_found_with_the_right_one(text: str, claims: list[tuple[str, str]]) -> None:
    assert _claims(capitals, text) == claims


@pytest.mark.parametrize(
    "text",
    [
        "The roads may be wet when the soldiers march.",
        "We had french fries and a swiss army knife.",
        "It is late, i.e. after nine.",
        '"Stop!" he said. "It is late," she whispered, "and cold."',
        'He called it "a mess" and laughed.',
        "I read The Wind in the Willows and The Lion and the Mouse.",
        "My mom and my dad like tea with grandma's jam.",
        "I got an A on the test and my Grandpa Joe was proud.",
        "We saw Rose, and she had a rose.",
        "He waited ... and then he ran.",
        "I went TO the store.",
        "Mom said yes. I told Dad.",
        "The mom of my friend asked a dad.",
        "John and The Tin Man met.",
        "We read The Boy or It last year.",
        "We read The Cat in It last year.",
        "We need i) a boat and ii) a map.",
        "In Five Children and It by an old writer there are five.",
        'Because, as my mother said, "we found out", it was late.',
    ],
)
def test_right_letters_are_let_alone(text: str) -> None:
    assert not _claims(capitals, text)


@pytest.mark.parametrize(
    ("text", "claims"),
    [
        ("I like dogs. My dog is big", [("big", "big.")]),
        ("We went to the lake and it was cold and I fell in\n\nThen we left.", [("in", "in.")]),
        ("The dogs ran home to me again", [("again", "again.")]),
        ("We ran. We like dogs\n\nIt is so.", [("dogs", "dogs.")]),
    ],
)
def test_a_sentence_without_its_mark_is_found(text: str, claims: list[tuple[str, str]]) -> None:
    assert _claims(end_marks, text) == claims


@pytest.mark.parametrize(
    "text",
    [
        "I like dogs.",
        'He said, "Come in."',
        "He said, “Come in!”",
        "Is it late (very late?)",
        "My Dog\n\nI like my dog.",
        "The dogs ran home to me",
        "My Great Long Story About Two Dogs",
        "He waited…",
        "I need three things:\n\n- a hat\n- a coat",
        "Dear Grandma,\n\nThank you for the book.",
    ],
)
def test_headings_lists_greetings_and_marks_in_quotations_are_let_alone(text: str) -> None:
    assert not _claims(end_marks, text)


@pytest.mark.parametrize(
    ("text", "claims"),
    [
        ("I saw the the dog.", [("the the", "the")]),
        ("I went to\nto the lake.", [("to\nto", "to")]),
        ("He He is late.", [("He He", "He")]),
        ("We ate and and slept.", [("and and", "and")]),
        ("My dog dog barks.", [("dog dog", "dog")]),
    ],
)
def test_a_word_written_twice_is_found(text: str, claims: list[tuple[str, str]]) -> None:
    assert _claims(repeated_words, text) == claims


@pytest.mark.parametrize(
    "text",
    [
        "It was very very cold.",
        "He had had enough of that that day.",
        "It was a big big dog. No no, it was huge.",
        "I like it. It is fun.",
        "The sea, the sea!",
        "Ha ha, he laughed.",
        "When you see it it is gone.",
        "Knock knock, said the fox.",
    ],
)
def test_emphasis_and_right_doubles_are_let_alone(text: str) -> None:
    assert not _claims(repeated_words, text)


@pytest.mark.parametrize("finder", [capitals, end_marks, repeated_words])
def test_an_empty_essay_has_no_slips(finder) -> None:
    assert not _claims(finder, "")
