"""What can be seen on the surface: capitals, end marks, repeated words. Only what is sure is accused."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from functools import cache, lru_cache
from importlib.resources import files
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from rubric_kit.measures.mechanics.places import Places
from rubric_kit.measures.remembered import Remembered
from rubric_kit.measures.spelling.words import is_common
from rubric_kit.measures.tree import SUBJECTS, Tree

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rubric_kit.measures.found import Found
    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay, Sentence, Word

END_MARKS = ".?!…:"
CLOSERS = "\"'”’)]* "  # may stand after an end mark
MARK_FOLLOWS = re.compile(r"\s*[.?!]")
INITIAL = re.compile(r"\b[A-Z]\.[\"”']?$")
SPEECH = re.compile(r'\b(?:said|says?|asked|yelled|replied|shouted|whispered|answered|cried|told \w+),\s+["“]$')
NOUN_TAGS = frozenset({"NN", "NNS", "NNP", "NNPS"})
CALLED_AFTER = frozenset({"VBD", "VBZ", "VBP", "VB", "IN"})
OWNERS = frozenset({"my", "your", "his", "her", "our", "their"})
PRONOUN_I = frozenset({"i", "i'm", "i'll", "i've", "i'd"})
NAME_TAGS = frozenset({"NNP", "NNPS"})
EMPHASIS_TAGS = frozenset({"JJ", "RB", "UH", "NNP", "CD"})  # "a big big dog", "Run, run", "New York New York"
OBJECTS = frozenset({"dobj", "pobj", "dative", "attr"})
JOIN_TITLES = frozenset({"and", "of", "the", "in", "on", "or"})
QUOTES = re.compile('["“]')
JUST_BEFORE = 30  # characters in which the words before are looked for
HEADING_WORDS = 6  # a whole paragraph this short without an end mark is a heading or the item of a list
LEAST_NAME_LETTERS = 3
ALWAYS_CAPITAL = {
    "days": "Names of days take a capital.",
    "months": "Names of months take a capital.",
    "holidays": "Names of holidays take a capital.",
    "peoples": "Names of peoples and languages take a capital.",
    "places": "Names of places take a capital.",
    "titles": "A title before a name takes a capital.",
}


@cache
def _lists(name: str) -> dict[str, frozenset[str]]:
    text = (files("rubric_kit.measures.mechanics") / "data" / f"{name}.toml").read_text("utf-8")
    return {key: frozenset(words.split()) for key, words in tomllib.loads(text).items()}


def capitals(essay: Essay, parse: Parse | None = None) -> tuple[Found, ...]:
    """Words that need a capital ("capital missing") or must not have one ("capital not needed"), one claim a word.

    Needed: the first word of a sentence, the pronoun I, days, months, holidays, peoples, places, and names that the
    essay itself writes with a capital elsewhere. Not needed: little words inside a sentence. Without a parse, the
    essay's own names and those of relations are left alone.
    """
    places = Places(essay)
    tags = parse.tree.tag_at if parse else {}
    names = _names(essay, tags)
    found = []
    watched = {text for text in essay.uses if _LOOKS[text].listed or _LOOKS[text].owner in names}
    quoted = {match.end() for match in QUOTES.finditer(essay.text)}
    for sentence in essay.sentences:
        for place, word in enumerate(sentence.words):
            if place and word.text not in watched and word.start not in quoted:
                continue  # most words: nothing below has anything to say of these
            low, _, small, _ = _LOOKS[word.text]
            if small:
                why = _why_here(essay, sentence, place, low)
                why = why or _why_name(essay, sentence.words, place, names, tags)
                if why:
                    better = word.text[0].upper() + word.text[1:]
                    found.append(places.found(word.start, word.end, "capital missing", why, (better,)))
            elif place and _is_needless(essay, sentence, place, low):
                why = f"“{word.text}” stands inside the sentence and is no name, so it takes a small letter."
                found.append(places.found(word.start, word.end, "capital not needed", why, (word.text.lower(),)))
    return tuple(found)


class _Look(NamedTuple):
    """A word in small letters with plain apostrophes, and without its 's; is it written small; may a list accuse it?"""

    low: str
    owner: str
    small: bool
    listed: bool


