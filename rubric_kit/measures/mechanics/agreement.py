"""Subject and verb that do not agree, where the parser leaves no doubt ("he go", "they was"), and "a" for "an"."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from rubric_kit.measures.mechanics.places import Places
from rubric_kit.measures.pronunciation import pronunciations

if TYPE_CHECKING:
    from collections.abc import Iterator

    from spacy.tokens import Token

    from rubric_kit.measures.found import Found
    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay

SINGULAR_PRONOUNS = frozenset({"he", "she", "it"})
SINGULAR_INDEFINITE = frozenset({"everyone", "everybody", "someone", "somebody", "nobody", "anyone", "anybody"})
PLURAL_PRONOUNS = frozenset({"we", "they", "you"})
ONE = frozenset({"a", "an", "this", "that", "each", "every"})  # a noun after these is surely one
PLURAL_BE = {"are": "is", "were": "was", "have": "has", "do": "does"}
FOR_MANY = {"is": "are", "was": "were", "has": "have", "does": "do"}
FOR_I = {"is": "am", "are": "am", "has": "have", "does": "do", "were": "was"}
SUBJECTS = frozenset({"nsubj", "nsubjpass"})
HELPERS = frozenset({"aux", "auxpass"})
NEVER_AFTER_ARTICLE = frozenset(
    {"in", "is", "that", "and", "of", "at", "if", "it", "as", "or", "on", "are", "also", "the"}
)
ARTICLES = frozenset({"a", "an"})
MAYBE_SILENT_H = frozenset({"historic", "historical", "herb", "hotel"})  # usage is divided
NOTS = frozenset({"n't", "nt"})
NEAR = 3  # tokens from subject to verb; between them only adverbs
LOOK_BACK = 4  # tokens before the subject in which "let", "if" or "did" makes a bare verb right


@cache
def verb_words(name: str) -> frozenset[str]:
    """One list of ``data/verbs.toml``."""
    lists = tomllib.loads((files("rubric_kit.measures.mechanics") / "data" / "verbs.toml").read_text("utf-8"))
    return frozenset(lists[name].split())


def agreement(essay: Essay, parse: Parse) -> tuple[Found, ...]:
    """Verbs that do not agree with their subject, and "a" before a vowel sound or "an" before another.

    One claim from subject to verb with the right verb as suggestion ("subject and verb"), or on the article and the
    word after it ("a/an"); in order of the text.
    """
    places = Places(essay)
    found = list(_articles(essay, places))
    for span in parse.sentences:
        for number in range(span.start, span.end):
            if parse.tree.deps[number] not in SUBJECTS or _is_joined(subject := parse.doc[number]):
                continue
            verb = _finite(subject)
            better = _better(subject, verb) if verb is not None else ""
            if verb is None or not better:
                continue
            end = verb.idx + len(verb)
            after = verb.nbor().text if verb.i + 1 < len(verb.doc) and not verb.whitespace_ else ""
            if after in NOTS:
                better, end = better + "n't", end + len(after)
            elif after[:1].isalpha() or after[:1] == "'":
                continue
            why = f"“{subject.text}” goes with “{better}”, not “{essay.text[verb.idx : end]}”."
            found.append(places.found(subject.idx, end, "subject and verb", why, (better,)))
    return tuple(sorted(found, key=lambda item: item.start))


def _articles(essay: Essay, places: Places) -> Iterator[Found]:
    """As in "A owl", "an hero": by the first sound in the pronouncing dictionary; other words are let alone."""
    for sentence in essay.sentences:
        for article, word in zip(sentence.words, sentence.words[1:], strict=False):
            if article.text.lower() not in ARTICLES or (article.text == "A" and article.start != sentence.start):
                continue  # a lone A may be a grade
            low = word.text.lower()
            if low in NEVER_AFTER_ARTICLE:
                continue
            if len(low) == 1 or not low.isalpha() or word.text.isupper():
                continue
            vowels = {sounds[0] in "AEIOU" for sounds in pronunciations(low)}
            better = "an" if vowels == {True} else "a"
            if not vowels or len(vowels) > 1 or article.text.lower() == better or low in MAYBE_SILENT_H:
                continue
            if essay.text[article.end : word.start].isspace():
                better = better.capitalize() if article.text[0].isupper() else better
                phrase = f"{better} {word.text}"
                why = f"Before the sound that “{word.text}” begins with, it is “{better}”."
                yield places.found(article.start, word.end, "a/an", why, (phrase,))


def _is_joined(subject: Token) -> bool:
    """One of several subjects ("he and I go"), or a phrase with a number hidden in it ("one of the dogs")."""
    if any(child.dep_ in {"conj", "cc", "preconj"} for child in subject.children):
        return True
    before = subject.doc[subject.i - 1].lower_ if subject.i else ""
    return before in {"and", "or", "nor", "&"}


def _finite(subject: Token) -> Token | None:
    """The verb that must agree (the first helper, if any), after the subject with only adverbs between."""
    verb = subject.head
    helpers = [child for child in verb.children if child.dep_ in HELPERS]
    first = min(helpers, key=lambda token: token.i) if helpers else verb
    if first.i <= subject.i or first.tag_ in {"VBN", "VBG", "TO", "MD"}:
        return None
    between = subject.doc[subject.i + 1 : first.i]
    if len(between) >= NEAR or any(token.tag_ != "RB" for token in between):
        return None
    return first


def _better(subject: Token, verb: Token) -> str:
    """The form that agrees; empty if this one does, or if there is doubt."""
    who, form = subject.lower_, verb.lower_
    if _is_after_bare(subject) or (form == "were" and _is_unreal(subject)):
        return ""
    if who in SINGULAR_PRONOUNS or who in SINGULAR_INDEFINITE:
        return _for_one(subject, verb)
    if who == "i":
        return FOR_I.get(form, "")
    if who in PLURAL_PRONOUNS or (subject.tag_ == "NNS" and _is_plain_plural(subject)):
        return FOR_MANY.get(form, "")
    return PLURAL_BE.get(form, "") if subject.tag_ == "NN" and _is_surely_one(subject) else ""


def _for_one(subject: Token, verb: Token) -> str:
    form = verb.lower_
    if _is_unreal(subject) or verb.tag_ not in {"VB", "VBP", "VBD"}:
        return ""
    head = subject.head
    if head.dep_ == "conj" and any(child.dep_ in HELPERS for child in head.head.children):
        return ""
    if form in PLURAL_BE:
        return PLURAL_BE[form]
    if verb.tag_ == "VBD" or form not in verb_words("common") or verb.dep_ in HELPERS:
        return ""
    return third_person(form)


def _is_after_bare(subject: Token) -> bool:
    """After "let", "watched", "did" and the like a bare verb is right: "he watched a barber do it"."""
    if subject.head.tag_ not in {"VB", "VBP"}:
        return False
    before = {token.lower_ for token in subject.doc[max(subject.i - LOOK_BACK, subject.sent.start) : subject.i]}
    return not before.isdisjoint(verb_words("bare_after") | {"n't", "that"})


def _is_unreal(subject: Token) -> bool:
    """As in "If he were", "I wish it were": right with one."""
    before = subject.doc[max(subject.i - LOOK_BACK, subject.sent.start) : subject.i]
    return any(token.lower_ in verb_words("unreal") for token in before)


def _is_plain_plural(subject: Token) -> bool:
    """A plural noun right before its verb, with nothing hanging on it that could be the true subject."""
    if subject.lower_ in verb_words("collective") or not subject.lower_.endswith("s"):
        return False
    return all(child.dep_ in {"det", "amod", "poss"} for child in subject.children) and any(
        child.dep_ in {"det", "poss"} and child.lower_ != "a" for child in subject.children
    )


def _is_surely_one(subject: Token) -> bool:
    if subject.lower_ in verb_words("collective"):
        return False
    return all(child.dep_ in {"det", "amod"} for child in subject.children) and any(
        child.lower_ in ONE for child in subject.children
    )


def third_person(base: str) -> str:
    """The form for he, she and it: "goes", "has", "tries"."""
    irregular = {"have": "has", "do": "does", "go": "goes", "be": "is"}
    if base in irregular:
        return irregular[base]
    if base.endswith("y") and base[-2] not in "aeiou":
        return base[:-1] + "ies"
    return base + ("es" if base.endswith(("s", "sh", "ch", "x", "z")) else "s")
