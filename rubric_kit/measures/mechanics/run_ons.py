"""Run-ons and comma splices, from the clauses that the parser finds. Only what is sure is accused."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubric_kit.measures.clauses import AUXILIARIES, Clause, Tree, clause_words, finite_clauses
from rubric_kit.measures.mechanics.joining import MARKS_OF_SPEECH, joins_clauses, sentence_words
from rubric_kit.measures.mechanics.places import Places

if TYPE_CHECKING:
    from spacy.tokens import Span

    from rubric_kit.measures.found import Found
    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay

BREAKS = frozenset({".", "?", "!", ";", ":", "-", "--", "...", "(", ")", '"', "/", "....", "'"})
TAG_QUESTION_WORDS = 5  # words in the longest tag question: "they could n't , could they"
LEAST_GAP = 2  # tokens from the first verb to the second clause; a clause right after its verb is mostly its object
OPENING_WORDS = frozenset({"and", "but", "so", "also", "or", ",", "because", "that"})
NEAR = 2  # tokens between a joining word and the clause that it opens: "because sometimes he ..."
VERBS = frozenset({"VB", "VBD", "VBG", "VBN", "VBP", "VBZ", "MD"})


def run_ons(essay: Essay, parse: Parse) -> tuple[Found, ...]:
    """Sentences with two independent clauses and neither an end mark nor a conjunction between them.

    One claim for each sentence, on the whole of it: "comma splice" where a comma stands at the first join, "run-on"
    where nothing does. The suggestion is the join with a full stop. Quoted speech is not judged.
    """
    tree = Tree(parse.doc)
    clauses = finite_clauses(tree)
    places = Places(essay)
    found = []
    for sentence, span in zip(essay.sentences, parse.sentences, strict=True):
        for join in _open_joins(tree, clauses, span):
            comma = tree.words[join - 1] == ","
            before, after = parse.doc[join - 2 if comma else join - 1], parse.doc[join]
            better = f"{before.text}. {after.text[0].upper()}{after.text[1:]}"
            kind = "comma splice" if comma else "run-on"
            mark = "only a comma" if comma else "no mark and no joining word"
            why = f"Two complete sentences have {mark} between them, before “{after.text}”."
            found.append(places.sentence(sentence, kind, why, (better,)))
            break
    return tuple(found)


def _open_joins(tree: Tree, clauses: dict[int, Clause], span: Span) -> list[int]:
    """First tokens of the main clauses that nothing joins to the main clause before them."""
    if any(tree.words[i] in MARKS_OF_SPEECH for i in range(span.start, span.end)):
        return []
    mains = [i for i in range(span.start, span.end) if i in clauses and clauses[i].main and _subject_first(tree, i)]
    joins = []
    for here, there in zip(mains, mains[1:], strict=False):
        start = min(_first(tree, there, here), _subject(tree, there))
        if start - here >= LEAST_GAP and _is_open(tree, clauses, span, here, there, start):
            joins.append(start)
    return joins


def _subject(tree: Tree, verb: int) -> int:
    """Where the subject's phrase begins."""
    return tree.start(min(tree.subjects(verb)))


def _subject_first(tree: Tree, verb: int) -> bool:
    subjects = tree.subjects(verb)
    return bool(subjects) and min(subjects) < verb


def _first(tree: Tree, verb: int, after: int) -> int:
    """The first token of a clause, what the parser hung on it from the clause before left out."""
    helpers = [verb, *tree.find(verb, AUXILIARIES)]
    own = [tree.start(k) for helper in helpers for k in tree.children[helper] if k > after and tree.words[k] != ","]
    return min([k for k in own if k > after], default=verb)


