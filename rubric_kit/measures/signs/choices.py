"""Places where the grammar makes a writer choose: the form of a verb, the number of a noun, its article, a preposition.

For each place, what stands around it says how likely each choice is in edited prose (a logistic regression, after
Rozovskaya & Roth 2014, Transactions of the ACL 2). A writer's own choice is then expected or not. A single unexpected
choice is no error: their share is.
"""

from __future__ import annotations

import gzip
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from importlib.resources import files
from itertools import chain
from math import exp
from typing import TYPE_CHECKING, NamedTuple

from rubric_kit.measures.signs.shapes import shape, written
from rubric_kit.measures.tree import SUBJECTS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from spacy.tokens import Token

PREPOSITIONS = frozenset(
    {
        "of", "in", "to", "for", "with", "on", "at", "by", "from", "about", "as", "into", "like", "after", "between",
        "through", "over", "under", "during", "without", "against", "since", "within", "among", "until", "before",
        "toward", "towards", "upon",
    }
)  # fmt: skip
VERB_TAGS = frozenset({"VB", "VBZ", "VBP", "VBD", "VBG", "VBN"})
NOUN_TAGS = frozenset({"NN", "NNS"})
DETERMINERS = frozenset({"det", "poss", "nummod"})
ARTICLES = {"a": "a", "an": "a", "the": "the"}
NO_ARTICLE = "none"
NONE = "-"
EDGE = "<>"
SUFFIX = 3  # letters; enough to tell -ion, -ity, -ing
LONGEST_PHRASE = 4  # words before a noun; longer ones are alike
LEAST_CHANCE = 1e-4  # no choice is worse than this, so that one parse gone wrong does not outweigh an essay
TENTHS = 10  # weights are kept as whole tenths
KINDS = ("verb_form", "number", "article", "preposition")


class Choice(NamedTuple):
    """One place: what kind of choice, what was chosen, and the features of what stands around it."""

    kind: str
    chosen: str
    features: tuple[str, ...]


def choices(sentence: Iterable[Token]) -> Iterator[Choice]:
    """Every place of a sentence where the grammar makes its writer choose."""
    tokens = written(sentence)
    around = _Around([shape(t) for t in tokens], [t.lower_ for t in tokens])
    place_of = {token.i: place for place, token in enumerate(tokens)}
    subjects = {token.head.i: token for token in tokens if token.dep_ in SUBJECTS}
    for place, token in enumerate(tokens):
        if token.tag_ == "IN" and token.lower_ in PREPOSITIONS:
            yield Choice("preposition", token.lower_, (*around.names(place), *_of_preposition(token)))
        elif token.tag_ in NOUN_TAGS and token.dep_ != "compound":
            yield Choice("number", token.tag_, (*around.names(place, hidden="N"), *_of_number(token)))
            article = _article(token)
            if article:
                yield Choice("article", article, tuple(_of_article(token, place, place_of, around)))
        elif token.tag_ in VERB_TAGS and token.dep_ != "auxpass":
            features = (*around.names(place, hidden="V"), *_of_verb(token, subjects.get(token.i)))
            yield Choice("verb_form", token.tag_, features)


class _Around(NamedTuple):
    """The shapes and the words of a sentence."""

    shapes: Sequence[str]
    words: Sequence[str]

    def shape(self, place: int) -> str:
        return self.shapes[place] if 0 <= place < len(self.shapes) else EDGE

    def word(self, place: int) -> str:
        return self.words[place] if 0 <= place < len(self.words) else EDGE

    def names(self, place: int, hidden: str = "") -> Iterator[str]:
        """The features of a place; what stands there itself is not looked at."""
        h3, h2, h1 = (self.shape(place - n) for n in (3, 2, 1))
        n1, n2, n3 = (self.shape(place + n) for n in (1, 2, 3))
        w2, w1, x1, x2 = (self.word(place + n) for n in (-2, -1, 1, 2))
        yield from (f"h3={h3}", f"h2={h2}", f"h1={h1}", f"n1={n1}", f"n2={n2}", f"n3={n3}")
        yield from (f"w2={w2}", f"w1={w1}", f"x1={x1}", f"x2={x2}")
        yield from (f"hh={h2} {h1}", f"hn={h1} {n1}", f"nn={n1} {n2}", f"hhn={h2} {h1} {n1}", f"hnn={h1} {n1} {n2}")
        yield from (f"wn={w1} {n1}", f"hx={h1} {x1}")

    def without(self, place: int) -> _Around:
        return _Around(
            [*self.shapes[:place], *self.shapes[place + 1 :]], [*self.words[:place], *self.words[place + 1 :]]
        )


def _of_preposition(token: Token) -> Iterator[str]:
    thing = next((child for child in token.children if child.dep_ in {"pobj", "pcomp"}), None)
    of, tag = (thing.lemma_.lower(), thing.tag_) if thing is not None else (NONE, NONE)
    governor = token.head.lemma_.lower()
    has_object = any(child.dep_ == "dobj" for child in token.head.children)
    yield from (f"g={governor}", f"o={of}", f"gp={token.head.pos_}", f"ot={tag}", f"go={governor} {of}")
    yield from (f"gpo={token.head.pos_} {of}", f"got={governor} {tag}", f"gd={governor} {has_object}")


