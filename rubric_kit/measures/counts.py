"""Count once per essay what every readability formula needs.

Where the published counting rules differ, these hold here:

- A word is one by Flesch's rule for every formula: contractions, hyphenated words, figures and abbreviations are one
  word each (Flesch 1979; McLaughlin 1969). The one published Fog example that splits hyphens is not followed.
- A sentence ends at . ? ! or with its paragraph; semicolons and colons inside it end nothing.
- ``syllables`` (Flesch, Flesch-Kincaid): as pronounced, the fewer of two; figures, symbols and abbreviations are one
  syllable each, Flesch's own rule.
- ``polysyllables`` (SMOG) and ``monosyllables`` (FORCAST): figures and abbreviations are read aloud, names count.
- ``complex_words`` (Fog): three or more syllables but not names, figures, compounds of easy words, or words whose third
  syllable is -ed or -es (Gunning 1952; copies that leave out -ing as well are not followed).
- ``hard_words`` (Linsear Write): three or more syllables but not names, figures or abbreviations.
- ``unfamiliar`` (Dale-Chall) and ``spache_unfamiliar``: not on the list under any regular ending, nor a name or a
  figure; for Spache each word once in a sample of 100.
- ``characters`` are letters and digits, without punctuation (ARI, Coleman-Liau); ``long_words`` have over six letters.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import compress
from operator import lshift, mul

from rubric_kit.measures.familiar import dale_chall_words, is_familiar, spache_words
from rubric_kit.measures.remembered import Remembered
from rubric_kit.measures.spoken import DOTTED, abbreviations
from rubric_kit.measures.syllables import syllables
from rubric_kit.reading import Essay

POLYSYLLABLE = 3  # syllables, from McLaughlin 1969 and Gunning 1952
LONG = 6  # letters; a longer word is long, from Björnsson 1968
SPACHE_SAMPLE = 100  # words, from Spache 1953
HALF = 3  # letters; the shortest half of a compound, so that "another" is not made of "an" and "other"

SYMBOL = re.compile(r"[\d&$£€%¢°]")
OPENING = "\"“‘'(["
APOSTROPHES = str.maketrans("’‘", "''")


@dataclass(frozen=True, slots=True)
class Counts:
    """What was counted in one text; a formula checked from given numbers fills in only those it needs."""

    paragraphs: int = 0
    sentences: int = 0
    words: int = 0
    syllables: int = 0
    letters: int = 0
    characters: int = 0
    monosyllables: int = 0
    polysyllables: int = 0
    complex_words: int = 0
    hard_words: int = 0
    long_words: int = 0
    unfamiliar: int = 0
    spache_unfamiliar: int = 0


# What a word adds to the counts, a name nothing to the last three. All are in one number, so that one addition adds up
# all: each has room for a million million.
OF_WORDS = (
    "syllables",
    "letters",
    "characters",
    "monosyllables",
    "polysyllables",
    "long_words",
    "complex_words",
    "hard_words",
    "unfamiliar",
)
BITS = 40  # of each
PLACES = range(0, BITS * len(OF_WORDS), BITS)
NOT_OF_NAMES = -1 << PLACES[OF_WORDS.index("complex_words")]


def count(essay: Essay) -> Counts:
    """Count an essay's words, each distinct one once; its title and heading are not part of it."""
    written: Sequence[str] = essay.written
    times = essay.uses
    dotted = frozenset(_dotted(essay))
    if dotted:
        written = [f"{text}." if place in dotted else text for place, text in enumerate(written)]
        times = Counter(written)
    names = names_in(essay)
    names |= {f"{name}." for name in names}
    added = sum(map(mul, map(_ADDED.__getitem__, times), times.values()))
    added -= sum((_ADDED[name] & NOT_OF_NAMES) * times[name] for name in names.intersection(times))
    return Counts(
        paragraphs=len(essay.paragraphs),
        sentences=sum(1 for sentence in essay.sentences if sentence.words),
        words=len(written),
        spache_unfamiliar=_distinct_in_samples(written, times, names),
        **{name: added >> place & (1 << BITS) - 1 for name, place in zip(OF_WORDS, PLACES, strict=True)},
    )


def _dotted(essay: Essay) -> Iterator[int]:
    """Which words the full stop behind makes abbreviations: "St." before the end of its sentence."""
    first = 0
    for sentence in essay.sentences:
        words = sentence.words
        if words and essay.text.find(".", words[0].end, words[-1].start) >= 0:
            for place, word in enumerate(words[:-1], first):
                if essay.text[word.end] == "." and is_abbreviation(f"{word.text}."):
                    yield place
        first += len(words)


