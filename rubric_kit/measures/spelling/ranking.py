"""Which candidate was meant: slips, sounds and how common the word is, weighed together."""

from __future__ import annotations

import tomllib
from functools import cache, lru_cache
from importlib.resources import files

from rapidfuzz.distance import OSA, Postfix, Prefix

from rubric_kit.measures.spelling.candidates import candidates, pairs
from rubric_kit.measures.spelling.known import LONGEST_WORD, corrections, plain, unknown_parts
from rubric_kit.measures.spelling.slips import slip_cost
from rubric_kit.measures.spelling.sounds import sound_cost, sound_key
from rubric_kit.measures.spelling.words import commonness, suggested

Evidence = dict[str, float]

MOST = 5  # suggestions
REMEMBERED = 5_000  # misspellings: the same come back in an essay, and in the essays of one child
# Weights of evidence beside the fitted ones, which are seldom above 8 for the best candidate, below -5 for a poor one.
SURE = 20.0  # a listed correction
REPEATED = 3.0  # "the the" is seldom meant
WRONG_ARTICLE = 1.0  # children write "a hour" too


def suggest(word: str, before: str = "", after: str = "") -> tuple[str, ...]:
    """At most five words that a misspelling may stand for, likeliest first, capitalised as it is.

    ``before`` and ``after`` are its neighbours in the sentence: a word that makes them repeat, or that does not go with
    "a" or "an", moves down.
    """
    return tuple(other for other, _ in weighed(word, before, after)[:MOST])


def weighed(word: str, before: str = "", after: str = "") -> list[tuple[str, float]]:
    """(word, weight of evidence) for what a misspelling may stand for, best first, capitalised as it is."""
    small = plain(word)
    if not 0 < len(small) <= LONGEST_WORD:
        return []
    owner = small.removesuffix("'s")
    parts = unknown_parts(small) if "-" in small else []
    if parts:
        found = [(small.replace(parts[0], other, 1), weight) for other, weight in _ranked(parts[0])]
    elif owner != small and owner and owner not in corrections():
        found = [(f"{other}'s", weight) for other, weight in _ranked(owner)]
    else:
        found = _ranked(small)
    neighbours = plain(before), plain(after)
    found = [(other, weight - _out_of_place(other, *neighbours)) for other, weight in found]
    if small in corrections():
        sure = corrections()[small]
        found = [(sure, SURE), *((other, weight) for other, weight in found if other != sure)]
    found.sort(key=lambda item: item[1], reverse=True)
    shown = {}
    for other, weight in found:
        shown.setdefault(other.lower(), (capitalised_as(word, other), weight))  # once, though both name and word (Love)
    return list(shown.values())


@lru_cache(maxsize=REMEMBERED)
def _ranked(word: str) -> list[tuple[str, float]]:
    weights = _weights()
    return [(other, sum(weights[name] * value for name, value in of.items())) for other, of in evidence(word)]


def _out_of_place(word: str, before: str, after: str) -> float:
    if word in (before, after):
        return REPEATED
    if before in ("a", "an") and (word[0] in "aeio") != (before == "an"):
        return WRONG_ARTICLE
    return 0.0


def capitalised_as(word: str, other: str) -> str:
    if len(word) > 1 and word.isupper():
        return other.upper()
    return other[0].upper() + other[1:] if word[:1].isupper() else other


def evidence(word: str) -> list[tuple[str, Evidence]]:
    """Each candidate for ``word`` with the evidence for it."""
    key = sound_key(word)
    listed = suggested()
    plain = word.replace("'", "")
    found = [(listed.words[i], _for_word(word, plain, key, i)) for i in candidates(word)]
    return found + [(pair, _for_pair(pair)) for pair in pairs(word)]


def _for_word(word: str, plain: str, key: str, i: int) -> Evidence:
    listed = suggested()
    other = listed.small[i]
    slips = slip_cost(word, other)
    sounds = min(sound_cost(plain, said) for said in listed.sounds[i].split("/"))
    return {
        "zipf": commonness(other),
        "size": int(listed.sizes[i]) / 10,
        "slips": slips,
        "slips_a_letter": 5 * slips / len(word),
        "sounds": sounds / 10,
        "sounds_a_letter": sounds / len(word),
        "sounds_alike": float(key == listed.keys[i]),
        "key_edits": OSA.distance(key, listed.keys[i]),
        "first_letter": float(word[0] == other[0]),
        "last_letter": float(word[-1] == other[-1]),
        "shorter": max(0, len(other) - len(word)),
        "longer": max(0, len(word) - len(other)),
        "same_letters": float(sorted(word) == sorted(other)),
        "same_start": Prefix.similarity(word, other) / len(word),
        "same_end": Postfix.similarity(word, other) / len(word),
        "name": float(listed.words[i] != other),
    }


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
