"""What can be seen of one sentence by itself: its place, its cues, its tense, its quotations, its names and numbers."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rubric_kit.measures import meaning
from rubric_kit.measures.parse import PLAIN, Parse
from rubric_kit.measures.structure.cues import cue, patterns
from rubric_kit.reading import Essay, Sentence

if TYPE_CHECKING:
    from spacy.tokens import Span, Token

QUOTED = re.compile(r"\"[^\"]{3,}(?:\"|$)")  # three characters, so that inch marks and lone marks do not count
CITED = re.compile(
    r"\((?:[A-Z][\w.' ]+,? )?(?:p\.?|pg\.?|pp\.?|page|ch\.?|chapter)?\s?\d+(?:[-,]\s?\d+)?\)"
    r"|\bon page \d+|\b(?:in )?chapter (?:\d+|\w+)\b",
    re.I,
)
NUMBER = re.compile(r"\d|\b(?:hundreds?|thousands?|millions?|billions?|dozens?|percent|half|twice)\b", re.I)
LIST_OF_THREE = re.compile(r"(?<=[^,]),[^,]+,? (?:and|or)\b")  # begins at a comma, so that it stays linear
GENERAL = re.compile(
    r"\b(?:all|every|everyone|everybody|people|always|never|anyone|kids|children|most|no one|nobody)\b"
)
MUCH_CONTENT = 8  # content words; from here more make no sentence fuller
MODALS = {"should", "must", "can", "could", "would", "will", "may", "might", "ought"}
CONTRAST = {"but", "yet", "instead", "although", "though", "while", "unless", "except", "even"}
FIRST_PERSON = {"i", "we", "my", "our", "me", "us"}
SECOND_PERSON = {"you", "your"}


@dataclass(frozen=True, slots=True, eq=False)  # each sentence is itself alone, so that "in" need not compare meanings
class Facts:
    """One sentence with what is known of it.

    features  name to 0..1 (cues and forms) or to a small number (places); see ``facts_of``
    subject   lemma of what the main verb says something of, or ""
    words     content lemmas with their weight; reach: what those touch (rubric_kit.measures.meaning)
    """

    sentence: Sentence
    span: Span
    paragraph: int
    index: int
    subject: str
    features: Mapping[str, float]
    words: Mapping[str, float]
    reach: Mapping[str, float]


def facts_of(essay: Essay, parse: Parse) -> tuple[tuple[Facts, ...], ...]:
    """Facts for every sentence, by paragraph."""
    spans = iter(parse.sentences)
    return tuple(
        tuple(
            _facts(essay, sentence, next(spans), number, index, len(paragraph.sentences))
            for index, sentence in enumerate(paragraph.sentences)
        )
        for number, paragraph in enumerate(essay.paragraphs)
    )


def _facts(essay: Essay, sentence: Sentence, span: Span, paragraph: int, index: int, size: int) -> Facts:
    text = essay.text[sentence.start : sentence.end].translate(PLAIN)
    lower = text.lower()
    quoted = sum(len(m.group()) for m in QUOTED.finditer(text))
    names = [t for t in span[1:] if t.pos_ == "PROPN" and t.text[0].isupper()]
    features = {kind: float(cue(kind, lower) is not None) for kind in patterns()}
    features |= {
        "first": float(index == 0),
        "second": float(index == 1),
        "last": float(index == size - 1),
        "depth": index / max(1, size - 1),
        "alone": float(size == 1),
        "question": float(text.rstrip("\"') ").endswith("?")),
        "exclamation": float(text.rstrip("\"') ").endswith("!")),
        "quotation": min(1.0, 2 * quoted / len(text)),
        "citation": float(CITED.search(text) is not None),
        "number": float(NUMBER.search(text) is not None),
        "names": min(1.0, len(names) / 2),
        "list_of_three": float(LIST_OF_THREE.search(text) is not None),
        "because": float(" because " in lower or " cause " in lower or " since " in lower),
        "general": float(GENERAL.search(lower) is not None),
        "short": float(len(sentence.words) < 7),
        "long": min(1.0, len(sentence.words) / 30),
        "if": float(lower.startswith("if ")),
    }
    features |= _grammar(span) | _kinds(span)
    words = meaning.terms(span)
    features["content"] = min(1.0, len(words) / MUCH_CONTENT)
    return Facts(sentence, span, paragraph, index, _subject(span), features, words, meaning.reach(words))


def _grammar(span: Span) -> dict[str, float]:
    """Tense, mood and person, from the main verb and its subject."""
    root = span.root
    helpers = [t for t in root.children if t.dep_ in ("aux", "auxpass")]
    subjects = [t for t in root.children if t.dep_ in ("nsubj", "nsubjpass", "expl")]
    subject = subjects[0] if subjects else None
    forms = {t.lower_ for t in span}
    return {
        "past": float(_is_past(root, helpers)),
        "modal": float(any(t.lower_ in MODALS for t in helpers)),
        "being": float(root.lemma_ == "be" and not _is_past(root, helpers)),
        "no_subject": float(subject is None),
        "this_subject": float(subject is not None and subject.lower_ in ("this", "that", "these", "those", "it")),
        "noun_subject": float(subject is not None and subject.pos_ == "NOUN"),
        "name_subject": float(subject is not None and subject.pos_ == "PROPN"),
        "pronoun_subject": float(subject is not None and subject.lower_ in ("he", "she", "they", "him", "her")),
        "i_subject": float(subject is not None and subject.lower_ in ("i", "we")),
        "first_person": float(bool(forms & FIRST_PERSON)),
        "second_person": float(bool(forms & SECOND_PERSON)),
        "comparing": float(any(t.tag_ in ("JJR", "JJS", "RBR", "RBS") for t in span)),
        "contrast": float(any(t.lower_ in CONTRAST for t in span[1:])),
        "negation": float(any(t.dep_ == "neg" for t in span)),
        "joined": float(span[0].lower_ in ("and", "but", "so", "or")),
        "clauses": min(1.0, sum(t.dep_ in ("ccomp", "advcl", "relcl", "acl", "xcomp") for t in span) / 3),
    }


def _subject(span: Span) -> str:
    subjects = (t for t in span.root.children if t.dep_ in ("nsubj", "nsubjpass"))
    return next((t.lemma_.lower() for t in subjects if t.pos_ in ("NOUN", "PROPN")), "")


def _kinds(span: Span) -> dict[str, float]:
    """How far a sentence speaks of ideas rather than things, and of deeds; and whether it judges something."""
    nouns = [t for t in span if t.pos_ == "NOUN"]
    verbs = [t for t in span if t.pos_ == "VERB"]
    judged = [t for t in span if t.dep_ == "acomp" or (t.dep_ == "attr" and any(c.dep_ == "amod" for c in t.children))]
    return {
        "ideas": _share_of_kind("idea", nouns),
        "deeds": _share_of_kind("deed", verbs),
        "judges": float(bool(judged)),
    }


def _share_of_kind(kind: str, tokens: list[Token]) -> float:
    return sum(kind in meaning.related(t.lemma_.lower()).kinds for t in tokens) / len(tokens) if tokens else 0.0


def _is_past(root: Token, helpers: list[Token]) -> bool:
    return root.tag_ == "VBD" or any(t.tag_ == "VBD" for t in helpers)
