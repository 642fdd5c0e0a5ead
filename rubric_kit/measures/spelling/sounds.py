"""Sounds and the letters that spell them: children spell by ear ("becuz", "enuf"), so a word's sounds are evidence."""

# ruff: noqa: PLR1730  (min() takes longer than all the rest of sound_cost)

from __future__ import annotations

import math
import re
from functools import cache, lru_cache
from importlib.resources import files

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


def sound_cost(letters: str, sounds: str) -> float:
    """Bits that it takes to spell these sounds with these letters, by the best matching; 0 is certain."""
    n, m = len(letters), len(sounds)
    best = [[math.inf] * (m + 1) for _ in range(n + 1)]
    best[0][0] = 0.0
    lost = [LOST_VOWEL if s in VOWEL_SOUNDS else LOST_CONSONANT for s in sounds]
    places = _places(sounds)
    for i, row in enumerate(best):
        for j in range(m):
            without = row[j] + lost[j]
            if without < row[j + 1]:
                row[j + 1] = without
        if i == n:
            break
        below = best[i + 1]
        extra, one, more = _spells(letters[i : i + LONGEST])
        for j, (before, sound) in enumerate(zip(row, sounds, strict=False)):
            silent, spelt = before + extra, before + one[sound]
            if silent < below[j]:
                below[j] = silent
            if spelt < below[j + 1]:
                below[j + 1] = spelt
        if row[m] + extra < below[m]:
            below[m] = row[m] + extra
        for length, costs in more:
            under = best[i + length]
            for said in places.keys() & costs.keys():
                cost, step = costs[said], len(said)
                for j in places[said]:
                    if row[j] + cost < under[j + step]:
                        under[j + step] = row[j] + cost
    return best[n][m]


def _places(sounds: str) -> dict[str, list[int]]:
    """Where each sound and each pair of sounds stands."""
    places: dict[str, list[int]] = {}
    for j, sound in enumerate(sounds):
        places.setdefault(sound, []).append(j)
    for j in range(len(sounds) - 1):
        places.setdefault(sounds[j : j + 2], []).append(j)
    return places


@lru_cache(maxsize=5_000)
def _spells(letters: str) -> tuple[float, dict[str, float], list[tuple[int, dict[str, float]]]]:
    """For the first letter its cost as a silent one, and for each single sound; then for the first letter, the first
    two ... what other sounds they spell.
    """
    table = _costs_by_letters()
    one, pairs = _alone(letters[0])
    parts = [letters[:end] for end in range(2, len(letters) + 1)]
    more = [(1, pairs), *((len(part), table[part]) for part in parts if part in table)]
    return letter_costs().get(("", letters[0]), EXTRA_LETTER), one, more


@lru_cache(maxsize=100)
def _alone(letter: str) -> tuple[dict[str, float], dict[str, float]]:
    """What each single sound costs that is spelled by a letter alone, and each pair of sounds that may be."""
    listed = _costs_by_letters().get(letter, {})
    one = {sound: listed.get(sound, _unusual(sound, letter)) for sound in CODES.values()}
    return one, {sounds: cost for sounds, cost in listed.items() if len(sounds) > 1}


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
