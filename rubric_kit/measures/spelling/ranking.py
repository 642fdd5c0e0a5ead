"""Which candidate was meant: slips, sounds and how common the word is, weighed together."""

from __future__ import annotations

import tomllib
from functools import cache, lru_cache
from importlib.resources import files
from typing import NamedTuple

from rapidfuzz.distance import OSA, Postfix, Prefix

from rubric_kit.measures.spelling.beside import beside
from rubric_kit.measures.spelling.candidates import candidates, pairs
from rubric_kit.measures.spelling.known import LONGEST_WORD, corrections, plain, unknown_parts
from rubric_kit.measures.spelling.slips import slip_costs
from rubric_kit.measures.spelling.sounds import sound_costs, sound_key
from rubric_kit.measures.spelling.words import commonness, is_common, suggested

Evidence = dict[str, float]

MOST = 5  # suggestions
REMEMBERED = 2_000  # misspellings: the same come back in an essay, and in the essays of one child
# Weights of evidence beside the fitted ones, which are seldom above 8 for the best candidate, below -5 for a poor one.
SURE = 20.0  # a listed correction
REPEATED = 3.0  # "the the" is seldom meant
WRONG_ARTICLE = 1.0  # children write "a hour" too
NAME = 1.0  # for a name where a capital is written, against it where none is; found on half of the misspelling lists
ONE_SLIP = 0.6  # the cost (slips.py) of one common slip
RARE = 3.3  # Zipf; what lies below counts more
# Usual endings, the longest first.
ENDINGS = ("ment", "ness", "able", "ible", "tion", "ing", "ous", "est", "ers", "ed", "er", "es", "ly", "al", "s", "y")


def suggest(word: str, before: str = "", after: str = "") -> tuple[str, ...]:
    """At most five words that a misspelling may stand for, likeliest first, capitalised as it is.

    ``before`` and ``after`` are its neighbours in the sentence: a word that is often met beside them moves up, one that
    makes them repeat, or that does not go with "a" or "an", moves down.
    """
    return tuple(found.word for found in weighed(word, before, after)[:MOST])


class Weighed(NamedTuple):
    """What a misspelling may stand for, with the weight of evidence for it: where it stands, and by itself."""

    word: str
    weight: float
    alone: float


def weighed(word: str, before: str = "", after: str = "") -> list[Weighed]:
    """What a misspelling may stand for, the likeliest between its neighbours first, capitalised as it is."""
    small = plain(word)
    if not 0 < len(small) <= LONGEST_WORD:
        return []
    owner = small.removesuffix("'s")
    parts = unknown_parts(small) if "-" in small else []
    if parts:
        ranked = [(small.replace(parts[0], other, 1), weight) for other, weight in _ranked(parts[0])]
    elif owner != small and owner and owner not in corrections():
        ranked = [(f"{other}'s", weight) for other, weight in _ranked(owner)]
    else:
        ranked = _ranked(small)
    if small in corrections():
        ranked = [(corrections()[small], SURE), *ranked]
    neighbours = plain(before), plain(after)
    found = [
        Weighed(capitalised_as(word, other), weight + _in_place(other, *neighbours) + _as_name(word, other), weight)
        for other, weight in ranked
    ]
    once: dict[str, Weighed] = {}  # a word may be a name too (love, Love)
    for item in sorted(found, key=lambda item: item.weight, reverse=True):
        once.setdefault(item.word.lower(), item)
    return list(once.values())


@lru_cache(maxsize=REMEMBERED)
def _ranked(word: str) -> list[tuple[str, float]]:
    weights = _weights()
    return [(other, sum(weights[name] * value for name, value in of.items())) for other, of in evidence(word)]


def _in_place(word: str, before: str, after: str) -> float:
    """How well it goes with its neighbours; of two words each has one neighbour."""
    if word in (before, after):
        return -REPEATED
    small = word.lower()
    first, _, last = small.partition(" ")
    weight = _weights()["beside"] * (beside(before, first) + beside(last or first, after))
    wrong_article = before in ("a", "an") and (word[0] in "aeio") != (before == "an")
    return weight - WRONG_ARTICLE * wrong_article


