"""Run-ons and comma splices, from the clauses that the parser finds. Only what is sure is accused."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from rubric_kit.measures.clauses import Clause, clause_words
from rubric_kit.measures.mechanics.comma_joins import comma_joins
from rubric_kit.measures.mechanics.joining import (
    goes_on_alike,
    has_comparison,
    joins_clauses,
    sentence_words,
    takes_clause,
)
from rubric_kit.measures.mechanics.places import Places
from rubric_kit.measures.tree import AUXILIARIES, MARKS_OF_SPEECH, Tree

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from spacy.tokens import Span

    from rubric_kit.measures.found import Found
    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay

BREAKS = frozenset({".", "?", "!", ";", ":", "-", "--", "...", "(", ")", "/", "....", "'"}) | MARKS_OF_SPEECH
TAG_QUESTION_WORDS = 5  # words in the longest tag question: "could n't they have ?"
NEAR = 2  # tokens between a joining word and the clause that it opens: "because sometimes he ..."
VERBS = frozenset({"VB", "VBD", "VBG", "VBN", "VBP", "VBZ", "MD"})
OPENING_WORDS = frozenset({"and", "but", "so", "also", "or", ",", "because", "that", "even"})
COORDINATORS = frozenset({"and", "or", "but"})
BEFORE_TIMES = frozenset({"the", "every", "each"})
OBJECTS = frozenset({"dobj", "xcomp", "acomp", "attr", "ccomp", "oprd"})
COMPLEMENTS = frozenset({"dobj", "prep", "xcomp", "acomp", "attr", "neg", "ccomp", "oprd"})


def run_ons(essay: Essay, parse: Parse) -> tuple[Found, ...]:
    """Sentences with two independent clauses and neither an end mark nor a conjunction between them.

    One claim for each sentence, on the whole of it: "comma splice" where a comma stands at the first join, "run-on"
    where nothing does. The suggestion is the join with a full stop. Quoted speech is not judged.
    """
    tree = parse.tree
    places = Places(essay)
    found = []
    for sentence, starts in zip(essay.sentences, _opened(parse), strict=True):
        opened = min(starts, default=None)
        if opened is None:
            continue
        comma = tree.words[opened - 1] == ","
        before, after = parse.doc[opened - 2 if comma else opened - 1], parse.doc[opened]
        better = f"{before.text}. {after.text[0].upper()}{after.text[1:]}"
        kind, mark = ("comma splice", "only a comma") if comma else ("run-on", "no mark and no joining word")
        why = f"Two complete sentences have {mark} between them, before “{after.text}”."
        found.append(places.sentence(sentence, kind, why, (better,)))
    return tuple(found)


def joins(parse: Parse) -> frozenset[int]:
    """Offsets in the text of the words that should have opened a sentence of their own: every join, not only the first
    of each run-on that ``run_ons`` claims.
    """
    return frozenset(parse.tree.starts[k] for starts in _opened(parse) for k in starts)


@lru_cache(maxsize=1)  # asked twice of an essay, for its run-ons and for its joins
def _opened(parse: Parse) -> list[set[int]]:
    """The tokens of each sentence that should have opened another."""
    tree, clauses = parse.tree, parse.clauses
    return [
        {join.start for join in _open_joins(tree, clauses, span)} | set(comma_joins(tree, span.start, span.end))
        for span in parse.sentences
    ]


@dataclass(frozen=True, slots=True)
class _Join:
    """Two main clauses that follow each other, as places of tokens.

    here, there    their verbs
    start, phrase  where the second clause begins, and where the phrase of its subject does
    comma          a comma stands before it
    """

    here: int
    there: int
    start: int
    phrase: int
    comma: bool


def _open_joins(tree: Tree, clauses: Mapping[int, Clause], span: Span) -> Iterator[_Join]:
    """The joins at which nothing joins the second clause to the first."""
    mains = [i for i in range(span.start, span.end) if _is_main(tree, clauses, i) and _is_full(tree, i, span)]
    for here, there in pairwise(mains):
        phrase = _subject(tree, there)
        if phrase <= here:
            continue
        start = _first(tree, here, there, phrase)
        comma = tree.words[start - 1] == ","
        join = _Join(here, there, start if comma else phrase, phrase, comma or tree.words[phrase - 1] == ",")
        if not _is_joined(tree, join, span) and not _is_dependent(tree, clauses, join, span):
            yield join


def _is_main(tree: Tree, clauses: Mapping[int, Clause], i: int) -> bool:
    """Heads a T-unit, or is taken for the object of a later verb that has one already: "he fell, they found him"."""
    if i not in clauses:
        return False
    head = tree.heads[i]
    if clauses[i].main or tree.deps[i] != "ccomp" or head < i or head not in clauses or not clauses[head].main:
        return clauses[i].main
    subjects = tree.subjects(head)
    comma = bool(subjects) and i < min(subjects) < head and tree.words[tree.start(min(subjects)) - 1] == ","
    return comma and any(k > head for k in tree.find(head, OBJECTS))


def _is_full(tree: Tree, verb: int, span: Span) -> bool:
    """A statement: its subject comes first, it is not quoted, and no aside like "I think" or "he said"."""
    subjects = tree.subjects(verb)
    if not subjects or min(subjects) > verb or _is_joiner(tree.words[verb]):
        return False
    if tree.marks_of_speech(span.start, verb) % 2:
        return False
    if tree.tags[verb] == "VB" and not tree.find(verb, AUXILIARIES):  # "she lets Becky listen"
        return False
    if tree.lemmas[verb] not in clause_words("complement_takers") | sentence_words("reporting"):
        return True
    # "It is late, he told her": what is told comes first, and the hearer is no object that makes a statement of it.
    told = any(k < verb for k in tree.find(verb, frozenset({"ccomp"})))
    wanted = COMPLEMENTS - {"prep", "neg"} if told else COMPLEMENTS
    hearer = told and tree.lemmas[verb] in sentence_words("telling")
    after = [k for k in tree.children[verb] if k > verb and tree.deps[k] in wanted]
    return any(not (hearer and tree.tags[k] == "PRP") for k in after)


def _is_joiner(verb: str) -> bool:
    """A joining word that the parser took for a verb: "less stress cause you work"."""
    return verb != "like" and joins_clauses(verb)


def _subject(tree: Tree, verb: int) -> int:
    """Where the subject's phrase begins."""
    return tree.start(min(tree.subjects(verb)))


