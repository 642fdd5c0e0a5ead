"""Sounds and the letters that spell them: children spell by ear ("becuz", "enuf"), so a word's sounds are evidence."""

# ruff: noqa: PLR1730  (min() takes longer than all the rest of sound_costs)

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache, lru_cache
from importlib.resources import files
from itertools import accumulate
from operator import add

from rubric_kit.measures.spelling.columns import Column, costs_to_the_end

# CMUdict's phonemes (stress left out), one letter each, so that a pronunciation is a string.
CODES = {
    "AA": "A", "AE": "a", "AH": "u", "AO": "O", "AW": "W", "AY": "I", "B": "b", "CH": "C", "D": "d", "DH": "D",
    "EH": "e", "ER": "R", "EY": "E", "F": "f", "G": "g", "HH": "h", "IH": "i", "IY": "Y", "JH": "J", "K": "k",
    "L": "l", "M": "m", "N": "n", "NG": "N", "OW": "o", "OY": "Q", "P": "p", "R": "r", "S": "s", "SH": "S",
    "T": "t", "TH": "T", "UH": "x", "UW": "U", "V": "v", "W": "w", "Y": "j", "Z": "z", "ZH": "Z",
}  # fmt: skip
VOWEL_SOUNDS = frozenset("AauOWIeREiYoQxU")
VOWEL_LETTERS = frozenset("aeiouyw")
# A letter that spells a neighbouring sound, made with the same part of the mouth (b for p, d for t).
NEAR = {
    "p": "b", "b": "p", "t": "d", "d": "t", "k": "g", "g": "kc", "f": "vt", "v": "fw", "T": "fdt", "D": "vdft",
    "s": "zcx", "z": "sc", "S": "sc", "C": "tcj", "J": "cjdg", "Z": "jgs", "m": "n", "n": "m", "N": "nm", "w": "v",
    "l": "w", "r": "w", "h": "", "j": "iu",
}  # fmt: skip

# Costs in bits, beside the learned ones, which lie between 0 (th for T) and 11 (seen 3 times in 30,000 words). Found by
# trying other costs, one at a time, on half of the misspelling lists (tests/measures/spelling_lists.py).
NEVER = 11.0  # these letters never spell this sound
NEIGHBOUR = 5.0  # letters of a neighbouring sound
OTHER_VOWEL = 8.8  # a vowel letter that does not spell this vowel
LOST_VOWEL = 3.5  # a vowel sound that was not written (evry)
LOST_CONSONANT = 3.4  # (goverment)
EXTRA_LETTER = 7.0
LONGEST = 4  # letters to one sound (ough)
REMEMBERED = 5_000  # letters with their sounds


def sound_key(word: str) -> str:
    """A rough sound of the letters: "becuz" and "because" are both "bakas"."""
    key = word.lower()
    for pattern, replacement in _rules():
        key = pattern.sub(replacement, key)
    return key


def spoken_key(sounds: str) -> str:
    """The sound key of a pronunciation (in ``CODES``)."""
    key = sounds.replace("R", "ar").replace("ju", "ja").replace("jU", "a")
    key = "".join("a" if s in VOWEL_SOUNDS else {"z": "s", "Z": "S", "N": "ng", "D": "T"}.get(s, s) for s in key)
    return re.sub(r"(.)\1+", r"\1", key)


def sound_costs(letters: str, others: Iterable[str]) -> dict[str, float]:
    """Bits that it takes to spell each string of sounds with these letters, by the best matching; 0 is certain."""
    silent = [letter_costs().get(("", letter), EXTRA_LETTER) for letter in letters]
    alone: dict[str, Column] = {}
    together = _together(letters)

    def following(sounds: str, columns: list[Column]) -> Column:
        sound, last = sounds[-1], columns[-1]
        lost = LOST_VOWEL if sound in VOWEL_SOUNDS else LOST_CONSONANT
        column = [cost + lost for cost in last]
        if sound not in alone:
            alone[sound] = [_alone(sound, letter) for letter in letters]
        for i, cost in enumerate(map(add, last, alone[sound]), start=1):
            if cost < column[i]:
                column[i] = cost
        for said, before in zip((sound, sounds[-2:]), columns[:-3:-1], strict=False):  # one column at the first sound
            for start, end, cost in together.get(said, ()):
                if before[start] + cost < column[end]:
                    column[end] = before[start] + cost
        for i, cost in enumerate(silent):
            if column[i] + cost < column[i + 1]:
                column[i + 1] = column[i] + cost
        return column

    return costs_to_the_end(others, list(accumulate(silent, initial=0.0)), following)


@lru_cache(maxsize=REMEMBERED)
def _alone(sound: str, letter: str) -> float:
    """What it costs that one letter spells one sound."""
    return _costs_by_letters().get(letter, {}).get(sound, _unusual(sound, letter))


def _together(letters: str) -> dict[str, list[tuple[int, int, float]]]:
    """Where several letters spell a sound, or any a pair of sounds, from where to where and at what cost."""
    found: dict[str, list[tuple[int, int, float]]] = {}
    for start in range(len(letters)):
        for end in range(start + 1, min(start + LONGEST, len(letters)) + 1):
            for sounds, cost in _costs_by_letters().get(letters[start:end], {}).items():
                if end - start > 1 or len(sounds) > 1:
                    found.setdefault(sounds, []).append((start, end, cost))
    return found


@cache
def _costs_by_letters() -> dict[str, dict[str, float]]:
    table: dict[str, dict[str, float]] = {}
    for (sounds, letters), cost in letter_costs().items():
        if sounds:
            table.setdefault(letters, {})[sounds] = cost
    return table


@cache
def letter_costs() -> dict[tuple[str, str], float]:
    """(sounds, letters) to -log2 P(letters | sounds); "" for the sounds of a silent letter."""
    costs = {}
    for line in _table("letter_sounds.tsv"):
        sounds, letters, cost = line.split("\t")
        costs[sounds.strip("-"), letters] = min(float(cost), NEVER)
    for letter in "abcdefghijklmnopqrstuvwxyz'":
        costs["", letter] = min(costs.get(("", letter), EXTRA_LETTER), EXTRA_LETTER)
    return costs


def _unusual(sound: str, letter: str) -> float:
    if sound in VOWEL_SOUNDS:
        return OTHER_VOWEL if letter in VOWEL_LETTERS else NEVER
    return NEIGHBOUR if letter in NEAR[sound] else NEVER


@cache
def _rules() -> tuple[tuple[re.Pattern[str], str], ...]:
    rows = (line.split("\t") for line in _table("sound_rules.tsv"))
    return tuple((re.compile(pattern), replacement) for pattern, replacement in rows)


def _table(name: str) -> list[str]:
    text = (files(__package__) / "data" / name).read_text("utf-8")
    return [line for line in text.splitlines() if line and not line.startswith("#")]
