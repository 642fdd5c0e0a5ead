"""Words by Flesch's rule, with offsets into the child's own text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric_kit.reading.words import find_words


def found_in(text: str) -> list[str]:
    return [word.text for word in find_words(text, 0, len(text))]


@pytest.mark.parametrize(
    "one_word",
    [
        *("don't", "don’t", "y'all'd've", "mother-in-law's", "o'clock", "Zoë", "cafe\u0301", "twenty-one"),
        *(
            "1,492",
            "3.5",
            "$15",
            "$4.50",
            "7%",
            "3rd",
            "10:30",
            "10:30am",
            "1990s",
            "'90s",
            "3/4",
            "5/12/2024",
            ".5",
            "50¢",
        ),
        *("U.S.", "a.m.", "e.g.", "Ph.D.", "J.K.", "&", "Q&A", "'twas", "'em", "runnin'", "dogs'", "can`t", "don´t"),
        *(
            "www.owls.org/barn",
            "https://example.org/a?b=c",
            "story.txt",
            "kid@school.org",
            "you-know-who",
            "re\u00adread",
        ),
    ],
)
def test_it_is_one_word(one_word: str) -> None:
    assert found_in(one_word) == [one_word]
    assert found_in(f"so {one_word} it was") == ["so", one_word, "it", "was"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("and/or", ["and", "or"]),
        ("We ran -- fast—very fast – home.", ["We", "ran", "fast", "very", "fast", "home"]),
        ("It was fun.Then we left.", ["It", "was", "fun", "Then", "we", "left"]),
        ("cats & dogs", ["cats", "&", "dogs"]),
        ("I am happy :) :D <3 😀!", ["I", "am", "happy"]),
        ("**very** _big_ snake_case", ["very", "big", "snake", "case"]),
        ("- * — ... ??? ()", []),
        ("'I like dogs' he said", ["I", "like", "dogs", "he", "said"]),
        ("‘Where is it?’ asked Ben’s dogs’ owner", ["Where", "is", "it", "asked", "Ben’s", "dogs’", "owner"]),
        ("rock 'n' roll", ["rock", "'n'", "roll"]),
        ("See p. 12.", ["See", "p", "12"]),
        ("Mr. Fox is #1", ["Mr", "Fox", "is", "1"]),
        ("привет мир 你好 हिन्दी", ["привет", "мир", "你好", "हिन्दी"]),
    ],
)
def test_what_separates_words_and_what_is_none(text: str, words: list[str]) -> None:
    assert found_in(text) == words


@given(st.text())
def test_any_text_gives_words_in_order_that_are_slices_of_it(text: str) -> None:
    end = 0
    for word in find_words(text, 0, len(text)):
        assert end <= word.start < word.end <= len(text)
        assert text[word.start : word.end] == word.text
        end = word.end


@given(
    st.lists(st.sampled_from(["cat", "runs", "the", "big", "pond"])), st.sampled_from([" ", ", ", "; ", " — ", "\n"])
)
def test_plain_words_are_counted_whatever_stands_between_them(plain: list[str], between: str) -> None:
    assert found_in(between.join(plain)) == plain
