"""Sentences by their grammar: T-units and clauses, how long and how varied sentences are, how they open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import mean, stdev

from rubric_kit.measures.alignment import first_tokens
from rubric_kit.measures.catalogue import Measure, by_name
from rubric_kit.measures.clauses import Clause, compound_predicates
from rubric_kit.measures.parse import Parse
from rubric_kit.measures.tree import SUBJECTS, Tree
from rubric_kit.reading import Essay, Sentence, Word

# The standard error of a mean of five is already 45% of the spread; below that a mean says little.
ENOUGH_SENTENCES = 5
ENOUGH_T_UNITS = 5

NO_UNIT = -1
JOINING_WORDS = frozenset({"and", "but", "or", "so", "yet", "nor"})  # "for" is nearly always a preposition
QUESTION_TAGS = frozenset({"WRB", "WP", "WDT", "WP$"})
OPENING_KINDS = {  # what the first word hangs on in its clause, in plain words
    **dict.fromkeys(SUBJECTS, "subject"),
    "cc": "joining word",
    "advmod": "adverb",
    "npadvmod": "adverb",
    "intj": "interjection",
    "prep": "prepositional phrase",
    "agent": "prepositional phrase",
    "advcl": "clause",
    "ccomp": "clause",
    "mark": "clause",
    "aux": "verb",
    "auxpass": "verb",
}
ROOT_KINDS = {"VB": "verb", "IN": "prepositional phrase", "NN": "subject", "PR": "subject", "DT": "subject"}


@dataclass(frozen=True, slots=True)
class TUnit:
    """A main clause with all that hangs on it (Hunt 1965): where it starts, how many words and clauses it holds."""

    start: int
    words: int
    clauses: int


@dataclass(frozen=True, slots=True)
class Opening:
    """How a sentence begins: its first word in small letters, and the part of its clause that the word belongs to."""

    word: str
    kind: str


@dataclass(frozen=True, slots=True)
class SyntaxCounts:
    """What the syntax measures are worked out from.

    units                the T-units, in order
    sentence_words       words in each sentence of the child's own
    openings             how each sentence begins
    passive_clauses      finite clauses in the passive
    joined_units         T-units that open with and, but, or, so, yet, nor
    compound_predicates  verbs that share the subject of an earlier one
    """

    units: tuple[TUnit, ...]
    sentence_words: tuple[int, ...]
    openings: tuple[Opening, ...]
    passive_clauses: int
    joined_units: int
    compound_predicates: int

    @property
    def words(self) -> int:
        return sum(self.sentence_words)

    @property
    def sentences(self) -> int:
        return len(self.sentence_words)

    @property
    def t_units(self) -> int:
        return len(self.units)

    @property
    def clauses(self) -> int:
        return sum(unit.clauses for unit in self.units)

    @property
    def subordinate_clauses(self) -> int:
        return self.clauses - self.t_units


def syntax_counts(essay: Essay, parse: Parse) -> SyntaxCounts:
    """Count T-units, clauses and openings. The child's full stops are ignored for T-units: run-ons are split, and a
    detached clause or a fragment is counted with the T-unit before it (or, coming first, with the one after).
    """
    tree, clauses = parse.tree, parse.clauses
    sentences = [sentence for sentence in essay.sentences if sentence.words]
    unit_of = _unit_of_each_token(tree, clauses)
    tokens = first_tokens(essay.words, parse)
    words = Counter(unit_of[token] for token in tokens)
    held = Counter(unit_of[predicate] for predicate in clauses)
    opens: dict[int, tuple[Word, int]] = {}
    for word, token in zip(essay.words, tokens, strict=True):
        opens.setdefault(unit_of[token], (word, token))
    opens.pop(NO_UNIT, None)
    return SyntaxCounts(
        units=tuple(TUnit(word.start, words[unit], held[unit]) for unit, (word, _) in opens.items()),
        sentence_words=tuple(len(sentence.words) for sentence in sentences),
        openings=tuple(_openings(sentences, parse, tree, clauses)),
        passive_clauses=sum(clause.passive for clause in clauses.values()),
        joined_units=sum(tree.words[token] in JOINING_WORDS for _, token in opens.values()),
        compound_predicates=compound_predicates(tree),
    )


def _unit_of_each_token(tree: Tree, clauses: Mapping[int, Clause]) -> list[int]:
    """For each token the predicate that heads its T-unit; NO_UNIT throughout if the text has no main clause."""
    mains = {i for i, clause in clauses.items() if clause.main}
    tops = [_climb(tree, i, mains) for i in range(len(tree.heads))]
    units_under: dict[int, list[int]] = {}
    for main in sorted(mains):
        units_under.setdefault(_climb(tree, main, frozenset()), []).append(main)
    units, last = [], min(mains, default=NO_UNIT)
    for top in tops:
        if top in mains:
            last = top
        units.append(top if top in mains else min(units_under.get(top, [last])))
    for i in range(len(units) - 1):  # the parser hangs "and" on what stands before it; it opens what follows
        if tree.words[i] in JOINING_WORDS:
            units[i] = units[i + 1]
    return units


def _climb(tree: Tree, i: int, stops: Container[int]) -> int:
    while i not in stops and tree.heads[i] != i:
        i = tree.heads[i]
    return i


def _openings(sentences: Iterable[Sentence], parse: Parse, tree: Tree, clauses: Mapping[int, Clause]) -> list[Opening]:
    mains = {i for i, clause in clauses.items() if clause.main}
    firsts = [sentence.words[0] for sentence in sentences]
    return [
        Opening(word.text.lower(), _opening_kind(tree, token, mains))
        for word, token in zip(firsts, first_tokens(firsts, parse), strict=True)
    ]


def _opening_kind(tree: Tree, token: int, mains: Container[int]) -> str:
    if tree.words[token] in JOINING_WORDS:
        return "joining word"
    top = token
    while tree.heads[top] not in mains and tree.deps[tree.heads[top]] != "ROOT":
        top = tree.heads[top]
    head = tree.heads[top]
    if top == token and tree.tags[token] in QUESTION_TAGS:
        return "question word" if head in mains else "clause"
    if tree.tags[top] in {"VBG", "VBN"} and top not in mains and not tree.subjects(top):
        return "participle"
    if top == head or top in mains:
        return ROOT_KINDS.get(tree.tags[top][:2], "other")
    return OPENING_KINDS.get(tree.deps[top], "other")


def _chance_of_a_difference(items: Sequence[str]) -> float:
    """Simpson's index, in the form whose expected value doesn't depend on how many sentences there are."""
    same = sum(n * (n - 1) for n in Counter(items).values())
    return 1 - same / (len(items) * (len(items) - 1))


def words_per_t_unit(counts: SyntaxCounts) -> float:
    return counts.words / counts.t_units


def clauses_per_t_unit(counts: SyntaxCounts) -> float:
    return counts.clauses / counts.t_units


def words_per_clause(counts: SyntaxCounts) -> float:
    return counts.words / counts.clauses


def words_per_sentence(counts: SyntaxCounts) -> float:
    return counts.words / counts.sentences


def sentence_length_spread(counts: SyntaxCounts) -> float:
    return stdev(counts.sentence_words)


def sentence_length_variety(counts: SyntaxCounts) -> float:
    return stdev(counts.sentence_words) / mean(counts.sentence_words)


def opening_variety(counts: SyntaxCounts) -> float:
    return _chance_of_a_difference([opening.word for opening in counts.openings])


def opening_kind_variety(counts: SyntaxCounts) -> float:
    return _chance_of_a_difference([opening.kind for opening in counts.openings])


def subject_opening_share(counts: SyntaxCounts) -> float:
    return sum(opening.kind == "subject" for opening in counts.openings) / counts.sentences


def passive_share(counts: SyntaxCounts) -> float:
    return counts.passive_clauses / counts.clauses


def subordination(counts: SyntaxCounts) -> float:
    return counts.subordinate_clauses / counts.clauses


def t_units_per_sentence(counts: SyntaxCounts) -> float:
    return counts.t_units / counts.sentences


def joined_share(counts: SyntaxCounts) -> float:
    return counts.joined_units / counts.t_units


def compound_predicates_per_clause(counts: SyntaxCounts) -> float:
    return counts.compound_predicates / counts.clauses


_HUNT = "Hunt 1965, NCTE Research Report 3"
_LU = "Lu 2010, International Journal of Corpus Linguistics 15(4)"
_OWN = "own; plain counts over the parse"
_T_UNITS = {"at_least": {"t_units": 1}, "wants": {"t_units": ENOUGH_T_UNITS}}
_SENTENCES = {"at_least": {"sentences": 1}, "wants": {"sentences": ENOUGH_SENTENCES}}
_PAIRS = {"at_least": {"sentences": 2}, "wants": {"sentences": ENOUGH_SENTENCES}}

SYNTAX: dict[str, Measure[SyntaxCounts]] = by_name(
    [
        Measure("words_per_t_unit", words_per_t_unit, "words / T-units", "words", _HUNT, **_T_UNITS),
        Measure("clauses_per_t_unit", clauses_per_t_unit, "clauses / T-units", "clauses", _HUNT, **_T_UNITS),
        Measure("words_per_clause", words_per_clause, "words / clauses", "words", _HUNT, **_T_UNITS),
        Measure("words_per_sentence", words_per_sentence, "words / sentences", "words", _LU, **_SENTENCES),
        Measure(
            "sentence_length_spread",
            sentence_length_spread,
            "standard deviation of words in a sentence (n - 1)",
            "words",
            _OWN,
            **_PAIRS,
        ),
        Measure(
            "sentence_length_variety",
            sentence_length_variety,
            "standard deviation / mean of words in a sentence",
            "ratio",
            "Pearson 1896 (coefficient of variation)",
            **_PAIRS,
        ),
        Measure(
            "opening_variety",
            opening_variety,
            "1 - sum n(n - 1) / N(N - 1) over first words: the chance that two sentences open with different words",
            "0 to 1",
            "Simpson 1949, Nature 163 (index of diversity)",
            **_PAIRS,
        ),
        Measure(
            "opening_kind_variety",
            opening_kind_variety,
            "1 - sum n(n - 1) / N(N - 1) over kinds of opening: subject, adverb, phrase, clause, joining word, verb",
            "0 to 1",
            "Simpson 1949, Nature 163 (index of diversity)",
            **_PAIRS,
        ),
        Measure(
            "subject_opening_share",
            subject_opening_share,
            "sentences that open with their subject / sentences",
            "0 to 1",
            _OWN,
            **_SENTENCES,
        ),
        Measure("passive_share", passive_share, "passive clauses / clauses", "0 to 1", _OWN, **_T_UNITS),
        Measure("subordination", subordination, "subordinate clauses / clauses", "0 to 1", _LU, **_T_UNITS),
        Measure("t_units_per_sentence", t_units_per_sentence, "T-units / sentences", "T-units", _LU, **_SENTENCES),
        Measure(
            "joined_share",
            joined_share,
            "T-units that open with and, but, or, so, yet, nor / T-units",
            "0 to 1",
            _OWN,
            **_T_UNITS,
        ),
        Measure(
            "compound_predicates_per_clause",
            compound_predicates_per_clause,
            "verbs that share the subject of an earlier verb / clauses",
            "verbs",
            _OWN,
            **_T_UNITS,
        ),
    ]
)