def _as_name(written: str, other: str) -> float:
    """Names are written with a capital, and a capital says so."""
    return 0.0 if other[0].islower() or other.startswith("I'") else NAME if written[0].isupper() else -NAME


def capitalised_as(word: str, other: str) -> str:
    if len(word) > 1 and word.isupper():
        return other.upper()
    return other[0].upper() + other[1:] if word[:1].isupper() else other


def evidence(word: str) -> list[tuple[str, Evidence]]:
    """Each candidate for ``word`` with the evidence for it."""
    listed = suggested()
    found = candidates(word)
    said = {i: listed.sounds[i].split("/") for i in found}
    slips = slip_costs(word, {listed.small[i] for i in found})
    sounds = sound_costs(word.replace("'", ""), {sounds for ways in said.values() for sounds in ways})
    of_word = _OfWord(word, sound_key(word), sorted(word), ending(word))
    words = [
        (listed.words[i], _for_word(of_word, i, slips[listed.small[i]], min(map(sounds.__getitem__, said[i]))))
        for i in found
    ]
    return words + [(pair, _for_pair(pair)) for pair in pairs(word)]


class _OfWord(NamedTuple):
    """A misspelling, and what each candidate's is held against."""

    text: str
    key: str
    letters: list[str]
    ending: str


def _for_word(of_word: _OfWord, i: int, slips: float, sounds: float) -> Evidence:
    listed = suggested()
    word, other = of_word.text, listed.small[i]
    zipf = commonness(other)
    longer = len(word) - len(other)
    return {
        "zipf": zipf,
        "size": int(listed.sizes[i]) / 10,
        "slips": slips,
        "slips_a_letter": 5 * slips / len(word),
        "sounds": sounds / 10,
        "sounds_a_letter": sounds / len(word),
        "sounds_twice": (sounds / len(word)) ** 2,
        "sounds_alike": float(of_word.key == listed.keys[i]),
        "key_edits": OSA.distance(of_word.key, listed.keys[i]),
        "first_letter": float(word[0] == other[0]),
        "last_letter": float(word[-1] == other[-1]),
        "shorter": max(0, -longer),
        "longer": max(0, longer),
        "same_letters": float(longer == 0 and of_word.letters == sorted(other)),
        "same_start": Prefix.similarity(word, other) / len(word),
        "same_end": Postfix.similarity(word, other) / len(word),
        "name": float(listed.words[i] != other),
        "one_slip": float(slips <= ONE_SLIP),
        "slips_twice": slips * slips / len(word),
        "rare": max(0.0, RARE - zipf),
        "same_ending": float(of_word.ending == ending(other)),
        "only_s": float(word + "s" == other or other + "s" == word),
        "by_rule": float(_follows_rule(word, other)),
    }


def ending(word: str) -> str:
    """The longest of the usual endings that the word has, or ""."""
    return next((end for end in ENDINGS if word.endswith(end)), "")


def _follows_rule(written: str, meant: str) -> bool:
    """Is the ending put to the whole word where the right form changes it: makeing, stoped, tryed, babys?"""
    for end in ENDINGS:
        stem = written.removesuffix(end)
        if stem != written and len(stem) > 1 and is_common(stem):
            changed = {stem[:-1], stem + stem[-1], stem[:-1] + "i", stem[:-1] + "ie", stem + "e"}
            if meant.removesuffix(end) in changed and meant.endswith(end):
                return True
    return False


def _for_pair(pair: str) -> Evidence:
    first, second = pair.split()
    return {
        "pair": 1.0,
        "pair_zipf": commonness(first) + commonness(second) - 10,
        "pair_letter": float(len(first) == 1),
    }


@cache
def _weights() -> dict[str, float]:
    text = (files(__package__) / "data" / "ranking.toml").read_text("utf-8")
    weights: dict[str, float] = tomllib.loads(text)["weights"]
    return weights
