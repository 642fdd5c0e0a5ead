"""Slips with words that a plain pattern shows: "could of", "any body", "cant", "my dads car", "the hole day"."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from rubric_kit.measures.clauses import FINITE_TAGS
from rubric_kit.measures.remembered import Remembered

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rubric_kit.measures.found import Found
    from rubric_kit.measures.mechanics.places import Places
    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay, Sentence, Word

DATA = files("rubric_kit.measures.mechanics") / "data"
MODAL = re.compile(r"(could|would|should|might|must|wou?l?d|shou?l?d)(n'?t)?|hadn'?t|never|not")
HAVE_FOLLOWS = re.compile(
    r"\w+ed|been|had|gone|went|done|did|known|seen|saw|come|came|got|gotten|won|made|taken|took|told|left"
)
FULL_MODAL = frozenset({"could", "would", "should", "might", "must"})
BEFORE_ONE = frozenset({"some", "every", "any"})
ONE_GOES_ON = frozenset({"of", "in", "on", "at"})  # "every one of them", "burns every one in the stove"
DETERMINERS = frozenset({"my", "your", "his", "her", "our", "their", "the", "a", "that", "this", "each"})
NO_OWNERS = frozenset({"It", "Her", "Your", "Our", "Their", "A", "I"})  # with an s they own things without apostrophe
NOUN_TAGS = frozenset({"NN", "NNS"})
WINDOW = 40  # characters before and after a word that a pattern may look at


_LOW = Remembered(lambda word: word.lower().replace("’", "'"))


@cache
def _split_words() -> dict[tuple[str, str], str]:
    return {(first, second): whole for first, second, whole in _rows("split_words.tsv")}


@cache
def _patterns() -> dict[str, list[tuple[str, re.Pattern[str], re.Pattern[str]]]]:
    """Word as written to (word meant, what must end the text before, what must begin the text after)."""
    found: dict[str, list[tuple[str, re.Pattern[str], re.Pattern[str]]]] = {}
    for written, meant, before, after in _rows("word_patterns.tsv"):
        found.setdefault(written, []).append((meant, re.compile(f"(?:{before})$"), re.compile(after)))
    return found


def _rows(name: str) -> list[list[str]]:
    lines = (DATA / name).read_text("utf-8").splitlines()
    return [line.split("\t") for line in lines if not line.startswith("#")]


@cache
def _lists() -> dict[str, frozenset[str]]:
    lists = tomllib.loads((DATA / "word_slips.toml").read_text("utf-8"))
    return {name: frozenset(words.split()) for name, words in lists.items()}


def word_slips(essay: Essay, parse: Parse, places: Places) -> Iterator[Found]:
    """Claims in order of the text, each on one word or on the two words of the slip."""
    tags = parse.tree.tag_at
    inside = (word.text for sentence in essay.sentences for word in sentence.words[1:])
    names = {text.removesuffix("'s").removesuffix("’s") for text in inside if text[0].isupper()} - NO_OWNERS
    for sentence in essay.sentences:
        following = [*(_LOW[word.text] for word in sentence.words[1:]), ""]
        for place, word in enumerate(sentence.words):
            if not _IN_SLIPS[word.text] and following[place] != "of":
                continue
            after = sentence.words[place + 1 : place + 3]
            close = bool(after) and essay.text[word.end : after[0].start].isspace()
            item = _in_two_words(places, word, after) if close else None
            item = (
                item or _apostrophe(places, sentence, place, tags, names) or _by_pattern(essay, places, sentence, word)
            )
            if item:
                yield item


def _is_in_slips(word: str) -> bool:
    """Could this begin one of the slips below, "of" behind it aside? Most words could not."""
    low = _LOW[word]
    return low[-1] == "s" or low in {"cant", "wont", "in"} or low in _patterns() or low in _first_halves()


@cache
def _first_halves() -> frozenset[str]:
    return frozenset(first for first, _ in _split_words())


_IN_SLIPS = Remembered(_is_in_slips)


def _in_two_words(places: Places, word: Word, after: tuple[Word, ...]) -> Found | None:
    """As in "could of", or a word cut in two."""
    first, second = _plain(word), _plain(after[0])
    third = _plain(after[1]) if len(after) > 1 else ""
    if (second, third) == ("body", "part"):
        return None
    if second == "of" and MODAL.fullmatch(first) and (HAVE_FOLLOWS.fullmatch(third) or first in FULL_MODAL - {third}):
        if third == "course":
            return None
        why = "“Of” sounds like the end of “could've”; what is meant is “have”."
        if first == "not":
            return places.found(after[0].start, after[0].end, "of for have", why, ("have",))
        return places.found(word.start, after[0].end, "of for have", why, (f"{word.text} have",))
    whole = _split_words().get((first, second), "")
    if (first, second) == ("in", "to") and third in _lists()["after_into"]:
        whole = "into"
    if not whole or (first in BEFORE_ONE and second == "one" and (third in ONE_GOES_ON or not third)):
        return None
    shown = _like(whole, word.text)
    return places.found(word.start, after[0].end, "word in two", f"“{shown}” is one word.", (shown,))


def _apostrophe(places: Places, sentence: Sentence, place: int, tags: dict[int, str], names: set[str]) -> Found | None:
    """As in "cant", "wont", and one person's thing: "my dads car", "Hooks hand", "each others names", "a mans toe".

    Of many animals or people the heads are many, so "the wildcats head" is that of one.
    """
    word = sentence.words[place]
    low = _plain(word)
    before = _plain(sentence.words[place - 1]) if place else ""
    if low in {"cant", "wont"} and before not in DETERMINERS:
        better, why = word.text[:-1] + "'t", "It is short for two words, so it has an apostrophe."
    elif (
        low[-1] == "s"
        and _owns(sentence, place, tags)
        and (
            (low in _lists()["persons"] and (before in DETERMINERS or (place and word.text[0].isupper())))
            or (low == "others" and before == "each")
            or (low == "peoples" and before not in _lists()["of_peoples"])
            or (before == "a" and tags.get(word.start) == "NNS")
            or (before in DETERMINERS and tags.get(word.start) == "NNS" and _has_one(sentence, place, tags))
            or (word.text[0].isupper() and word.text[:-1] in names and before != "the")
        )
    ):
        better, why = word.text[:-1] + "'s", "What follows belongs to one person, so there is an apostrophe."
    else:
        return None
    return places.found(word.start, word.end, "apostrophe missing", why, (better,))


def _owns(sentence: Sentence, place: int, tags: dict[int, str]) -> bool:
    """A thing follows right after: "my dads car", but not "my brothers play" or "my friends and I"."""
    if place + 1 >= len(sentence.words):
        return False
    after = sentence.words[place + 1]
    if after.start - sentence.words[place].end > 1:  # a comma stands between them
        return False
    return tags.get(after.start, "") in NOUN_TAGS and _plain(after) not in _lists()["verbs_too"]


def _has_one(sentence: Sentence, place: int, tags: dict[int, str]) -> bool:
    """What follows is a part that each has one of, and the verb of the sentence is another word."""
    verb = any(tags.get(word.start, "") in FINITE_TAGS for word in sentence.words)
    return verb and _plain(sentence.words[place + 1]) in _lists()["one_each"]


def _by_pattern(essay: Essay, places: Places, sentence: Sentence, word: Word) -> Found | None:
    """The claim of the pattern that fits around the word, if one does and does not call it right."""
    meant = pattern_of(essay, sentence, word)
    if meant in {"", _plain(word)}:
        return None
    shown = _like(meant, word.text)
    why = f"Here “{word.text}” stands for “{shown}”."
    return places.found(word.start, word.end, f"{_plain(word)}/{meant}", why, (shown,))


def pattern_of(essay: Essay, sentence: Sentence, word: Word) -> str:
    """The word that the first fitting pattern of ``word_patterns.tsv`` puts here, maybe the same; "" if none fits."""
    patterns = _patterns().get(_plain(word))
    if not patterns:
        return ""
    before = essay.text[max(sentence.start, word.start - WINDOW) : word.start].lower().replace("’", "'")
    after = essay.text[word.end : min(sentence.end, word.end + WINDOW)].lower().replace("’", "'")
    before, after = " ".join(before.split()), " " * after[:1].isspace() + " ".join(after.split())
    return next((meant for meant, left, right in patterns if left.search(before) and right.match(after)), "")


def _like(word: str, model: str) -> str:
    return word[0].upper() + word[1:] if model[0].isupper() else word


def _plain(word: Word) -> str:
    return _LOW[word.text]
