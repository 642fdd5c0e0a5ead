"""Sounds and slips: relations that the ranking stands on."""

from __future__ import annotations

from functools import cache
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric_kit.measures.spelling.slips import SWAP, _changes, _left_out, _put_in, slip_costs
from rubric_kit.measures.spelling.sounds import (
    CODES,
    LONGEST,
    LOST_CONSONANT,
    LOST_VOWEL,
    VOWEL_SOUNDS,
    _alone,
    letter_costs,
    sound_costs,
    sound_key,
    spoken_key,
)
from rubric_kit.measures.spelling.words import suggested


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("becuz", "because"),
        ("nite", "night"),
        ("fone", "phone"),
        ("nock", "knock"),
        ("enuf", "enough"),
        ("sircul", "circle"),
    ],
)
def test_a_word_spelt_by_ear_has_nearly_the_key_of_its_pronunciation(one: str, other: str) -> None:
    key = suggested().keys[suggested().place[other]]
    assert abs(len(sound_key(one)) - len(key)) <= 1
    assert sound_key(one)[:2] == key[:2]


def test_every_pronunciation_uses_the_codes_of_cmudict() -> None:
    assert len(set(CODES.values())) == len(CODES) == 39
    assert set("".join(suggested().sounds)) <= {*CODES.values(), "/"}


def test_letters_that_spell_the_sounds_cost_less_than_letters_that_do_not() -> None:
    said = suggested().sounds[suggested().place["said"]].split("/")[0]
    sed, sad, mop = (sound_costs(written, [said])[said] for written in ("sed", "sad", "mop"))
    assert sed < sad < mop


def test_the_key_of_a_pronunciation_has_one_letter_for_all_vowels() -> None:
    assert spoken_key("bikOz") == sound_key("becuz") == "bakas"


def test_the_same_word_costs_nothing_and_common_slips_cost_less_than_others() -> None:
    same, swapped, vowel, others = (slip_cost(word, "friend") for word in ("friend", "freind", "fraend", "fxqend"))
    assert 0 == same < swapped < vowel < others
    halved, lost_vowel, lost = (slip_cost(word, "beginning") for word in ("begining", "begnning", "beinning"))
    assert halved < lost_vowel < lost


LETTERS = "aeiouhrstlnpbce'"


@given(st.text(LETTERS, max_size=8), st.lists(st.text(LETTERS, min_size=1, max_size=8), max_size=8, unique=True))
def test_words_matched_together_cost_what_each_costs_by_itself(written: str, others: list[str]) -> None:
    assert slip_costs(written, others) == {other: slip_cost(written, other) for other in others}
    assert slip_costs(written, others) == {other: pytest.approx(slips_one_by_one(written, other)) for other in others}


def slip_cost(written: str, meant: str) -> float:
    return slip_costs(written, [meant])[meant]


def slips_one_by_one(written: str, meant: str) -> float:
    """The same by the plainest rule: the cheapest last slip, and what is left before it."""

    @cache
    def cost(i: int, j: int) -> float:
        ways = [0.0] if i == j == 0 else []
        if i:
            ways.append(cost(i - 1, j) + _put_in(written, i - 1))
        if j:
            ways.append(cost(i, j - 1) + _left_out(meant[:j]))
        if i and j:
            ways.append(cost(i - 1, j - 1) + _changes(written[i - 1])[meant[j - 1]])
        if written[max(i - 2, 0) : i] == meant[max(j - 2, 0) : j][::-1] and i > 1 and written[i - 1] != written[i - 2]:
            ways.append(cost(i - 2, j - 2) + SWAP)
        return min(ways)

    return cost(len(written), len(meant))


@given(st.text(LETTERS, min_size=1, max_size=7), st.lists(st.sampled_from(suggested().sounds[::900]), max_size=8))
def test_sounds_matched_together_cost_what_each_costs_by_itself(letters: str, listed: list[str]) -> None:
    others = {said for sounds in listed for said in sounds.split("/")}
    assert sound_costs(letters, others) == {said: pytest.approx(sounds_one_by_one(letters, said)) for said in others}


def sounds_one_by_one(letters: str, sounds: str) -> float:
    """The same by the plainest rule: the cheapest last match of up to four letters with up to two sounds."""
    table = letter_costs()

    @cache
    def cost(i: int, j: int) -> float:
        ways = [0.0] if i == j == 0 else []
        if i:
            ways.append(cost(i - 1, j) + table["", letters[i - 1]])
        if j:
            ways.append(cost(i, j - 1) + (LOST_VOWEL if sounds[j - 1] in VOWEL_SOUNDS else LOST_CONSONANT))
        if i and j:
            ways.append(cost(i - 1, j - 1) + _alone(sounds[j - 1], letters[i - 1]))
        for before, first in product(range(max(i - LONGEST, 0), i), range(max(j - 2, 0), j)):
            both = sounds[first:j], letters[before:i]
            if both in table:
                ways.append(cost(before, first) + table[both])
        return min(ways)

    return cost(len(letters), len(sounds))


def test_the_lists_run_side_by_side_shortest_first() -> None:
    listed = suggested()
    columns = (listed.words, listed.small, listed.sizes, listed.sounds, listed.keys)
    assert len({len(column) for column in columns}) == 1
    assert [len(word) for word in listed.words] == sorted(len(word) for word in listed.words)
    for length in range(1, len(listed.first)):
        assert all(len(word) >= length for word in listed.words[listed.first[length] :][:1])
