"""Sounds and slips: relations that the ranking stands on."""

from __future__ import annotations

import pytest

from rubric_kit.measures.spelling.slips import slip_cost
from rubric_kit.measures.spelling.sounds import CODES, sound_cost, sound_key, spoken_key
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
    assert sound_cost("sed", said) < sound_cost("sad", said) < sound_cost("mop", said)


def test_the_key_of_a_pronunciation_has_one_letter_for_all_vowels() -> None:
    assert spoken_key("bikOz") == sound_key("becuz") == "bakas"


def test_the_same_word_costs_nothing_and_common_slips_cost_less_than_others() -> None:
    assert slip_cost("friend", "friend") == 0
    assert slip_cost("freind", "friend") < slip_cost("fraend", "friend") < slip_cost("fxqend", "friend")
    assert slip_cost("begining", "beginning") < slip_cost("begnning", "beginning") < slip_cost("beinning", "beginning")


def test_the_lists_run_side_by_side_shortest_first() -> None:
    listed = suggested()
    columns = (listed.words, listed.small, listed.sizes, listed.sounds, listed.keys)
    assert len({len(column) for column in columns}) == 1
    assert [len(word) for word in listed.words] == sorted(len(word) for word in listed.words)
    for length in range(1, len(listed.first)):
        assert all(len(word) >= length for word in listed.words[listed.first[length] :][:1])
