"""All finders of mechanics together."""

from __future__ import annotations

from dataclasses import astuple, fields

import pytest

from rubric_kit.measures.catalogue import run
from rubric_kit.measures.mechanics import mechanics
from rubric_kit.measures.mechanics_rates import MECHANICS, mechanics_counts
from rubric_kit.measures.parse import parse
from rubric_kit.reading.layout import essay_from_text

TEXT = "i dont like them becuase there to loud. The the dog dont bark, it is nice. When we left. My freind go home"


def test_each_finder_reports_in_its_own_field() -> None:
    essay = essay_from_text(TEXT, "test")
    found = mechanics(essay, parse(essay))
    assert {"becuase", "freind"} <= {item.text for item in found.spelling}
    assert "to" in {item.text for item in found.confused_words}
    assert [item.text for item in found.fragments] == ["When we left."]
    assert [item.kind for item in found.run_ons] == ["comma splice"]
    assert [item.text for item in found.capitals] == ["i"]
    assert [item.text for item in found.repeated_words] == ["The the"]
    assert [item.text for item in found.end_marks] == ["home"]


def test_no_word_is_accused_twice() -> None:
    essay = essay_from_text(TEXT, "test")
    found = mechanics(essay, parse(essay))
    words = [found.spelling, found.confused_words, found.capitals, found.repeated_words, found.agreement]
    places = [place for items in words for item in items for place in range(item.start, item.end)]
    assert len(places) == len(set(places))


def test_an_empty_essay_has_no_slips() -> None:
    essay = essay_from_text("", "test")
    assert not any(astuple(mechanics(essay, parse(essay))))


def test_a_misspelling_leaves_a_sentence_well_made_and_any_other_slip_does_not() -> None:
    essay = essay_from_text("My freind likes soup. we like it too. The soup is hot, it burns. We eat it.", "test")
    counts = mechanics_counts(essay, mechanics(essay, parse(essay)))
    assert (counts.well_made, counts.sentences) == (2, 4)
    assert run(MECHANICS["well_made_share"], counts).value == 0.5


@pytest.mark.parametrize("owner", ["my", "your", "his", "her", "our", "their", "the", "a", "that", "this"])
def test_one_persons_thing_takes_an_apostrophe_whoever_owns_the_person(owner: str) -> None:
    essay = essay_from_text(f"I like {owner} dads car.", "test")
    assert [f.suggestions for f in mechanics(essay, parse(essay)).confused_words] == [("dad's",)]


@pytest.mark.parametrize(
    ("text", "kind", "better", "why"),
    [
        ("We swim on monday.", "capital missing", "Monday", "Names of days take a capital."),
        ("We swim in july.", "capital missing", "July", "Names of months take a capital."),
        ("We went there on may 5.", "capital missing", "May", "Names of months take a capital."),
        ("We ate a pie at christmas.", "capital missing", "Christmas", "Names of holidays take a capital."),
        ("She speaks french.", "capital missing", "French", "Names of peoples and languages take a capital."),
        ("My aunt lives in london.", "capital missing", "London", "Names of places take a capital."),
        ("We saw mr. Fox in the yard.", "capital missing", "Mr", "A title before a name takes a capital."),
        ("I think i like it.", "capital missing", "I", "The word I takes a capital."),
        ("the dog barks.", "capital missing", "The", "A sentence begins with a capital."),
        ('He said, "we can go."', "capital missing", "We", "What someone says begins with a capital."),
        ("I asked mom for help.", "capital missing", "Mom", "Here this stands for a name, so it takes a capital."),
        (
            "My dog likes The park.",
            "capital not needed",
            "the",
            "“The” stands inside the sentence and is no name, so it takes a small letter.",
        ),
        ("I saw the the dog.", "repeated word", "the", "“the” is written twice."),
        ("I cant swim.", "apostrophe missing", "can't", "It is short for two words, so it has an apostrophe."),
        (
            "My dads car is red.",
            "apostrophe missing",
            "dad's",
            "What follows belongs to one person, so there is an apostrophe.",
        ),
        (
            "I could of gone.",
            "of for have",
            "could have",
            "“Of” sounds like the end of “could've”; what is meant is “have”.",
        ),
        ("I did not go in to the house.", "word in two", "into", "“into” is one word."),
        ("Any one can do it.", "word in two", "Anyone", "“Anyone” is one word."),
        ("He go home.", "subject and verb", "goes", "“He” goes with “goes”, not “go”."),
        ("I saw a owl.", "a/an", "an owl", "Before the sound that “owl” begins with, it is “an”."),
        (
            "The dog barked, the cat ran away.",
            "comma splice",
            "barked. The",
            "Two complete sentences have only a comma between them, before “the”.",
        ),
    ],
)
def test_a_slip_is_told_with_what_to_write_and_why(text: str, kind: str, better: str, why: str) -> None:
    essay = essay_from_text(text, "test")
    found = mechanics(essay, parse(essay))
    slips = [(f.kind, f.suggestions[0], f.why) for name in fields(found) for f in getattr(found, name.name)]
    assert slips == [(kind, better, why)]