def _first(tree: Tree, here: int, there: int, phrase: int) -> int:
    """The first token of the second clause, what the parser hung on it from the first left out."""
    helpers = [there, *tree.find(there, AUXILIARIES)]
    own = [tree.start(k) for helper in helpers for k in tree.children[helper] if k > here and tree.words[k] != ","]
    return min([k for k in own if k > here], default=phrase)


def _is_joined(tree: Tree, join: _Join, span: Span) -> bool:
    """A mark or a word joins the clauses, or usage is divided ("then", "so")."""
    gap = range(join.here + 1, join.phrase)
    if any(tree.words[k] in BREAKS or ";" in tree.words[k] for k in gap) or not tree.words[join.start][0].isalpha():
        return True
    if any(_joins(tree, k, join) for k in gap):
        return True
    if any(tree.words[k] in OPENING_WORDS - {","} and tree.words[k + 1] in sentence_words("conditions") for k in gap):
        return True  # "because if you have no time you cannot come"
    if any(tree.words[k] in sentence_words("linking_adverbs") for k in range(join.start - 2, join.phrase + 1)):
        return True
    return (
        has_comparison(tree, span.start, span.end)
        or _is_tag_question(tree, join.there, span)
        or _is_series(tree, join, span)
    )


def _joins(tree: Tree, k: int, join: _Join) -> bool:
    """A joining word at ``k``, right before the second clause or, where no comma shows its start, part of it."""
    word = tree.words[k]
    if not joins_clauses(word):
        return False
    if word == "that" and tree.tags[k] == "DT":  # "He knew all that, we did not"
        return False
    if k >= join.start or join.start - k <= NEAR:
        return True
    if word in COORDINATORS:
        if _opens_phrase(tree, k, join.phrase):
            return True
        head = tree.heads[k]
        added = next((c for c in tree.children[head] if c > k and tree.deps[c] == "conj"), -1)
        return added == join.there or (tree.tags[head] in VERBS and not join.comma)
    return not join.comma and tree.heads[k] in (join.there, tree.heads[join.there])


def _opens_phrase(tree: Tree, k: int, phrase: int) -> bool:
    """Between an "and" and the subject stands only a phrase of place or time: "and at Valley Forge it was cold"."""
    return tree.tags[k + 1] == "IN" and not any(tree.tags[i].startswith("VB") for i in range(k + 1, phrase))


def _is_dependent(tree: Tree, clauses: Mapping[int, Clause], join: _Join, span: Span) -> bool:
    """One clause hangs on the other, or may do so."""
    subject = min(tree.subjects(join.there))
    opener = tree.words[join.phrase]
    relative = tree.words[subject] in sentence_words("relative") and tree.tags[subject] != "DT"
    if relative or not (join.comma or opener in sentence_words("openers")):
        return True
    if tree.words[join.phrase - 1] in sentence_words("slips_for_joiners"):
        return True
    if _is_reduced_relative(tree, join) or _is_slip_for_their(tree, join):
        return True
    if join.comma and _is_condition(tree, span, join):
        return True
    if not join.comma and tree.words[join.there] in sentence_words("results"):  # "tears rusted his mouth shut"
        return True
    return _hangs_on_overlooked(tree, clauses, span, join.here) or _takes(tree, join)


