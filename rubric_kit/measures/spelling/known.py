"""Is this a word? In doubt it is: a false accusation costs a child more than a missed slip."""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files

from rubric_kit.measures.spelling.words import commonness, is_common, names, rare, suggested

APOSTROPHES = str.maketrans("‘’ʼ´`＇", "''''''")
HYPHENS = re.compile(r"[-\u2010\u2011]+")
NO_WORD = re.compile(r"[^a-z'-]")  # digits, dots, signs, letters with accents: numbers, addresses, other languages
STRETCHED = re.compile(r"([aeiouyhmrsz])\1\1|(.)\2\2+$|^(?:ha|he|ho|la|na|blah){2,}h?$")  # sooo, aaaah, yesss, hahaha
NO_VOWEL = re.compile(r"[^aeiouy']+$")  # tv, km, dvd
SHORTEST_ROOT = 6  # letters; shorter roots turn up by chance inside misspellings (un + till, re + known)
COMMON_ROOT = 3.0  # Zipf
BEFORE = ("un", "re", "non", "over", "super", "semi", "mini", "under", "ultra", "mega", "anti")
AFTER = ("like", "ish", "ness", "less", "wise", "proof")
FIRST_PARTS = frozenset((*BEFORE, "pre", "mis", "co", "ex", "mid", "out", "self", "half", "ill", "off", "by", "e", "t", "x"))


def plain(text: str) -> str:
    """A word in small letters with plain apostrophes and hyphens."""
    return HYPHENS.sub("-", text.translate(APOSTROPHES).lower())


def is_known(word: str) -> bool:
    """Is ``word``, in plain small letters, right as it stands (hyphens and apostrophes included)?"""
    if word in corrections():
        return False
    if NO_WORD.search(word) or STRETCHED.search(word) or word in spoken_forms():
        return True
    if _listed(word) or (NO_VOWEL.match(word) is not None and word in names()):
        return True
    if word.startswith("'") or word.endswith("'"):  # 'twas, goin', the dogs'
        return True
    if word.endswith("'s"):
        return is_known(word[:-2])
    if "-" in word:
        return not unknown_parts(word)
    return _derived(word)


def unknown_parts(word: str) -> list[str]:
    """The parts of a hyphenated word that are no words: none in "good-humoured" and "re-enter"."""
    parts = [part for part in word.split("-") if part]
    return [p for p in parts if not (is_known(p) or p in FIRST_PARTS or is_common(p.removesuffix("d")) or is_common(p.removesuffix("ed")))]


def is_name(word: str) -> bool:
    """Is this, in small letters, listed as a name (with or without its 's)?"""
    return word in names() or word.removesuffix("'s") in names()


@cache
def corrections() -> dict[str, str]:
    """Slips with one sure correction: lost apostrophes (dont), regular for irregular forms (catched), run together (alot)."""
    sure = {"im": "I'm", "ive": "I've"}
    for word in suggested().words:
        bare = word.replace("'", "")
        if bare != word and bare.islower() and not is_common(bare):
            sure[bare] = word
    for name in ("irregular.tsv", "slips.tsv"):
        for line in _rows(name):
            written, meant = line.split("\t")
            sure[written] = meant
    return sure


@cache
def spoken_forms() -> frozenset[str]:
    """Interjections, calls, informal contractions and the small words of other languages' names."""
    return frozenset(word for line in _rows("spoken_forms.txt") for word in line.split())


@cache
def well_known_names() -> frozenset[str]:
    """Words with a capital that are spelling words too: days, months, feasts, peoples, countries."""
    return frozenset(word for line in _rows("well_known_names.txt") for word in line.split())


def _listed(word: str) -> bool:
    places = suggested().place
    return word in places or word.capitalize() in places or word in rare()


def _derived(word: str) -> bool:
    """A new word by a living rule from a common one: castlelike, overexplain."""
    roots = [word.removeprefix(start) for start in BEFORE if word.startswith(start)]
    roots += [word.removesuffix(end) for end in AFTER if word.endswith(end)]
    return any(len(root) >= SHORTEST_ROOT and is_common(root) and commonness(root) >= COMMON_ROOT for root in roots)


def _rows(name: str) -> list[str]:
    text = (files(__package__) / "data" / name).read_text("utf-8")
    return [line for line in text.splitlines() if line and not line.startswith("#")]
