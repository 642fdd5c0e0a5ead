"""Fragments: punctuated as sentences, but with no statement that can stand alone. Only what is sure is accused."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubric_kit.measures.clauses import AUXILIARIES, SUBJECTS, clause_words
from rubric_kit.measures.mechanics.joining import MARKS_OF_SPEECH, joins_clauses, sentence_words
from rubric_kit.measures.mechanics.places import Places

if TYPE_CHECKING:
    from spacy.tokens import Span, Token

    from rubric_kit.measures.found import Found
    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay, Sentence

FINITE = frozenset({"VBD", "VBP", "VBZ", "MD"})
COORDINATORS = frozenset({"and", "or", "but", "nor"})
NO_CLAUSE_FOLLOWS = frozenset({"VBG", "VBN", "RB", "IN", "JJ", ",", "TO"})
COMMANDS = frozenset({"ROOT", "conj", "ccomp", "parataxis"})
NEAR = 3  # tokens from "and" to the verb that it adds: "and then he ran"
LONGEST_PHRASE = 14  # tokens
LEAST_WORDS = 2  # one word alone is an answer or an exclamation
WHY_SUBORDINATE = "“{}” makes this only a part of a sentence; the main statement is missing."
WHY_INCOMPLETE = "This has no subject with its verb, so it is only a part of a sentence."


def fragments(essay: Essay, parse: Parse) -> tuple[Found, ...]:
    """Sentences with no independent clause.

    Left alone: speech, questions, exclamations, answers, one word, and lines without a full stop (headings, lists).
    """
    places = Places(essay)
    found = []
    for sentence, span in zip(essay.sentences, parse.sentences, strict=True):
        tokens = [token for token in span if not token.is_space]
        while len(tokens) > 1 and (tokens[0].lower_ in COORDINATORS or not tokens[0].is_alpha):
            tokens.pop(0)
        if not tokens or _may_stand_alone(sentence, span, tokens) or _states(tokens):
            continue
        first = tokens[0].text
        subordinate = tokens[0].lower_ in sentence_words("subordinate_openers")
        why = WHY_SUBORDINATE.format(first.capitalize()) if subordinate else WHY_INCOMPLETE
        found.append(places.sentence(sentence, "fragment", why))
    return tuple(found)


def _may_stand_alone(sentence: Sentence, span: Span, tokens: list[Token]) -> bool:
    if len(sentence.words) < LEAST_WORDS or tokens[-1].text != "." or tokens[0].lower_ in sentence_words("answers"):
        return True
    return any(token.text in MARKS_OF_SPEECH for token in span)


def _states(tokens: list[Token]) -> bool:
    """Some finite verb belongs to no subordinate clause, or the words may be a command.

    Read from left to right, each subordinator waits for one finite verb; a finite verb that none waits for makes a
    statement. Right after "and" a further verb goes on with the clause before it.
    """
    if _is_command(tokens) or _lacks_verbs(tokens) or _is_long_phrase(tokens):
        return True
    waiting, seen, joined = 0, 0, -NEAR - 1
    for place, token in enumerate(tokens):
        if _starts_afresh(tokens, place):
            waiting = 0
        elif token.lower_ in COORDINATORS:
            joined = place
        elif _subordinates(tokens, place):
            waiting += 1
        elif _is_finite(token) and not _is_object(token):
            if not waiting and not (seen and place - joined <= NEAR):
                return True
            waiting, seen = max(waiting - 1, 0), seen + 1
    return False


def _starts_afresh(tokens: list[Token], place: int) -> bool:
    """A comma or "then" with a subject after it: what hangs on "if" or "when" ends here."""
    word = tokens[place].lower_
    if word not in {",", "then", "than"}:
        return False
    after = tokens[place + 1 : place + 3]
    if any(token.lower_ in sentence_words("nominatives") for token in after):
        return True
    if word != "," and place and tokens[place - 1].text == ",":
        return True
    return any(t.dep_ in SUBJECTS and t.left_edge.i == after[0].i and t.head.i > t.i for t in tokens[place + 1 :])


def _is_finite(token: Token) -> bool:
    """By its tag, or a base form or participle with a subject of its own: "she need", "we seen"."""
    if token.tag_ in FINITE:
        return True
    bare = token.tag_ in {"VB", "VBN"} and not _has_helper(token)
    return bare and any(child.dep_ in SUBJECTS for child in token.children)


def _subordinates(tokens: list[Token], place: int) -> bool:
    """The word opens a clause: "when we came", but not "when coming", "because of", "after school", "that dog"."""
    word = tokens[place].lower_
    if not joins_clauses(word) or word in sentence_words("coordinators") or place + 1 == len(tokens):
        return False
    after = tokens[place + 1]
    if word == "that":
        return tokens[place].tag_ in {"IN", "WDT"}
    if place and word in sentence_words("prepositions_too"):
        return after.lower_ in sentence_words("nominatives")
    if place == 0:
        if word == "once":  # "Once my father told me a story."
            return False
        relative = word in sentence_words("relative") and after.tag_ in FINITE
        return relative or any(
            token.dep_ in SUBJECTS and token.left_edge.i == after.i and token.head.i > token.i for token in tokens
        )
    return after.tag_ not in NO_CLAUSE_FOLLOWS


def _is_object(token: Token) -> bool:
    """The verb of a clause that is thought or said with no "that": "because I think it works"."""
    verb = token.head if token.dep_ in {"aux", "auxpass"} else token
    return verb.dep_ == "ccomp" and verb.head.i < verb.i and verb.head.lemma_ in clause_words("complement_takers")


def _is_command(tokens: list[Token]) -> bool:
    """ "Study for the test": a base form, or a bare noun that the parser may have taken a verb for."""
    if any(token.tag_ == "VB" and token.dep_ in COMMANDS and not _has_helper(token) for token in tokens):
        return True
    first = tokens[0]
    return first.tag_ in {"NN", "VB", "VBP"} and len(tokens) > 1 and tokens[1].tag_ in {"DT", "IN", "PRP", "PRP$", "RB"}


def _has_helper(verb: Token) -> bool:
    return any(child.dep_ in AUXILIARIES for child in verb.children)


def _lacks_verbs(tokens: list[Token]) -> bool:
    """More subjects than finite verbs, or words in which a verb may hide: a misspelled verb is no missing verb."""
    if any(token.lower_ in sentence_words("hidden_verbs") for token in tokens):
        return True
    subjects = sum(token.lower_ in sentence_words("subject_pronouns") for token in tokens)
    return subjects > sum(token.tag_ in FINITE for token in tokens)


def _is_long_phrase(tokens: list[Token]) -> bool:
    """A long sentence that seems to have no verb, or one that opens like "In the end that was", is mostly misread."""
    if tokens[0].lower_ in sentence_words("subordinate_openers"):
        return False
    finite = any(token.tag_ in FINITE for token in tokens)
    return len(tokens) > LONGEST_PHRASE or (finite and tokens[0].tag_ == "IN") or any(t.text == ":" for t in tokens)