def _hangs_on_overlooked(tree: Tree, clauses: Mapping[int, Clause], span: Span, here: int) -> bool:
    """The first clause hangs on a subordinator that the parser overlooked: "If you want a car you need help"."""
    subject = _subject(tree, here)
    if tree.words[subject - 1] == "," and subject > span.start:
        return False
    if subject - 2 >= span.start and tree.lemmas[subject - 1] in clause_words("gapless_nouns"):
        before = tree.words[subject - 2]  # "By the time he came we had left", "Next time it hurts I am going to stop"
        if before in BEFORE_TIMES or (before, tree.words[subject - 1]) == ("next", "time"):
            return True
    verb = next((k for k in range(subject - 1, span.start - 1, -1) if k in clauses), span.start - 1)
    return any(tree.words[k] in sentence_words("subordinate_openers") for k in range(verb + 1, subject + 1))


def _is_condition(tree: Tree, span: Span, join: _Join) -> bool:
    """As in "... and if he ran and I fell, we lost": the comma ends what hangs on the "if"."""
    # "When he came we ate, we drank": the "when" has its statement.
    settled = tree.find(join.here, frozenset({"advcl"}))
    for k in range(join.start - 2, span.start - 1, -1):
        if tree.words[k] == "," or any(tree.start(clause) <= k <= clause < join.here for clause in settled):
            return False
        if tree.words[k] in sentence_words("conditions") and (k == span.start or tree.words[k - 1] in OPENING_WORDS):
            return True
    return False


def _is_slip_for_their(tree: Tree, join: _Join) -> bool:
    """As in "We design they're projects" is no second clause."""
    tags = tree.tags[join.there + 1 : join.there + 3]
    if tree.words[join.phrase] == "there" and tree.tags[join.phrase + 1] not in VERBS | {"RB"}:  # "after there breaks"
        return True
    owned = tags[:1] == ["NN"] or (tags[:1] == ["JJ"] and tags[1:] in (["NN"], ["NNS"]))
    return not join.comma and tree.words[join.there].startswith("'") and owned


def _is_reduced_relative(tree: Tree, join: _Join) -> bool:
    """As in "Every detail she has given me": only a clause with a thing of its own or after "be" is surely none."""
    if join.comma or tree.deps[join.there] != "relcl":
        return False
    parts = [join.there, *tree.children[join.there]]
    parts += [k for part in parts[1:] for k in tree.children[part]]
    if any(tree.deps[k] == "prep" and not tree.children[k] for part in parts for k in tree.children[part]):
        return True  # "subjects they are interested in"
    things = [k for k in tree.find(join.there, frozenset({"dobj"})) if _is_thing(tree, k)]
    return tree.lemmas[join.there] != "be" and not things


def _is_thing(tree: Tree, k: int) -> bool:
    """No hearer ("tells me") and no degree ("trust the most")."""
    return tree.words[k] not in {"me", "us", "you"} and tree.tags[k] not in {"JJS", "RBS"}


def _takes(tree: Tree, join: _Join) -> bool:
    """The first clause ends in a word that takes a clause without "that": "I am glad you came", "the way we live"."""
    last = join.start - 1 - join.comma
    if tree.words[last] == tree.words[join.start]:  # "is they they give": a word written twice
        last -= 1
    word, lemma = tree.words[last], tree.lemmas[last]
    if (lemma in {"be", "seem"} and (last == join.here or not join.comma)) or word in sentence_words(
        "slips_for_joiners"
    ):
        return True
    if join.comma:
        return last == join.here and takes_clause(word, lemma)
    if lemma in clause_words("gapless_nouns") or takes_clause(word, lemma):
        return True
    told = tree.deps[last] in {"dobj", "dative", "advmod", "neg"} and tree.heads[last] == join.here  # "told me he came"
    return told and takes_clause(tree.words[join.here], tree.lemmas[join.here])


def _is_tag_question(tree: Tree, there: int, span: Span) -> bool:
    return tree.words[span.end - 1] == "?" and span.end - there <= TAG_QUESTION_WORDS


def _is_series(tree: Tree, join: _Join, span: Span) -> bool:
    """As in "He cooked, she swept, and I slept": commas are right before the last "and".

    Where no comma stands before "and", only clauses made alike are a row: "Ann has a cat, Ben has a dog and Al has".
    """
    if not join.comma:
        return False
    last = any(
        tree.words[k] in COORDINATORS and tree.words[k - 1] == "," and tree.heads[k] in (join.here, join.there)
        for k in range(join.there, span.end)
    )
    subjects, verbs = (_subject(tree, join.here), join.phrase), (join.here, join.there)
    return last or goes_on_alike(tree, subjects, verbs, span.end)