def _first_look(text: str) -> _Look:
    lists = _lists("proper_words")
    low = text.lower().replace("’", "'")
    small = text[0].islower()
    needs = low in PRONOUN_I or low in lists["doubtful_months"] or bool(_always_capital(low))
    listed = low in lists["kin"] or (needs if small else low in lists["never_capital"])
    return _Look(low, low.removesuffix("'s"), small, listed)


_LOOKS = Remembered(_first_look)


def _plain(word: Word) -> str:
    return _LOOKS[word.text].low


def _why_here(essay: Essay, sentence: Sentence, place: int, low: str) -> str:
    """Why a word at this place needs a capital, whatever it means; empty if it needs none."""
    word = sentence.words[place]
    if low in PRONOUN_I:
        return "" if essay.text.startswith((".e", ")"), word.end) else "The word I takes a capital."
    if place == 0 and _begins(essay, sentence):
        return "A sentence begins with a capital."
    return "What someone says begins with a capital." if _opens_speech(essay, sentence, word) else ""


def _why_name(essay: Essay, words: tuple[Word, ...], place: int, names: frozenset[str], tags: dict[int, str]) -> str:
    """Why a word needs a capital wherever it stands; empty if it needs none."""
    lists = _lists("proper_words")
    low = _plain(words[place])
    owner = low.removesuffix("'s")
    kind = _always_capital(low)
    if kind:
        common = place + 1 < len(words) and _plain(words[place + 1]) in lists["common_after"]
        return "" if common else ALWAYS_CAPITAL[kind]
    if low in lists["doubtful_months"] and _is_date(essay, words, place):
        return ALWAYS_CAPITAL["months"]
    if low in lists["kin"] and _is_called(words, place, tags):
        return "Here this stands for a name, so it takes a capital."
    return "This is a name, and elsewhere in the essay it has its capital." if owner in names else ""


@lru_cache(maxsize=10_000)
def _always_capital(low: str) -> str:
    """The list that says this word, or its owner form, always takes a capital; "" if none does."""
    lists = _lists("proper_words")
    return next((kind for kind in ALWAYS_CAPITAL if lists[kind] & {low, low.removesuffix("'s")}), "")


def _begins(essay: Essay, sentence: Sentence) -> bool:
    """The sentence begins anew: what comes before is no "..." that the sentence goes on from."""
    before = essay.text[max(sentence.start - JUST_BEFORE, 0) : sentence.start].rstrip()
    if INITIAL.search(before):  # "The letters L. L. stand for a name"
        return False
    return not before.endswith(("...", "…", ",", ";", ":")) and essay.text[sentence.start] not in "-–—•*"


def _opens_speech(essay: Essay, sentence: Sentence, word: Word) -> bool:
    """As in "He said, "uh oh."": the first quotation mark of the sentence, after a comma, right before the word."""
    if not QUOTES.fullmatch(essay.text, max(0, word.start - 1), word.start):
        return False
    before = essay.text[sentence.start : word.start]
    if " as " in before:  # 'because, as she said, "it is late"'
        return False
    return bool(SPEECH.search(before)) and sum(before.count(mark) for mark in '"“”') == 1


def _is_called(words: tuple[Word, ...], place: int, tags: dict[int, str]) -> bool:
    """As in "I asked mom": used as a name, right after a verb or a preposition, with no noun after it."""
    if not place or (tags.get(words[place - 1].start, "") not in CALLED_AFTER):
        return False
    return place + 1 == len(words) or tags.get(words[place + 1].start, "") not in NOUN_TAGS


def _is_date(essay: Essay, words: tuple[Word, ...], place: int) -> bool:
    """As in "in may", "march 3", "the 15th of march": a month and not the verb."""
    start = words[place].start
    before = essay.text[max(start - JUST_BEFORE, 0) : start].split()[-2:]
    after = essay.text[words[place].end : words[place].end + 3].strip()
    dated = len(before) > 1 and before[1] == "of" and before[0][0].isdigit()
    return after[:1].isdigit() or dated or before[-1:] == ["in"]


def _names(essay: Essay, tags: dict[int, str]) -> frozenset[str]:
    """Names, in small letters: tagged so wherever they have a capital inside a sentence, and no everyday words."""
    capitals = {
        text for text in essay.uses if text[0].isupper() and not text.isupper() and len(text) >= LEAST_NAME_LETTERS
    }
    with_capital: Counter[str] = Counter()
    as_name: Counter[str] = Counter()
    for sentence in essay.sentences:
        for word in sentence.words[1:]:
            if word.text in capitals:
                low = _LOOKS[word.text].owner
                with_capital[low] += 1
                as_name[low] += tags.get(word.start) in NAME_TAGS
    return frozenset(
        name for name, n in with_capital.items() if as_name[name] == n and not is_common(name) and "'" not in name
    )


