"""How far two texts speak of the same: the word itself, its family, near words, each by its rarity."""

from __future__ import annotations

import pytest

from rubric_kit.measures.meaning import FAMILY, NEAR, RARE, rarity, reach, related, shared, terms
from rubric_kit.measures.parse import parse
from rubric_kit.measures.pipeline import pipeline
from rubric_kit.reading import read_text


def of(sentence: str) -> dict[str, float]:
    return terms(pipeline()(sentence))


def test_only_content_words_count_by_their_lemma() -> None:
    assert set(of("The owls were hunting mice in the dark forest.")) == {"owl", "hunt", "mouse", "dark", "forest"}


def test_words_that_every_essay_has_say_nothing() -> None:
    assert of("People think that it is a good thing.") == {}


def test_a_rare_word_weighs_more_and_none_weighs_less_than_nothing() -> None:
    assert rarity("owl") > rarity("house") > rarity("the") >= 0
    assert rarity("qqxxzz") <= RARE


def test_a_word_reaches_itself_its_family_and_words_near_it() -> None:
    reached = reach({"teach": 1.0})
    assert reached["teach"] == 1.0
    assert reached["teacher"] == FAMILY
    assert reached.get("instruct", NEAR) == NEAR


def test_an_unknown_word_reaches_only_itself() -> None:
    assert related("qqxxzz").family == ()
    assert reach({"qqxxzz": 1.0}) == {"qqxxzz": 1.0}


def test_the_same_text_shares_all_with_itself_and_nothing_with_an_empty_one() -> None:
    owls = of("An owl hunts mice in the dark.")
    assert shared(owls, reach(owls)) == pytest.approx(1)
    assert shared(owls, {}) == 0
    assert shared({}, reach(owls)) == 0


def test_a_text_on_the_same_matter_shares_more_than_one_on_another() -> None:
    owls, hunting = (
        of("Owls are made for hunting in the dark."),
        of("The hunter flies without a sound on a dark night."),
    )
    soup = of("My grandmother cooks soup with carrots on Sundays.")
    assert shared(owls, reach(hunting)) > shared(owls, reach(soup))
    assert 0 <= shared(owls, reach(soup)) < 0.2


def test_title_words_count_without_marks_and_little_words() -> None:
    essay = read_text("Why We Need Bats!\n\nBats eat insects. They help farmers and they plant trees in the forest.\n")
    assert essay.title is not None
    assert set(terms(parse(essay).title)) == {"need", "bat"}
    assert terms(parse(read_text("Bats eat insects. They help farmers.")).title) == {}
