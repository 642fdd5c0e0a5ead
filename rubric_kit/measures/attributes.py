"""Parts of speech and lemmas, just as spaCy's attribute ruler and lemmatizer give them, in a tenth of their time.

The ruler tries each of its rules on each token of a document. What fits a token depends on its word, tag and relation
alone, and of words on those few that rules name; so here the rules are tried once for each such kind of token, and what
follows for a word is remembered.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from spacy.language import Language
    from spacy.tokens import Doc
    from spacy.vocab import Vocab

    Key = tuple[int, ...]  # word, tag and relation; then the rules of several tokens that are about this one
    Kind = tuple[str, bool, int, int]  # a word that rules name, else ""; is it blank; tag and relation

RULER, LEMMATIZER = "attribute_ruler", "lemmatizer"
ASKED: list[int | str] = ["ORTH", "TAG", "DEP"]
# Rules change tags and relations too, of blanks above all.
GIVEN: list[int | str] = ["POS", "MORPH", "LEMMA", "TAG", "DEP"]
REMEMBERED = 20_000  # keys, some 8 MB; an essay brings about 50 new ones


class _Pattern(NamedTuple):
    """What a rule, by its number, looks for: so many tokens, one after the other."""

    rule: int
    length: int


class _Fitting(NamedTuple):
    """What fits a kind of token: rules of one token; of patterns of several tokens, which, and the place in it."""

    rules: set[int]
    parts: set[tuple[int, int]]


class Attributes:
    """Fills in part of speech, morphology and lemma of documents that are tagged and parsed."""

    def __init__(self, nlp: Language) -> None:
        from spacy.attrs import IDS  # type: ignore[import-not-found]  # has no stub
        from spacy.matcher import Matcher

        ruler: Any = nlp.get_pipe(RULER)
        lemmatizer: Any = nlp.get_pipe(LEMMATIZER)
        self._lemmatizer = lemmatizer
        listed = lemmatizer.lookups.get_table("lemma_index")
        for kind, forms in listed.items():
            listed[kind] = frozenset(forms)  # it only asks whether a form is there, of lists of up to 57,000
        self._says = [[said.get(IDS[name]) for name in GIVEN] for said in ruler.attrs]
        self._about: list[int] = ruler.indices  # which of its tokens a rule is about
        self._patterns: list[_Pattern] = []
        self._matcher = Matcher(nlp.vocab)  # of single tokens, each named by its pattern and its place there
        for rule, row in enumerate(ruler.patterns):
            for tokens in row["patterns"]:
                for place, token in enumerate(tokens):
                    self._matcher.add(f"{len(self._patterns)} {place}", [[token]])
                self._patterns.append(_Pattern(rule, len(tokens)))
        self._words, self._expressions = _named(ruler.patterns)
        self._fitting: dict[Kind, _Fitting] = {}
        self._known: dict[Key, list[int]] = {}
        self._parts: dict[Key, set[tuple[int, int]]] = {}  # of the keys that have any

    def fill_in(self, doc: Doc) -> None:
        """Set what the ruler and the lemmatizer would set, in place."""
        if not len(doc):
            return
        if len(self._known) > REMEMBERED:
            self._known.clear()
            self._parts.clear()
            self._fitting.clear()
        keys: list[Key] = list(zip(*doc.to_array(ASKED).T.tolist(), strict=True))
        self._learn(keys, doc)
        for token, rule in list(self._of_several(keys)):
            keys[token] += (rule,)
        self._learn(keys, doc)
        _set(doc, GIVEN, [self._known[key] for key in keys])

    def _learn(self, keys: Iterable[Key], doc: Doc) -> None:
        """Try the rules and the lemmatizer on a document of those that are new."""
        new = list(set(keys).difference(self._known))
        if not new:
            return
        words = [doc.vocab.strings[word] for word, *_ in new]
        kinds = [self._kind(word, key) for word, key in zip(words, new, strict=True)]
        strange = {kind: token for token, kind in enumerate(kinds) if kind not in self._fitting}
        if strange:
            self._try(strange, _document(doc.vocab, words, new, strange.values()))
        for key, kind in zip(new, kinds, strict=True):
            if self._fitting[kind].parts:
                self._parts[key] = self._fitting[kind].parts
        asked = _document(doc.vocab, words, new, range(len(new)))
        rules = [self._fitting[kind].rules.union(key[3:]) for key, kind in zip(new, kinds, strict=True)]
        _set(asked, GIVEN, list(map(self._said, new, rules)))
        self._lemmatizer(asked)
        self._known.update(zip(new, asked.to_array(GIVEN).tolist(), strict=True))

    def _kind(self, word: str, key: Key) -> Kind:
        low = word.lower()
        named = low in self._words or any(expression.search(low) for expression in self._expressions)
        return low if named else "", word.isspace(), key[1], key[2]

    def _try(self, kinds: Iterable[Kind], doc: Doc) -> None:
        """Try the rules on a document that has a token of each of these kinds."""
        fitting = [_Fitting(set(), set()) for _ in doc]
        for name, token, _ in self._matcher(doc, allow_missing=True):
            pattern, place = map(int, doc.vocab.strings[name].split())
            if self._patterns[pattern].length == 1:
                fitting[token].rules.add(self._patterns[pattern].rule)
            else:
                fitting[token].parts.add((pattern, place))
        self._fitting.update(zip(kinds, fitting, strict=True))

    def _of_several(self, keys: Sequence[Key]) -> Iterator[tuple[int, int]]:
        """Tokens, with the rules of several tokens that are about them."""
        for start, key in enumerate(keys):
            for pattern, place in self._parts.get(key, ()):
                rule, length = self._patterns[pattern]
                here = keys[start : start + length]
                fits = (((pattern, at) in self._parts.get(other, ())) for at, other in enumerate(here))
                if place == 0 and len(here) == length and all(fits):
                    yield start + self._about[rule], rule

    def _said(self, key: Key, rules: Iterable[int]) -> list[int]:
        """What a token is given by rules together: of two the later one counts."""
        given = [0, 0, 0, *key[1:3]]
        for rule in sorted(rules):
            given = [old if new is None else new for old, new in zip(given, self._says[rule], strict=True)]
        return given


def _named(rules: Iterable[Mapping[str, Any]]) -> tuple[set[str], list[re.Pattern[str]]]:
    """The words, in small letters, and the expressions for them that rules look for."""
    words, expressions = set[str](), []
    conditions = [token.get("LOWER") for rule in rules for tokens in rule["patterns"] for token in tokens]
    for condition in conditions:
        if isinstance(condition, str):
            words.add(condition)
        elif condition and "REGEX" in condition:
            expressions.append(re.compile(condition["REGEX"]))
        elif condition:
            words.update(*condition.values())
    return words, expressions


def _document(vocab: Vocab, words: Sequence[str], keys: Sequence[Key], tokens: Collection[int]) -> Doc:
    """A document of some of these words, with their tags and relations."""
    from spacy.tokens import Doc

    doc = Doc(vocab, words=[words[token] for token in tokens])
    _set(doc, ASKED[1:], [keys[token][1:3] for token in tokens])
    return doc


def _set(doc: Doc, names: list[int | str], rows: Sequence[Sequence[int]]) -> None:
    """Set attributes of all tokens, a row for each."""
    import numpy as np

    table: Any = np.array(rows, np.uint64)  # the stub of from_array wants an array of thinc's
    doc.from_array(names, table)
