"""The structure of an essay as numbers, each a row of the catalogue."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rubric_kit.measures.catalogue import Measure, by_name
from rubric_kit.measures.structure.parts import Structure
from rubric_kit.measures.tree import Tree
from rubric_kit.reading import Essay

OWN = "own definition; parts found as described in DEVELOPERS.md, accuracy measured there"
STEPS = {"paragraph": 1, "narrative": 4, "three-paragraph": 3, "five-paragraph": 5}  # paragraphs a form asks for
# and, but, or; because, although, if; when, where: by tag and by what they do in the sentence.
JOINS = frozenset({("CC", "cc"), ("IN", "mark"), ("WRB", "advmod")})


@dataclass(frozen=True, slots=True)
class StructureCounts:
    """What was found, counted; shares are of body paragraphs unless said otherwise."""

    words: int
    paragraphs: int
    wanted_paragraphs: int
    bodies: int
    sentences: int
    body_sentences: int
    thesis: int
    thesis_in_place: int
    forecast: int
    hook: int
    topic_sentences: int
    answering: int
    evidence: int
    evidence_kinds: int
    supported: int
    explanation: int
    explained: int
    transitions: int
    transition_kinds: int
    joining_words: int
    linked: int
    conclusion: int
    restated: int
    thesis_words: int
    thesis_sure: float
    topic_sure: float
    evidence_words: int
    explanation_words: int
    body_words: int
    thinnest_body: int
    specifics: int
    on_thesis: float


def structure_counts(essay: Essay, found: Structure, form: str, tree: Tree) -> StructureCounts:
    """Count what was found."""
    bodies = found.with_role("body")
    words_in = {p.number: len(list(essay.paragraphs[p.number - 1].words)) for p in bodies}
    ends = {number: p.sentences[0].end for number, p in enumerate(essay.paragraphs, start=1)}
    opened = {t.paragraph for t in found.transitions if t.paragraph > 1 and t.start < ends[t.paragraph]}
    return StructureCounts(
        words=len(essay.words),
        paragraphs=len(found.paragraphs),
        wanted_paragraphs=STEPS[form],
        bodies=len(bodies),
        sentences=len(essay.sentences),
        body_sentences=sum(p.sentences for p in bodies),
        thesis=int(found.thesis is not None),
        thesis_in_place=int(found.thesis is not None and found.thesis.paragraph == 1),
        forecast=len(found.forecast),
        hook=int(found.hook is not None),
        topic_sentences=sum(p.topic_sentence is not None for p in bodies),
        answering=sum(bool(p.answers) for p in bodies),
        evidence=len(found.evidence),
        evidence_kinds=len({e.kind for e in found.evidence}),
        supported=sum(p.evidence > 1 for p in bodies),
        explanation=len(found.explanation),
        explained=sum(p.explanation > 0 for p in bodies),
        transitions=len(found.transitions),
        transition_kinds=len({t.kind for t in found.transitions}),
        joining_words=len(_joining_words(found, tree)),
        linked=len(opened),
        conclusion=int(bool(found.with_role("conclusion"))),
        restated=int(found.restated_thesis is not None),
        thesis_words=len(found.thesis.text.split()) if found.thesis else 0,
        thesis_sure=found.thesis.sure if found.thesis else 0.0,
        topic_sure=sum(p.topic_sentence.sure for p in bodies if p.topic_sentence),
        evidence_words=sum(len(e.text.split()) for e in found.evidence),
        explanation_words=sum(len(e.text.split()) for e in found.explanation),
        body_words=sum(words_in.values()),
        thinnest_body=min(words_in.values(), default=0),
        specifics=sum(p.specifics for p in bodies),
        on_thesis=sum(p.near_thesis for p in bodies),
    )


def _joining_words(found: Structure, tree: Tree) -> set[str]:
    """The different words that join thoughts: transitions, and what joins words or clauses within a sentence."""
    within = {word for word, tag, dep in zip(tree.words, tree.tags, tree.deps, strict=True) if (tag, dep) in JOINS}
    return within | {" ".join(t.text.lower().split()) for t in found.transitions}


def _row(
    name: str, function: Callable[[StructureCounts], float], formula: str, unit: str, **at_least: int
) -> Measure[StructureCounts]:
    return Measure(name, function, formula, unit, OWN, at_least)


STRUCTURE = by_name(
    [
        _row("length", lambda c: c.words, "words", "words"),
        _row(
            "paragraphs_in_place",
            lambda c: 1 - abs(c.paragraphs - c.wanted_paragraphs) / max(c.paragraphs, c.wanted_paragraphs),
            "1 - |paragraphs - paragraphs asked for| / the larger of the two",
            "share",
            paragraphs=1,
        ),
        _row("thesis_found", lambda c: c.thesis, "1 where a thesis was found, else 0", "0 or 1"),
        _row("points_forecast", lambda c: min(c.forecast, 3), "points that the thesis names ahead, at most 3", "points"),
        _row("points_answered", lambda c: c.answering / c.bodies, "body paragraphs that take up the thesis / body paragraphs", "share", bodies=1),
        _row("ends_in_place", lambda c: (c.conclusion + c.restated) / 2, "half for a conclusion, half for a restated thesis", "share"),
        _row("topic_sentence_share", lambda c: c.topic_sentences / c.bodies, "body paragraphs with a topic sentence / body paragraphs", "share", bodies=1),
        _row("linked_share", lambda c: c.linked / (c.paragraphs - 1), "paragraphs after the first that open with a transition / paragraphs after the first", "share", paragraphs=2),
        _row("transitions_per_100_words", lambda c: 100 * c.transitions / c.words, "100 * transitions / words", "per 100 words", words=1),
        _row("transition_kinds", lambda c: c.transition_kinds, "different jobs that transitions do", "kinds"),
        _row("joining_words", lambda c: c.joining_words, "different transitions, coordinators and subordinators", "words"),
        _row("evidence_per_100_words", lambda c: 100 * c.evidence / c.words, "100 * sentences with evidence / words", "per 100 words", words=1),
        _row("evidence_per_body", lambda c: c.evidence / c.bodies, "sentences with evidence / body paragraphs", "sentences", bodies=1),
        _row("supported_share", lambda c: c.supported / c.bodies, "body paragraphs with two or more sentences of evidence / body paragraphs", "share", bodies=1),
        _row("evidence_kinds", lambda c: c.evidence_kinds, "different kinds of evidence", "kinds"),
        _row("explanation_per_body", lambda c: c.explanation / c.bodies, "sentences of explanation / body paragraphs", "sentences", bodies=1),
        _row("explained_share", lambda c: c.explained / c.bodies, "body paragraphs with explanation / body paragraphs", "share", bodies=1),
        _row("thesis_clearness", lambda c: c.thesis_sure, "how surely the thesis is one (0 where none was found)", "0 to 1"),
        _row("thesis_words", lambda c: c.thesis_words, "words of the thesis", "words"),
        _row("topic_clearness", lambda c: c.topic_sure / c.bodies, "how surely the topic sentences are ones, mean over body paragraphs", "0 to 1", bodies=1),
        _row("thesis_kept", lambda c: c.on_thesis / c.bodies, "share of the thesis's meaning that a body paragraph takes up, mean", "share", bodies=1),
        _row("evidence_words_per_body", lambda c: c.evidence_words / c.bodies, "words in sentences with evidence / body paragraphs", "words", bodies=1),
        _row("explanation_words_per_body", lambda c: c.explanation_words / c.bodies, "words in sentences of explanation / body paragraphs", "words", bodies=1),
        _row("words_per_body", lambda c: c.body_words / c.bodies, "words in body paragraphs / body paragraphs", "words", bodies=1),
        _row("thinnest_body_words", lambda c: c.thinnest_body, "words in the shortest body paragraph", "words", bodies=1),
        _row("definite_share", lambda c: c.specifics / c.body_sentences, "body sentences with a name, a number or a quotation / body sentences", "share", body_sentences=1),
        _row("sentences_per_paragraph", lambda c: c.sentences / c.paragraphs, "sentences / paragraphs", "sentences", paragraphs=1),
    ]
)  # fmt: skip
