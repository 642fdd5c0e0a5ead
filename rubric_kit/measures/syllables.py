"""Syllables of a word as it is read aloud: from CMUdict, else from its known parts, else from its letters.

Numbers, money, times, symbols and abbreviations are read out in words first (spoken.py); of two accepted
pronunciations the one with fewer syllables counts (Flesch 1979, ch. 2).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from functools import lru_cache

from rubric_kit.measures.familiar import dale_chall_words
from rubric_kit.measures.letters_to_syllables import spelled_out, syllables_by_letters
from rubric_kit.measures.pronunciation import pronunciations
from rubric_kit.measures.spoken import read_aloud

Pronounced = Callable[[str], tuple[str, ...]]

HISSES = frozenset(("S", "Z", "SH", "ZH", "CH", "JH"))  # a plural or possessive s after these is a syllable: box, boxes
MERE_S = re.compile(r"(?<!IH\d)(?<!AH\d)(?<!IY\d) [SZ]$")  # a last s that adds no syllable, as in axes it does
STOPS = frozenset(("T", "D"))  # -ed after these is a syllable: want, wanted
ONE_HALF = 4  # letters; shorter halves make compounds of words that are none (trials on folds 1 to 5)
SYLLABIC_L = re.compile("[^aeiouyrl]le$")  # its syllable is lost before -ing: sample, sampling
VOWEL = re.compile("[aeiouy]")
SAME = re.compile(r"([a-z])\1{2,}")
APOSTROPHES = str.maketrans("’‘ʼ`", "''''")
# Most contractions are in CMUdict. The rest add a syllable after a consonant ("might've") and none after a vowel
# ("who've"); 'd does only after t or d ("it'd").
CONTRACTION = re.compile("(?:'ll|'ve|'re|n't|'d)$")


@lru_cache(maxsize=10_000)
def syllables(word: str) -> int:
    """How many syllables a word has, at least 1 where there is anything to say, 0 for mere punctuation."""
    return count_syllables(word, pronunciations)


def count_syllables(word: str, pronounced: Pronounced) -> int:
    """As ``syllables``, with a dictionary of one's own (a word in lower case to its pronunciations in phones)."""
    plain = word if word.isascii() else unicodedata.normalize("NFKC", word)
    plain = plain.translate(APOSTROPHES)
    return sum(_of_one_part(part, pronounced) for part in read_aloud(plain))


def _of_one_part(part: str, pronounced: Pronounced) -> int:
    """Syllables of letters and apostrophes without a break."""
    lower = part.lower()
    known = _known(lower, pronounced)
    if known:
        return known
    if part.isupper() and not set(lower) & set("aeiouy"):
        return spelled_out(lower)
    trimmed = lower.strip("'")
    plain = "".join(c for c in unicodedata.normalize("NFKD", trimmed) if c.isascii())
    for form in (trimmed, plain, SAME.sub(r"\1\1", plain), SAME.sub(r"\1", plain)):
        known = _known(form, pronounced) or _inflected(form, pronounced)
        if known:
            return known
    joined = SAME.sub(r"\1\1", plain).replace("'", "")
    if not joined:
        return 1 if any(c.isalnum() for c in trimmed) else 0
    return _compound(joined, pronounced) or syllables_by_letters(joined)


def _known(word: str, pronounced: Pronounced) -> int:
    return min((vowels(phones) for phones in pronounced(word)), default=0)


def vowels(phones: str) -> int:
    """Vowel phones, each of which bears its stress as a digit: the syllables of a pronunciation."""
    return phones.count("0") + phones.count("1") + phones.count("2")


def _fewest(word: str, pronounced: Pronounced) -> tuple[int, str]:
    """The syllables and the last phone of the shortest pronunciation; (0, "") for a word that is not known."""
    said = [(vowels(phones), phones.split()[-1]) for phones in pronounced(word)]
    return min(said, default=(0, ""))


def _inflected(word: str, pronounced: Pronounced) -> int:
    """Syllables of an inflection, contraction or simple derivation of a known word; 0 if it is none."""
    contracted = CONTRACTION.search(word)
    if contracted:
        return _contracted(word[: contracted.start()], contracted.group(), pronounced)
    if word.endswith("s'") or (word.endswith("s") and not word.endswith("ss")):
        return _with_s(word, pronounced)
    for base, ending in _bases(word):
        stem, last = _fewest(base, pronounced)
        if stem and ending == "ed":
            return stem + (last in STOPS)
        if stem:
            return stem + (ending == "un" or not SYLLABIC_L.search(base))
    return _without_s(word, pronounced)


def _contracted(base: str, ending: str, pronounced: Pronounced) -> int:
    stem, last = _fewest(base, pronounced)
    if not stem:
        stem = _inflected(base, pronounced)
        last = base[-1:].upper()
    if ending == "'d":
        return stem + (last in STOPS) if stem else 0
    return stem + (not last[-1:].isdigit()) if stem else 0


def _with_s(word: str, pronounced: Pronounced) -> int:
    """Plurals, third persons and possessives: the phone before the s decides, not the letter."""
    if word.endswith("s'"):
        return _known(word[:-1], pronounced) or _with_s(word[:-1], pronounced)
    if word.endswith("'s"):
        bases = [word[:-2]]
    else:
        bases = [word[:-1]]
        if word.endswith("es"):
            bases.append(word[:-2])
        if word.endswith("ies"):
            bases.append(f"{word[:-3]}y")
    for base in bases:
        stem, last = _fewest(base, pronounced)
        if stem:
            return stem + (last in HISSES)
    return 0


def _without_s(word: str, pronounced: Pronounced) -> int:
    """A singular whose plural is known, where the s is no syllable of its own."""
    return min((vowels(phones) for phones in pronounced(f"{word}s") if MERE_S.search(phones)), default=0)


def _bases(word: str) -> Iterator[tuple[str, str]]:
    """What a word may have been before -ed, -ing or un-, with that affix: for hopping hopp, hoppe and hop."""
    for ending in ("ed", "ing"):
        stem = word.removesuffix(ending)
        if stem != word and VOWEL.search(stem):
            yield stem, ending
            yield f"{stem}e", ending
            if len(stem) > 2 and stem[-1] == stem[-2]:
                yield stem[:-1], ending
            if ending == "ed" and stem.endswith("i"):
                yield f"{stem[:-1]}y", ending
    if word.startswith("un"):
        yield word[2:], "un"


def _compound(word: str, pronounced: Pronounced) -> int:
    """Syllables of two familiar words written as one ("stalemate"), 0 if it is not that."""
    familiar = dale_chall_words()
    for end in range(len(word) - ONE_HALF, ONE_HALF - 1, -1):
        first, second = word[:end], word[end:]
        if first in familiar and second in familiar:
            halves = _known(first, pronounced), _known(second, pronounced)
            if all(halves):
                return sum(halves)
    return 0