def _before(token: Token) -> list[Token]:
    return [child for child in token.children if child.i < token.i]


def _of_number(noun: Token) -> Iterator[str]:
    lemma = noun.lemma_.lower()
    first = next((child.lower_ for child in _before(noun) if child.dep_ in DETERMINERS), NONE)
    yield from (f"l={lemma}", f"d={noun.dep_}", f"a={first}", f"al={first} {lemma}")
    yield from (f"dg={noun.dep_} {noun.head.lemma_.lower()}", f"s={lemma[-SUFFIX:]}")


def _article(noun: Token) -> str | None:
    """a, the or none; None where another determiner leaves no choice."""
    first = next((child for child in _before(noun) if child.dep_ in DETERMINERS), None)
    return NO_ARTICLE if first is None else ARTICLES.get(first.lower_)


def _of_article(noun: Token, place: int, place_of: Mapping[int, int], around: _Around) -> Iterator[str]:
    left = _before(noun)
    start = place_of.get(min((child.i for child in left), default=noun.i), place)
    first = next((child for child in left if child.dep_ in DETERMINERS), None)
    if first is not None and first.i in place_of:
        start = place_of[first.i]
        around, place = around.without(start), place - 1
    lemma, tag = noun.lemma_.lower(), noun.tag_
    before, h1, h2 = around.word(start - 1), around.shape(start - 1), around.shape(start - 2)
    after, n1 = around.word(place + 1), around.shape(place + 1)
    opens, opening = around.word(start), around.shape(start)
    yield from (f"w1={before}", f"hw={h2} {before}", f"h1={h1}", f"l={lemma}", f"t={tag}", f"lt={lemma} {tag}")
    yield from (f"x1={after}", f"n1={n1}", f"f={opens}", f"fh={opening}", f"d={noun.dep_}")
    yield from (f"dg={noun.dep_} {noun.head.lower_}", f"wl={before} {lemma}", f"wt={before} {tag}")
    yield from (f"lx={lemma} {after}", f"tx={tag} {after}", f"dtn={noun.dep_} {tag} {n1}")
    yield from (f"n={min(LONGEST_PHRASE, place - start)} {tag}", f"ft={opening} {tag}", f"s={lemma[-SUFFIX:]} {tag}")


def _of_verb(verb: Token, subject: Token | None) -> Iterator[str]:
    helpers = " ".join(c.lower_ for c in _before(verb) if c.dep_ in {"aux", "auxpass", "neg"})
    who = NONE if subject is None else subject.lower_ if subject.pos_ == "PRON" else subject.tag_
    lemma = verb.lemma_.lower()
    # The root of a sentence is its own head, and its tag is what is asked for.
    head, head_tag = (NONE, NONE) if verb.head.i == verb.i else (verb.head.lemma_.lower(), verb.head.tag_)
    plain = lemma if lemma in {"be", "have", "do"} else "v"
    joins = " ".join(child.lower_ for child in verb.children if child.dep_ == "mark")
    yield from (f"a={helpers}", f"s={who}", f"as={helpers} {who}", f"d={verb.dep_}", f"da={verb.dep_} {who} {helpers}")
    yield from (f"dg={verb.dep_} {head}", f"dt={verb.dep_} {head_tag}", f"l={lemma}")
    yield from (f"ls={plain} {who}", f"la={lemma} {helpers}", f"m={joins}")


def chances(choice: Choice) -> dict[str, float]:
    """How likely each choice is at this place: they add up to 1. Empty for a choice that was not learned."""
    table = weights()[choice.kind]
    sums = dict(table["bias"])
    if choice.chosen not in sums:
        return {}
    for feature in choice.features:
        for option, weight in table.get(feature, {}).items():
            sums[option] += weight
    odds = {option: 1 / (1 + exp(-total)) for option, total in sums.items()}
    whole = sum(odds.values())
    return {option: max(LEAST_CHANCE, odd / whole) for option, odd in odds.items()}


@cache
def weights() -> Mapping[str, Mapping[str, Mapping[str, float]]]:
    """Log odds by kind, feature and option (data/choices.tsv.gz, written by tests/measures/build_choices.py)."""
    packed = (files("rubric_kit.measures.signs") / "data/choices.tsv.gz").read_bytes()
    table: dict[str, dict[str, dict[str, float]]] = {kind: {} for kind in KINDS}
    for line in gzip.decompress(packed).decode("utf-8").splitlines():
        if not line.startswith("#"):
            kind, feature, *rest = line.split("\t")
            pairs = zip(rest[::2], rest[1::2], strict=True)
            table[kind][feature] = {option: int(weight) / TENTHS for option, weight in pairs}
    return table


def all_choices(sentences: Iterable[Iterable[Token]]) -> Iterator[Choice]:
    """The choices of several sentences, in order."""
    return chain.from_iterable(map(choices, sentences))
