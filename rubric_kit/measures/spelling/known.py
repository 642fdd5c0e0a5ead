"""Is this a word? In doubt it is: a false accusation costs a child more than a missed slip."""

from __future__ import annotations

import re
from functools import cache, lru_cache
from importlib.resources import files

from rubric_kit.measures.spelling.words import commonness, is_common, is_listed_name, is_rare, suggested

APOSTROPHES = str.maketrans("‘’ʼ´`＇", "''''''")
HYPHENS = re.compile(r"[\u2010\u2011]")
NO_WORD = re.compile(r"[^a-z'-]")  # digits, dots, signs, letters with accents: numbers, addresses, other languages
STRETCHED = re.compile(r"([aeiouyhmrsz])\1\1|(.)\2\2+$|^(?:ha|he|ho|la|na|blah){2,}h?$")  # sooo, aaaah, yesss, hahaha
LONGEST_WORD = 45  # letters, as the longest in the dictionaries has; beyond, a key was held down
NO_VOWEL = re.compile(r"[^aeiouy']+$")  # tv, km, dvd
SHORTEST_ROOT = 6  # letters; shorter roots turn up by chance inside misspellings (un + till, re + known)
COMMON_ROOT = 3.0  # Zipf
BEFORE = ("un", "re", "non", "over", "super", "semi", "mini", "under", "ultra", "mega", "anti")
AFTER = ("like", "ish", "ness", "less", "wise", "proof", "er", "ers")
SHORTEST_PART = 4  # letters; shorter parts of hyphenated words are prefixes, or of other languages (re-, -op, tete-a-)


def plain(text: str) -> str:
    """A word in small letters with plain apostrophes and hyphens."""
    if text.isascii():
        return text.lower()
    return HYPHENS.sub("-", text.translate(APOSTROPHES).lower())


@lru_cache(maxsize=10_000)
def is_known(word: str) -> bool:
    """Is ``word``, in plain small letters, right as it stands (hyphens and apostrophes included)?"""
    return word not in corrections() and (_listed(word) or _no_plain_word(word) or _made_of_words(word))


def _no_plain_word(word: str) -> bool:
    """Numbers, other alphabets, stretched words, interjections, abbreviations, letters dropped in speech (goin')."""
    return (
        len(word) > LONGEST_WORD
        or bool(NO_WORD.search(word) or STRETCHED.search(word))
        or word in allowed()
        or (NO_VOWEL.match(word) is not None and is_listed_name(word))
        or word.startswith("'")
        or word.endswith("'")
    )


def _made_of_words(word: str) -> bool:
    """Owners (dog's), hyphenated words, and new words by a living rule from a common one: castlelike, overexplain."""
    if word.endswith("'s"):
        return is_known(word[:-2])
    if "-" in word:
        return not unknown_parts(word)
    roots = [word.removeprefix(start) for start in BEFORE if word.startswith(start)]
    roots += [word.removesuffix(end) for end in AFTER if word.endswith(end)]
    common_root = any(len(r) >= SHORTEST_ROOT and is_common(r) and commonness(r) >= COMMON_ROOT for r in roots)
    return common_root or (word.endswith("ings") and is_common(word[:-1]))


def unknown_parts(word: str) -> list[str]:
    """The parts of a hyphenated word that are no words: none in "good-humoured" and "co-op"."""
    parts = [part for part in word.split("-") if len(part) >= SHORTEST_PART]
    return [p for p in parts if not (is_known(p) or is_common(p.removesuffix("d")) or is_common(p.removesuffix("ed")))]


def is_name(word: str) -> bool:
    """Is this, in small letters, listed as a name (with or without its 's)?"""
    return is_listed_name(word) or is_listed_name(word.removesuffix("'s"))


@cache
def corrections() -> dict[str, str]:
    """Slips with one sure correction: a lost apostrophe (dont), a regular form (catched), two words in one (alot)."""
    sure = {"im": "I'm", "ive": "I've"}
    for word in suggested().words:
        bare = word.replace("'", "")
        if bare != word and bare.islower() and not is_common(bare):
            sure[bare] = word
    for name in ("irregular.tsv", "slips.tsv"):
        for line in table_rows(name):
            written, meant = line.split("\t")
            sure[written] = meant
    return sure


@cache
def allowed() -> frozenset[str]:
    """Interjections, calls, informal contractions, the small words of other languages' names, and newer words."""
    lists = ("spoken_forms.txt", "newer_words.txt")
    return frozenset(word for name in lists for line in table_rows(name) for word in line.split())


@cache
def well_known_names() -> frozenset[str]:
    """Words with a capital that are spelling words too: days, months, feasts, peoples, countries."""
    return frozenset(word for line in table_rows("well_known_names.txt") for word in line.split())


def _listed(word: str) -> bool:
    places = suggested().place
    return word in places or word.capitalize() in places or is_rare(word)


def table_rows(name: str) -> list[str]:
    """The lines of one of the package's own tables, comments left out."""
    text = (files(__package__) / "data" / name).read_text("utf-8")
    return [line for line in text.splitlines() if line and not line.startswith("#")]
