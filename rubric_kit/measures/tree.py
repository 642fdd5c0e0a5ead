"""The parse of one text as plain lists: to ask spaCy for each token costs a hundred times as much as a list does."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from spacy.tokens import Doc

SUBJECTS = frozenset({"nsubj", "nsubjpass", "csubj", "csubjpass", "expl"})
AUXILIARIES = frozenset({"aux", "auxpass"})
QUOTE = '"'
MARKS_OF_SPEECH = frozenset({'"', "``", "''"})
QUESTION = "?"


class Tree:
    """What the parser says of each token, by its number.

    starts    its place in the text
    texts     as written; words: the same in small letters
    tags      Penn Treebank tag; kinds: universal part of speech
    stops     1 where it is one of spaCy's stop words, which say little by themselves, else 0
    deps      how it hangs on its head; heads: the number of that token, its own at a root
    children  the tokens that hang on it, in order
    """

    def __init__(self, doc: Doc) -> None:
        self.starts: list[int] = doc.to_array("IDX").tolist()
        self.texts = _column(doc, "ORTH")
        self.words = _column(doc, "LOWER")
        self.lemmas = _column(doc, "LEMMA")
        self.tags = _column(doc, "TAG")
        self.kinds = _column(doc, "POS")
        self.stops: list[int] = doc.to_array("IS_STOP").tolist()
        self.deps = _column(doc, "DEP")
        steps: list[int] = doc.to_array("HEAD").astype("int64").tolist()  # from the token to its head
        self.heads = [token + step for token, step in enumerate(steps)]
        hung: dict[int, list[int]] = {}
        for token, head in enumerate(self.heads):
            if head != token:
                hung.setdefault(head, []).append(token)
        self.children: list[Sequence[int]] = [hung.get(token, ()) for token in range(len(self.heads))]
        self._doc = doc

    @cached_property
    def _questions(self) -> set[int]:
        return {self._doc[token].sent.root.i for token, text in enumerate(self.texts) if text == QUESTION}

    @cached_property
    def _quotes(self) -> list[int]:
        return [token for token, text in enumerate(self.texts) if text == QUOTE]

    @cached_property
    def _speech(self) -> list[int]:
        return [token for token, word in enumerate(self.words) if word in MARKS_OF_SPEECH]

    @cached_property
    def token_at(self) -> dict[int, int]:
        """The token that starts at a place in the text."""
        return {place: token for token, place in enumerate(self.starts)}

    @cached_property
    def tag_at(self) -> dict[int, str]:
        """The tag of the token that starts at a place in the text."""
        return dict(zip(self.starts, self.tags, strict=True))

    def find(self, token: int, deps: frozenset[str]) -> list[int]:
        return [child for child in self.children[token] if self.deps[child] in deps]

    def subjects(self, token: int) -> list[int]:
        """Subjects of a verb, those hung on its auxiliary by the parser included."""
        verbs = [token, *self.find(token, AUXILIARIES)]
        return [subject for verb in verbs for subject in self.find(verb, SUBJECTS)]

    def start(self, token: int) -> int:
        """The first token of the subtree."""
        while self.children[token] and self.children[token][0] < token:
            token = self.children[token][0]
        return token

    def quoted(self, one: int, other: int) -> bool:
        """A quotation mark stands between two tokens."""
        return _count(self._quotes, min(one, other), max(one, other)) > 0

    def marks_of_speech(self, start: int, end: int) -> int:
        """How many stand from one token up to another."""
        return _count(self._speech, start, end)

    def asks(self, token: int) -> bool:
        """The token is the root of a sentence with a question mark."""
        return token in self._questions


def _count(places: Sequence[int], start: int, end: int) -> int:
    """How many of the places, in order, lie from ``start`` up to ``end``; none where they are the wrong way round."""
    return max(0, bisect_left(places, end) - bisect_left(places, start))


def _column(doc: Doc, name: str) -> list[str]:
    strings = doc.vocab.strings
    keys = doc.to_array(name).tolist()
    names = {key: strings[key] for key in set(keys)}
    return [names[key] for key in keys]
