"""The lists of familiar words of Dale and Chall and of Spache, extended by regular endings as their rules say."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from importlib.resources import files

from rubric_kit.measures.pronunciation import package_file

# Dale & Chall 1948, "Special rules": list words stay familiar with the regular endings of plural, possessive, verb,
# comparison and adverb; the final e may go, the final consonant double, y become i. Irregular forms must be listed.
ENDINGS = ("s", "es", "'s", "s'", "ed", "d", "ing", "er", "r", "est", "st", "ly")


@cache
def dale_chall_words() -> frozenset[str]:
    """The Dale-Chall list of about 3,000 words that four fifths of fourth graders know (as textstat ships it)."""
    return frozenset(package_file("textstat", "resources/en/easy_words.txt").read_text("utf-8").split())


@cache
def spache_words() -> frozenset[str]:
    """The revised list of Spache (1974), about 1,000 words of the primary grades."""
    lines = (files("rubric_kit.measures") / "data" / "spache_words.txt").read_text("utf-8").splitlines()
    return frozenset(line for line in lines if not line.startswith("#"))


def is_familiar(word: str, words: frozenset[str]) -> bool:
    """Whether a word in lower case is on a list, by itself or under a regular ending; hyphenated, if each part is."""
    if word in words:
        return True
    if "-" in word:
        return all(is_familiar(part, words) for part in word.split("-") if part)
    if not word.endswith(ENDINGS):
        return False
    return any(stem in words for ending in ENDINGS if word.endswith(ending) for stem in _stems(word, ending))


def _stems(word: str, ending: str) -> Iterator[str]:
    """What a word may have been before an ending: bak and bake, hopp and hop, carri and carry."""
    stem = word[: -len(ending)]
    yield stem
    if ending in {"ed", "ing", "er", "est"}:
        yield f"{stem}e"
        if len(stem) > 2 and stem[-1] == stem[-2]:
            yield stem[:-1]
    if stem.endswith("i"):
        yield f"{stem[:-1]}y"