def names_in(essay: Essay) -> frozenset[str]:
    """Names as written: words with capitals where none are due, also where they start a sentence.

    A word that also stands in small letters somewhere in the essay is no name.
    """
    capitals = {text for text in essay.uses if text[0].isupper() and len(text) > 1 and not text.isupper()}
    if not capitals:
        return frozenset()
    firsts = {sentence.words[0].start for sentence in essay.sentences if sentence.words}
    inside = {
        word.text
        for word in compress(essay.words, map(capitals.__contains__, essay.written))
        if word.start not in firsts and essay.text[word.start - 1] not in OPENING
    }
    if not inside:
        return frozenset()
    names = {_BASES[text] for text in inside}.difference(map(_SMALL_BASES.__getitem__, essay.uses))
    return frozenset([text for text in capitals if _BASES[text] in names])


@lru_cache(maxsize=10_000)
def is_abbreviation(word: str) -> bool:
    """Whether Flesch would call it an abbreviation: "Mr.", "U.S.", "TV", "USA" (said by its letters)."""
    lower = word.lower().rstrip(".")
    listed = abbreviations().get(lower)
    if DOTTED.fullmatch(word) or (listed and (word.endswith(".") or not listed.needs_dot)):
        return True
    return len(word) > 1 and word.isupper() and word.isalpha() and syllables(word) >= len(word)


def _base(word: str) -> str:
    return word.lower().translate(APOSTROPHES).removesuffix("'s")


def _small_base(word: str) -> str:
    return "" if word[0].isupper() else _base(word)


def _added(word: str) -> int:
    """What a word adds to the counts, as one number."""
    lower = word.lower().translate(APOSTROPHES)
    spoken = max(1, syllables(word))
    figure = _is_figure(word)
    hard = spoken >= POLYSYLLABLE and not figure
    letters = sum(map(str.isalpha, word))
    counts = (
        1 if figure else spoken,
        letters,
        sum(map(str.isalnum, word)),
        spoken == 1,
        spoken >= POLYSYLLABLE,
        letters > LONG,
        hard and not _made_of_easy_words(lower) and not _by_ending(lower),
        hard,
        not figure and not is_familiar(lower, dale_chall_words()),
    )
    return sum(map(lshift, counts, PLACES))


def _strange(word: str) -> str:
    """The word in small letters where Spache's list has it not, else ""."""
    lower = word.lower().translate(APOSTROPHES)
    return "" if _is_figure(word) or is_familiar(lower, spache_words()) else lower


def _is_figure(word: str) -> bool:
    return bool(SYMBOL.search(word)) or is_abbreviation(word)


_ADDED = Remembered(_added)
_STRANGE = Remembered(_strange)
_BASES = Remembered(_base)
_SMALL_BASES = Remembered(_small_base)


def _made_of_easy_words(word: str) -> bool:
    """A compound each part of which has fewer than three syllables: "grandmother", "old-fashioned"."""
    return any(all(syllables(part) < POLYSYLLABLE for part in parts) for parts in _ways_to_part(word))


def _ways_to_part(word: str) -> Iterator[list[str]]:
    if "-" in word:
        yield word.split("-")
        return
    words = dale_chall_words()
    for end in range(HALF, len(word) - HALF + 1):
        if word[:end] in words and is_familiar(word[end:], words):
            yield [word[:end], word[end:]]


def _by_ending(word: str) -> bool:
    """Whether the third syllable is only the ending -ed or -es: "created", "trespasses"."""
    if syllables(word) != POLYSYLLABLE or not word.endswith(("ed", "es")):
        return False
    return any(0 < syllables(stem) < POLYSYLLABLE for stem in (word[:-1], word[:-2]))


def _distinct_in_samples(written: Sequence[str], distinct: Iterable[str], names: Collection[str]) -> int:
    """How many words Spache's list has not, names aside, counted anew in each sample of 100 words."""
    strange = {text: _STRANGE[text] for text in distinct if _STRANGE[text] and text not in names}
    samples = (written[start : start + SPACHE_SAMPLE] for start in range(0, len(written), SPACHE_SAMPLE))
    return sum(len({*map(strange.get, sample)} - {None}) for sample in samples)
