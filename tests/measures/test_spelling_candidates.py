"""Candidates are found by letter counts first: no word within reach is lost by that."""

from __future__ import annotations

import pytest
from rapidfuzz.distance import OSA

from rubric_kit.measures.spelling.beside import _rows, _shares, beside
from rubric_kit.measures.spelling.candidates import _near_in_letters, _near_in_sound, letter_counts
from rubric_kit.measures.spelling.sounds import sound_key
from rubric_kit.measures.spelling.words import suggested


@pytest.mark.parametrize(("word", "wrong"), [("hosst", 2), ("freind", 2), ("niether", 3), ("cemetaries", 4)])
def test_every_word_near_in_letters_is_found(word: str, wrong: int) -> None:
    near = {i for i, other in enumerate(suggested().small) if OSA.distance(word, other, score_cutoff=wrong) <= wrong}
    assert set(_near_in_letters(word)) == near


@pytest.mark.parametrize(("word", "wrong"), [("enuf", 1), ("becuz", 1), ("stuborn", 2)])
def test_every_word_near_in_sound_and_length_is_found(word: str, wrong: int) -> None:
    key, listed = sound_key(word), suggested()
    near = {
        i
        for i, other in enumerate(listed.keys)
        if OSA.distance(key, other, score_cutoff=wrong) <= wrong and abs(len(listed.small[i]) - len(word)) <= 3
    }
    assert set(_near_in_sound(word, key)) == near


def test_a_letter_counts_once_and_once_more_where_it_comes_again() -> None:
    one, two, three, none = letter_counts(["ab", "aba", "abaab", "c"]).tolist()
    assert one == (1 << 1) | (1 << 2)
    assert two == one | 1 << 33
    assert three == two | 1 << 34
    assert none == 1 << 3


def test_a_row_of_pairs_is_read_as_it_is_written() -> None:
    for first in ("the", "best", "of", "i", "run"):
        for level in _rows()[first].split("\t"):
            share, *words = level.split(" ")
            assert {_shares(first)[word] for word in words} == {int(share) / 10}
    assert "gave" not in _shares("the")
    assert "fiend" not in _shares("best")
    assert beside("best", "friend") > 0 > beside("best", "the")
