"""Fragments: punctuated as sentences, but with no statement that can stand alone. Only what is sure is accused."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from rubric_kit.measures.clauses import clause_words
from rubric_kit.measures.mechanics.joining import joins_clauses, sentence_words
from rubric_kit.measures.mechanics.places import Places
from rubric_kit.measures.tree import AUXILIARIES, SUBJECTS

if TYPE_CHECKING:
    from spacy.tokens import Token

    from rubric_kit.measures.found import Found
    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay, Sentence

FINITE = frozenset({"VBD", "VBP", "VBZ", "MD"})
NOUNS = frozenset({"NN", "NNS", "NNP", "NNPS"})
COORDINATORS = frozenset({"and", "or", "but", "nor"})
NO_CLAUSE_FOLLOWS = frozenset({"VBG", "VBN", "RB", "IN", "JJ", ",", "TO"})
NEVER_OWNED = frozenset({"RB", "VBG", "IN", "DT", "TO"})  # "their very loud", "your going"
AFTER_COMMAND = frozenset({"DT", "IN", "PRP", "PRP$", "RB", "VBG"})
QUESTION_WORDS = frozenset({"WP", "WRB"})
COMMANDS = frozenset({"ROOT", "conj", "ccomp", "parataxis"})
NEAR = 3  # tokens from "and" to the verb that it adds: "and then he ran"
LONGEST_PHRASE = 14  # tokens
LEAST_EXCLAIMED = 6  # tokens; shorter exclamations are calls ("What a day!")
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
        if parse.tree.marks_of_speech(span.start, span.end):
            continue
        tokens = [token for token in span if not token.is_space]
        while len(tokens) > 1 and (tokens[0].lower_ in COORDINATORS or not tokens[0].is_alpha):
            tokens.pop(0)
        if not tokens or _may_stand_alone(sentence, tokens) or _states(tokens):
            continue
        first = tokens[0].text
        subordinate = tokens[0].lower_ in sentence_words("subordinate_openers")
        why = WHY_SUBORDINATE.format(first.capitalize()) if subordinate else WHY_INCOMPLETE
        found.append(places.sentence(sentence, "fragment", why))
    return tuple(found)


def _may_stand_alone(sentence: Sentence, tokens: list[Token]) -> bool:
    if [token.lower_ for token in tokens[:-1]] == ["the", "end"]:
        return True
    if len(sentence.words) < LEAST_WORDS or tokens[-1].text not in {".", "!"}:
        return True
    if _asks(tokens[1:] if tokens[0].lower_ == "so" else tokens):
        return True
    if tokens[0].lower_ in sentence_words("answers") or (tokens[0].lower_ == "no" and not tokens[1].is_alpha):
        return True
    exclaimed = tokens[-1].text == "!"
    return exclaimed and (len(tokens) < LEAST_EXCLAIMED or any(token.tag_ in FINITE for token in tokens))


def _asks(tokens: list[Token]) -> bool:
    """A question that only lacks its mark: "So how would it stop them"."""
    asked = len(tokens) > 2 and tokens[0].tag_ in QUESTION_WORDS and tokens[1].tag_ in FINITE
    return asked and tokens[2].lower_ in sentence_words("nominatives")


def _states(tokens: list[Token]) -> bool:
    """Some finite verb belongs to no subordinate clause, or the words may be a command.

    Read from left to right, each subordinator waits for one finite verb; a finite verb that none waits for makes a
    statement. Right after "and" a further verb goes on with the clause before it.
    """
    if _is_command(tokens) or _lacks_verbs(tokens) or _is_doubtful(tokens) or _has_loose_subject(tokens):
        return True
    waiting, seen, joined = 0, 0, -NEAR - 1
    for place, token in enumerate(tokens):
        if _starts_afresh(tokens, place):
            waiting = 0
        elif token.lower_ in COORDINATORS:
            joined = place if _joins_verbs(tokens, place) else joined
        elif _subordinates(tokens, place):
            waiting += 1
        elif (_is_finite(token) or token.lower_ in sentence_words("hidden_verbs")) and not _is_object(token):
            if not waiting and not (seen and place - joined <= NEAR):
                return True
            waiting, seen = max(waiting - 1, 0), seen + 1
    return False


def _joins_verbs(tokens: list[Token], place: int) -> bool:
    """No "and" between nouns: "my brother and I watched"."""
    return tokens[place].head.tag_ not in NOUNS


def _has_loose_subject(tokens: list[Token]) -> bool:
    """A subject after no joining word, no noun and no verb of saying begins a statement: "... comes they run"."""
    condition = tokens[0].lower_ in sentence_words("conditions")  # "If he did what she said he would ..."
    for before, token in pairwise(tokens):
        after_noun = before.tag_ in NOUNS and not condition
        if token.lower_ not in sentence_words("subject_pronouns") or after_noun:
            continue
        takes_clause = not condition and before.lemma_ in clause_words("complement_takers")
        if not joins_clauses(before.lower_) and not takes_clause:
            return True
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
    if after.lower_ in sentence_words("hidden_verbs"):  # "because its hard"
        return True
    if place == 0:
        return _opens_sentence(tokens, word)
    if word == "that":
        return tokens[place].tag_ in {"IN", "WDT"} and tokens[place - 1].lower_ not in sentence_words("before_that")
    if word in sentence_words("prepositions_too"):
        return after.lower_ in sentence_words("nominatives")
    return after.tag_ not in NO_CLAUSE_FOLLOWS and tokens[place - 1].tag_ != "DT"  # "after a while"


def _opens_sentence(tokens: list[Token], word: str) -> bool:
    """The first word subordinates; not so in "Once my father told me", "That is why", "Before this he had"."""
    after = tokens[1]
    if after.lower_ in {"this", "that"} and len(tokens) > 2 and tokens[2].tag_ in {"NNP", "PRP"}:
        return False  # "Before this Brom had ..."
    marks = tokens[0].dep_ in {"mark", "advmod"} or after.lower_ in sentence_words("nominatives")
    if word in sentence_words("prepositions_too") and not (marks and after.tag_ != "IN"):
        return False
    return word != "once" and tokens[0].tag_ != "DT" and _subject_follows(tokens, word)


def _subject_follows(tokens: list[Token], opener: str) -> bool:
    """Right after the first word a subject begins, or it is one itself ("Which is why")."""
    after = tokens[1]
    if opener in sentence_words("relative") and after.tag_ in FINITE:
        return True
    return any(t.dep_ in SUBJECTS and t.left_edge.i == after.i and t.head.i > t.i for t in tokens)


def _is_object(token: Token) -> bool:
    """The verb of a clause that is thought or said with no "that": "because I think it works"."""
    verb = token.head if token.dep_ in {"aux", "auxpass"} else token
    return verb.dep_ == "ccomp" and verb.head.i < verb.i and verb.head.lemma_ in clause_words("complement_takers")


def _is_command(tokens: list[Token]) -> bool:
    """As in "Study for the test": a base form, or a bare noun that the parser may have taken a verb for."""
    first = tokens[0]
    opens = joins_clauses(first.lower_)  # "Becuse" may be taken for a verb
    rest = tokens[1:] if opens else tokens
    if any(token.tag_ == "VB" and token.dep_ in COMMANDS and not _has_helper(token) for token in rest):
        return True
    if opens:
        return False
    if first.lower_ in clause_words("complement_takers") and len(tokens) > 1 and tokens[1].tag_ in QUESTION_WORDS:
        return True  # "Notice who says it"
    if first.tag_ in {"VB", "VBP"} and first.dep_ in COMMANDS and not any(c.dep_ in SUBJECTS for c in first.children):
        return True
    return first.tag_ in {"NN", "NNP", "VB", "VBP"} and len(tokens) > 1 and tokens[1].tag_ in AFTER_COMMAND


def _has_helper(verb: Token) -> bool:
    return any(child.dep_ in AUXILIARIES for child in verb.children)


def _lacks_verbs(tokens: list[Token]) -> bool:
    """More subjects than finite verbs, or words in which a verb may hide: a misspelled verb is no missing verb."""
    words = [token.lower_ for token in tokens]
    hidden, pronouns = sentence_words("hidden_verbs"), sentence_words("subject_pronouns")
    for before, word, token in zip(["", *words], words, tokens, strict=False):
        if word in {"their", "your"} and _tag_after(token) in NEVER_OWNED:
            return True
        if word == "where" and before and _tag_after(token) in NO_CLAUSE_FOLLOWS:  # "They where wrong"
            return True
        if word in hidden and not (before and joins_clauses(before)):  # "because its hard": the verb is joined too
            return True
    subjects = sum([word in pronouns for word in words])
    return subjects > sum([token.tag_ in FINITE for token in tokens])


def _tag_after(token: Token) -> str:
    return token.doc[token.i + 1].tag_ if token.i + 1 < len(token.doc) else ""


def _is_doubtful(tokens: list[Token]) -> bool:
    """No subordinator opens it, and the parse is likely wrong.

    So it is with a long sentence that seems to have no verb, with one that opens like "In the end that was", and with
    one that has an "if" or "when" later on, which wants a statement to hang on.
    """
    if any(one.tag_ in {"NN", "NNP"} and two.tag_ == "NNS" for one, two in pairwise(tokens)):  # "Irene cries"
        return True
    if tokens[0].lower_ in sentence_words("subordinate_openers"):
        return False
    if tokens[0].tag_ == "VBG" and any(token.tag_ == "NNS" for token in tokens):  # "Being small changes him"
        return True
    if len(tokens) > LONGEST_PHRASE or any(token.text == ":" for token in tokens):
        return True
    if any(token.tag_ in FINITE for token in tokens):
        return tokens[0].tag_ == "IN" or any(
            token.lower_ in sentence_words("conditions") | {"like"} for token in tokens
        )
    return False