def _is_open(tree: Tree, clauses: dict[int, Clause], span: Span, here: int, there: int, start: int) -> bool:
    comma = tree.words[start - 1] == ","
    gap = range(here + 1, _subject(tree, there))
    if any(tree.words[k] in BREAKS or ";" in tree.words[k] for k in gap):
        return False
    if any(_joins(tree, k, start) for k in gap):
        return False
    subject = min(tree.subjects(there))
    if subject < here or tree.words[subject] in sentence_words("relative"):
        return False
    phrase = _subject(tree, there)
    if not comma and tree.words[phrase] not in sentence_words("openers"):
        return False
    if tree.words[phrase - 1] in sentence_words("slips_for_joiners") or not tree.words[start][0].isalpha():
        return False
    if any(tree.words[k] in sentence_words("linking_adverbs") for k in range(start - 2, subject)):
        return False
    if comma and _is_condition(tree, span, start):
        return False
    if _is_subordinate(tree, clauses, span, here) or _is_possessive_slip(tree, there, comma):
        return False
    if _is_aside(tree, there, span) or _is_aside(tree, here, span) or _takes(tree, here, start):
        return False
    if _is_comparison(tree, span) or _is_tag_question(tree, there, span):
        return False
    return not (comma and _is_series(tree, there, span, clauses))


def _joins(tree: Tree, k: int, start: int) -> bool:
    """A conjunction between clauses, or any joining word right before the second clause."""
    word = tree.words[k]
    if not joins_clauses(word):
        return False
    near = start - k <= NEAR or k >= start
    return near or tree.tags[tree.heads[k]] in VERBS or word not in {"and", "or"}


def _is_subordinate(tree: Tree, clauses: dict[int, Clause], span: Span, here: int) -> bool:
    """The first clause really hangs on a subordinator that the parser overlooked: "If you want a car you need help"."""
    before = range(span.start, _subject(tree, here) + 1)
    if any(k in clauses for k in before):
        return False
    return any(tree.words[k] in sentence_words("subordinate_openers") for k in before)


def _is_condition(tree: Tree, span: Span, start: int) -> bool:
    """ "... and if he ran and I fell, we lost": the comma ends what hangs on the "if"."""
    for k in range(start - 2, span.start - 1, -1):
        if tree.words[k] == ",":
            return False
        if tree.words[k] in sentence_words("conditions") and (k == span.start or tree.words[k - 1] in OPENING_WORDS):
            return True
    return False


def _is_possessive_slip(tree: Tree, there: int, comma: bool) -> bool:
    """ "We design they're projects": a slip for "their", not a clause."""
    return not comma and tree.words[there].startswith("'") and tree.tags[there + 1].startswith("NN")


def _takes(tree: Tree, here: int, start: int) -> bool:
    """The first clause ends in a word that takes a clause without "that": "I am glad you came", "the way we live"."""
    comma = tree.words[start - 1] == ","
    last = start - 2 if comma else start - 1
    lemma = tree.lemmas[last]
    if lemma in {"be", "seem"} or tree.words[last] in sentence_words("slips_for_joiners"):
        return True
    if comma:
        return last == here and lemma in clause_words("complement_takers")
    if lemma in clause_words("gapless_nouns") or tree.words[last] in sentence_words("clause_takers"):
        return True
    return lemma in clause_words("complement_takers") or tree.lemmas[here] in clause_words("complement_takers")


def _is_aside(tree: Tree, verb: int, span: Span) -> bool:
    """ "I think", "you know", "he said", "as we say" put into a sentence."""
    if tree.lemmas[verb] not in clause_words("complement_takers"):
        return False
    return not any(tree.deps[k] in {"dobj", "prep", "xcomp", "acomp", "attr", "neg"} for k in tree.children[verb])


def _is_comparison(tree: Tree, span: Span) -> bool:
    """ "The more you read, the more you know." """
    pairs = sum(tree.words[i] == "the" and tree.tags[i + 1] in {"JJR", "RBR"} for i in range(span.start, span.end - 1))
    return pairs > 1


def _is_tag_question(tree: Tree, there: int, span: Span) -> bool:
    return tree.words[span.end - 1] == "?" and span.end - there <= TAG_QUESTION_WORDS


def _is_series(tree: Tree, there: int, span: Span, clauses: dict[int, Clause]) -> bool:
    """ "He cooked, she swept, and I slept": commas are right before the last "and"."""
    later = [i for i in range(there + 1, span.end) if i in clauses and clauses[i].main]
    return any(
        tree.words[k] in {"and", "or", "but"} and tree.words[k - 1] == "," for i in later for k in range(there, i)
    )