def _is_needless(essay: Essay, sentence: Sentence, place: int, low: str) -> bool:
    """A little word with a capital between two words in small letters, with nothing but a space or comma around it."""
    lists = _lists("proper_words")
    if place + 1 >= len(sentence.words):
        return False
    before, word, after = sentence.words[place - 1 : place + 2]
    if low in lists["kin"]:  # "my Mom", but "my Grandpa Joe"
        return _plain(before) in OWNERS and not after.text[0].isupper() and not word.text.isupper()
    if low not in lists["never_capital"] or low == "a" or (word.text.isupper() and len(word.text) > 1):
        return False  # a lone A may be a grade, a word in capitals is meant to shout
    in_title = place > 1 and sentence.words[place - 2].text[0].isupper() and before.text in JOIN_TITLES
    if in_title or not (before.text[0].islower() and after.text[0].islower()):  # "Five Children and It"
        return False
    return essay.text[before.end : word.start] in {" ", ", "} and essay.text[word.end : after.start] == " "


def end_marks(essay: Essay, parse: Parse) -> tuple[Found, ...]:
    """Sentences without . ? or ! at their end, one claim on the last word. Headings and list items are left alone."""
    places = Places(essay)
    tags = parse.tree.tag_at
    found = []
    for paragraph in essay.paragraphs:
        for sentence in paragraph.sentences:
            text = essay.text[sentence.start : sentence.end].rstrip(CLOSERS)
            marked = text[-1:] in END_MARKS or MARK_FOLLOWS.match(essay.text, sentence.end)
            if not sentence.words or marked or _goes_on(essay, sentence):
                continue
            alone = len(paragraph.sentences) == 1 and len(sentence.words) <= HEADING_WORDS
            if alone or not any(_is_verb(tags.get(word.start, "")) for word in sentence.words):
                continue
            last = sentence.words[-1]
            why = "The sentence ends without a period, question mark or exclamation mark."
            found.append(places.found(last.start, last.end, "end mark missing", why, (last.text + ".",)))
    return tuple(found)


def _goes_on(essay: Essay, sentence: Sentence) -> bool:
    """A comma or a little word at the end: the line was broken inside a sentence, or it is the greeting of a letter."""
    last = sentence.words[-1]
    if "," in essay.text[last.end : sentence.end] or essay.text[sentence.end : sentence.end + 1] == ",":
        return True
    return _plain(last) in _lists("proper_words")["never_ends"]


def _is_verb(tag: str) -> bool:
    return tag in {"VBD", "VBP", "VBZ", "MD", "VB"}


def repeated_words(essay: Essay, parse: Parse) -> tuple[Found, ...]:
    """The same word twice in a row by a slip, one claim on both; emphasis ("very very") and "had had" are no slips."""
    places = Places(essay)
    tree = parse.tree
    found = []
    for first, second in _same_neighbours(essay):
        one, two = tree.token_at.get(first.start), tree.token_at.get(second.start)
        if not _starts_clause(tree, one, two) and _is_slip(tree, _plain(first), one):
            why = f"“{first.text}” is written twice."
            found.append(places.found(first.start, second.end, "repeated word", why, (first.text,)))
    return tuple(found)


def _same_neighbours(essay: Essay) -> Iterator[tuple[Word, Word]]:
    """A word of a sentence and the same again, with only white space between them."""
    for sentence in essay.sentences:
        words = sentence.words
        plain = [_plain(word) for word in words]
        for place, (one, other) in enumerate(pairwise(plain)):
            if one == other and essay.text[words[place].end : words[place + 1].start].isspace():
                yield words[place], words[place + 1]


def _starts_clause(tree: Tree, first: int | None, second: int | None) -> bool:
    """As in "When you see it it is gone": the second belongs to the next clause."""
    return first is not None and second is not None and tree.deps[first] in OBJECTS and tree.deps[second] in SUBJECTS


def _is_slip(tree: Tree, word: str, token: int | None) -> bool:
    if word in _lists("repeats")["allowed"] or not word.isalpha():
        return False
    return token is None or tree.tags[token] not in EMPHASIS_TAGS or word in _lists("proper_words")["never_capital"]
