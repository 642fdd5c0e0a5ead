"""What can be seen of one sentence by itself: its place, its cues, its tense, its quotations, its names and numbers."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rubric_kit.measures import meaning
from rubric_kit.measures.parse import PLAIN, Parse
from rubric_kit.measures.structure.cues import cues
from rubric_kit.measures.tree import AUXILIARIES, Tree
from rubric_kit.reading import Essay, Sentence

if TYPE_CHECKING:
    from spacy.tokens import Span

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
CONTRAST = frozenset({"but", "yet", "instead", "although", "though", "while", "unless", "except", "even"})
FIRST_PERSON = {"i", "we", "my", "our", "me", "us"}
SECOND_PERSON = {"you", "your"}
COMPARING = frozenset({"JJR", "JJS", "RBR", "RBS"})
NOUN_SUBJECTS = frozenset({"nsubj", "nsubjpass"})
STATED_SUBJECTS = NOUN_SUBJECTS | {"expl"}
CLAUSES = frozenset({"ccomp", "advcl", "relcl", "acl", "xcomp"})
QUALITIES = frozenset({"amod"})


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
    tree = parse.tree
    return tuple(
        tuple(
            _facts(essay, tree, sentence, next(spans), number, index, len(paragraph.sentences))
            for index, sentence in enumerate(paragraph.sentences)
        )
        for number, paragraph in enumerate(essay.paragraphs)
    )


def _facts(essay: Essay, tree: Tree, sentence: Sentence, span: Span, paragraph: int, index: int, size: int) -> Facts:
    text = essay.text[sentence.start : sentence.end].translate(PLAIN)
    lower = text.lower()
    quoted = sum(len(m.group()) for m in QUOTED.finditer(text))
    tokens, root = range(span.start, span.end), span.root.i
    names = [t for t in tokens[1:] if tree.kinds[t] == "PROPN" and tree.texts[t][0].isupper()]
    features = {kind: float(found) for kind, found in cues(lower).items()}
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
    features |= _grammar(tree, tokens, root) | _kinds(tree, tokens)
    words = meaning.weighed([tree.lemmas[t] for t in tokens if tree.kinds[t] in meaning.CONTENT])
    features["content"] = min(1.0, len(words) / MUCH_CONTENT)
    return Facts(sentence, span, paragraph, index, _subject(tree, root), features, words, meaning.reach(words))


def _grammar(tree: Tree, tokens: range, root: int) -> dict[str, float]:
    """Tense, mood and person, from the main verb and its subject."""
    helpers = tree.find(root, AUXILIARIES)
    subjects = tree.find(root, STATED_SUBJECTS)
    subject = tree.words[subjects[0]] if subjects else ""
    kind = tree.kinds[subjects[0]] if subjects else ""
    words = tree.words[tokens.start : tokens.stop]
    deps = tree.deps[tokens.start : tokens.stop]
    forms = set(words)
    past = tree.tags[root] == "VBD" or any(tree.tags[t] == "VBD" for t in helpers)
    return {
        "past": float(past),
        "modal": float(any(tree.words[t] in MODALS for t in helpers)),
        "being": float(tree.lemmas[root] == "be" and not past),
        "no_subject": float(not subjects),
        "this_subject": float(subject in ("this", "that", "these", "those", "it")),
        "noun_subject": float(kind == "NOUN"),
        "name_subject": float(kind == "PROPN"),
        "pronoun_subject": float(subject in ("he", "she", "they", "him", "her")),
        "i_subject": float(subject in ("i", "we")),
        "first_person": float(bool(forms & FIRST_PERSON)),
        "second_person": float(bool(forms & SECOND_PERSON)),
        "comparing": float(not COMPARING.isdisjoint(tree.tags[tokens.start : tokens.stop])),
        "contrast": float(not CONTRAST.isdisjoint(words[1:])),
        "negation": float("neg" in deps),
        "joined": float(words[0] in ("and", "but", "so", "or")),
        "clauses": min(1.0, sum(dep in CLAUSES for dep in deps) / 3),
    }


def _subject(tree: Tree, root: int) -> str:
    subjects = tree.find(root, NOUN_SUBJECTS)
    return next((tree.lemmas[t].lower() for t in subjects if tree.kinds[t] in ("NOUN", "PROPN")), "")


def _kinds(tree: Tree, tokens: range) -> dict[str, float]:
    """How far a sentence speaks of ideas rather than things, and of deeds; and whether it judges something."""
    nouns = [tree.lemmas[t] for t in tokens if tree.kinds[t] == "NOUN"]
    verbs = [tree.lemmas[t] for t in tokens if tree.kinds[t] == "VERB"]
    judges = any(tree.deps[t] == "acomp" or (tree.deps[t] == "attr" and tree.find(t, QUALITIES)) for t in tokens)
    return {
        "ideas": _share_of_kind("idea", nouns),
        "deeds": _share_of_kind("deed", verbs),
        "judges": float(judges),
    }


def _share_of_kind(kind: str, lemmas: list[str]) -> float:
    return sum(kind in meaning.related(lemma.lower()).kinds for lemma in lemmas) / len(lemmas) if lemmas else 0.0
