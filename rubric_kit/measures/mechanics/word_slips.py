"""Slips with words that a plain pattern shows: "could of", "cant", "any body", "my dads car"."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rubric_kit.measures.found import Found
    from rubric_kit.measures.mechanics.places import Places
    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay, Word

DATA = files("rubric_kit.measures.mechanics") / "data"
MODALS = frozenset({"could", "would", "should", "might", "must", "couldn't", "wouldn't", "shouldn't"})
BEFORE_OF = frozenset({"some", "every", "any"})  # "every one of them" is right
OWNERS = frozenset({"my", "your", "his", "her", "our", "their"})
NOUN_TAGS = frozenset({"NN", "NNS"})


@cache
def _split_words() -> frozenset[tuple[str, str]]:
    rows = (line.split("\t") for line in (DATA / "split_words.tsv").read_text("utf-8").splitlines())
    return frozenset((row[0], row[1]) for row in rows if not row[0].startswith("#"))


@cache
def _lists() -> dict[str, frozenset[str]]:
    lists = tomllib.loads((DATA / "word_slips.toml").read_text("utf-8"))
    return {name: frozenset(words.split()) for name, words in lists.items()}


def word_slips(essay: Essay, parse: Parse, places: Places) -> Iterator[Found]:
    """Claims in order of the text, each on one word or on the two words of the slip."""
    tags = {token.idx: token.tag_ for token in parse.doc}
    for sentence in essay.sentences:
        words = sentence.words
        for place, word in enumerate(words):
            after = words[place + 1 : place + 3]
            close = bool(after) and essay.text[word.end : after[0].start].isspace()
            item = _of_two(places, word, after) if close else None
            yield from [item] if item else _of_one(places, words, place, tags)


def _of_two(places: Places, word: Word, after: tuple[Word, ...]) -> Found | None:
    """A slip made of this word and the next."""
    first, second = _plain(word), _plain(after[0])
    third = _plain(after[1]) if len(after) > 1 else ""
    if second == "of" and first in MODALS and third != "course":
        why = f"“{word.text} of” sounds like “{word.text}'ve”; what is meant is “have”."
        return places.found(word.start, after[0].end, "of for have", why, (f"{word.text} have",))
    if (first, second) in _split_words() and not (first in BEFORE_OF and second == "one" and third == "of"):
        why = f"“{word.text + second}” is one word."
        return places.found(word.start, after[0].end, "word in two", why, (word.text + second,))
    return None


def _of_one(places: Places, words: tuple[Word, ...], place: int, tags: dict[int, str]) -> Iterator[Found]:
    """Apostrophes: "cant", "wont", and one person's thing after "my" ("my dads car")."""
    word = words[place]
    low = _plain(word)
    before = _plain(words[place - 1]) if place else ""
    if low in {"cant", "wont"} and before not in OWNERS:
        better = word.text[:-1] + "'t"
        why = f"“{better}” is short for two words, so it has an apostrophe."
        yield places.found(word.start, word.end, "apostrophe missing", why, (better,))
    elif low in _lists()["persons"] and before in OWNERS and _owns(words, place, tags):
        better = word.text[:-1] + "'s"
        why = f"What follows belongs to one person, so it is “{better}”, with an apostrophe."
        yield places.found(word.start, word.end, "apostrophe missing", why, (better,))


def _owns(words: tuple[Word, ...], place: int, tags: dict[int, str]) -> bool:
    """A thing follows right after: "my dads car", but not "my brothers play" or "my friends and I"."""
    if place + 1 >= len(words) or tags.get(words[place + 1].start, "") not in NOUN_TAGS:
        return False
    return _plain(words[place + 1]) not in _lists()["verbs_too"]


def _plain(word: Word) -> str:
    return word.text.lower().replace("’", "'")
