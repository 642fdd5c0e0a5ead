"""Find the parts of an essay: roles first, then the thesis, then what hangs on it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import chain

from rubric_kit.measures.found import Found
from rubric_kit.measures.meaning import shared, terms
from rubric_kit.measures.parse import Parse
from rubric_kit.measures.structure.evidence import KINDS, evidence_kind
from rubric_kit.measures.structure.facts import Facts, facts_of
from rubric_kit.measures.structure.forecast import answers, forecast
from rubric_kit.measures.structure.length import too_long, whole
from rubric_kit.measures.structure.notes import notes
from rubric_kit.measures.structure.parts import ParagraphPart, Structure
from rubric_kit.measures.structure.relations import reach_of
from rubric_kit.measures.structure.roles import roles
from rubric_kit.measures.structure.sentence_features import Table, add_thesis, add_topics, first_table
from rubric_kit.measures.structure.transitions import transitions
from rubric_kit.measures.structure.weights import weights
from rubric_kit.reading import Essay

Paragraphs = Sequence[Sequence[Facts]]

FITTED = {"thesis", "topic_sentence", "restated_thesis", "evidence", "hook", "new_claim"}
SPECIFIC = ("names", "number", "quotation", "citation")
END_OF_BLOCK = 3  # sentences of a single paragraph that may be its ending


def structure(essay: Essay, parse: Parse, form: str) -> Structure:
    """The parts of an essay handed in for a form: paragraph, three-paragraph, five-paragraph or narrative."""
    if too_long(essay):
        return whole(essay, transitions(essay))
    paragraphs = facts_of(essay, parse)
    return _Finder(essay, paragraphs, first_table(paragraphs, terms(parse.title)), form).structure()


def may_restate(paragraphs: Paragraphs, thesis: Facts | None) -> list[Facts]:
    """The sentences that may say the thesis again: the last paragraph's, of a single block the last few."""
    last = list(paragraphs[-1]) if paragraphs else []
    return [f for f in (last if len(paragraphs) > 1 else last[-END_OF_BLOCK:]) if f is not thesis]


class _Finder:
    """Holds one essay's sentences and what is known of each while its parts are found one after the other."""

    def __init__(self, essay: Essay, paragraphs: Paragraphs, table: Table, form: str) -> None:
        self.essay = essay
        self.paragraphs = paragraphs
        self.table = table
        self.form = form
        self.roles = roles(paragraphs, table, form)

    def structure(self) -> Structure:
        every = list(chain.from_iterable(self.paragraphs))
        argues = "body" in self.roles or (bool(self.roles) and self.form != "narrative" and len(self.roles) == 1)
        thesis = self.best("thesis", every) if argues else self.lesson()
        add_thesis(self.table, self.paragraphs, thesis)
        topics = {i: self.best("topic_sentence", self.paragraphs[i]) for i in self.numbers("body")}
        if len(self.paragraphs) == 1 and topics and thesis:  # the point of the only paragraph is that of the whole
            topics = {0: thesis}
        add_topics(self.table, self.paragraphs, topics)
        support = [f for f in every if self.says("evidence", f)] if argues else []
        explaining = [f for i in topics for f in self.paragraphs[i] if f not in support and f is not topics[i]]
        restated, closing, claims = self.ending(thesis, support) if argues else (None, None, [])
        hook, bridge = self.opening(thesis)
        bodies = [self.paragraphs[i] for i in topics]
        points = forecast(self.essay, thesis, bodies)
        named = [terms(t for t in thesis.span if p.start <= t.idx < p.end) for p in points] if thesis else []
        parts = tuple(
            self.part(number, role, topics.get(number), support, explaining, thesis, named)
            for number, role in enumerate(self.roles)
        )
        found = Structure(
            paragraphs=parts,
            hook=self.found(hook, "hook", "opens in a way that makes a reader curious"),
            bridge=self.all_found(bridge, "bridge", "leads from the opening to the thesis"),
            thesis=self.found(thesis, "thesis", "states the point of the whole essay"),
            forecast=points,
            evidence=tuple(self.evidence(f) for f in support),
            explanation=self.all_found(explaining, "explanation", "says more about the point or the evidence"),
            transitions=transitions(self.essay),
            restated_thesis=self.found(restated, "restated thesis", "says the thesis again near the end"),
            closing_thought=self.found(closing, "closing thought", "leaves the reader with a last thought"),
            new_claims=self.all_found(claims, "new claim", "brings in a new point where the essay should end"),
            notes=(),
        )
        return notes(found, self.form)

    def lesson(self) -> Facts | None:
        """What a story says outright, at its end, that it taught."""
        last = self.paragraphs[-1] if self.paragraphs else ()
        return next((f for f in last if f.features["lesson"]), None)

    def opening(self, thesis: Facts | None) -> tuple[Facts | None, list[Facts]]:
        """The hook, and the sentences between it and the thesis."""
        if "introduction" not in self.roles:
            return None, []
        first = self.paragraphs[0]
        opens = first[0] is not thesis and _is_said_or_called(first[0]) and self.says("hook", first[0])
        hook = first[0] if opens else None
        if thesis is None or thesis not in first:
            return hook, []
        return hook, [f for f in first if f is not hook and f.sentence.start < thesis.sentence.start]

    def ending(self, thesis: Facts | None, support: list[Facts]) -> tuple[Facts | None, Facts | None, list[Facts]]:
        """The restated thesis, the closing thought and any new claims."""
        if "conclusion" not in self.roles and len(self.roles) > 1:
            return None, None, []
        last = may_restate(self.paragraphs, thesis)
        restated = self.best("restated_thesis", last) if thesis else None
        concludes = "conclusion" in self.roles
        others = [f for f in last if f is not restated and f not in support] if concludes else []
        claims = [f for f in others if self.says("new_claim", f)]
        ends = concludes and last and last[-1] is not restated and last[-1] not in claims
        return restated, last[-1] if ends else None, claims

    def part(
        self, number: int, role: str, topic: Facts | None, support: list[Facts], explaining: list[Facts],
        thesis: Facts | None, named: Sequence[Mapping[str, float]],
    ) -> ParagraphPart:  # fmt: skip
        block, sentences = self.essay.paragraphs[number], self.paragraphs[number]
        return ParagraphPart(
            number=number + 1,
            start=block.start,
            end=block.end,
            role=role,
            topic_sentence=self.found(topic, "topic sentence", "states the point of its paragraph"),
            answers=answers(topic, sentences, named, thesis) if role == "body" else (),
            evidence=sum(f in support for f in sentences),
            explanation=sum(f in explaining for f in sentences),
            sentences=len(sentences),
            specifics=sum(any(self.table[f.sentence.start][s] for s in SPECIFIC) for f in sentences),
            near_thesis=shared(thesis.words, reach_of(tuple(sentences))) if thesis else 0.0,
        )

    def evidence(self, facts: Facts) -> Found:
        kind = evidence_kind(self.table[facts.sentence.start])
        return self.claim(facts, kind, KINDS[kind], self.chance("evidence", facts))

    def numbers(self, role: str) -> list[int]:
        return [i for i, r in enumerate(self.roles) if r == role]

    def says(self, part: str, facts: Facts) -> bool:
        model = weights(part)
        return model.chance(self.table[facts.sentence.start]) >= model.threshold

    def best(self, part: str, candidates: Sequence[Facts]) -> Facts | None:
        """The likeliest sentence, where it is likely enough."""
        model = weights(part)
        top = max(candidates, key=lambda f: model.chance(self.table[f.sentence.start]), default=None)
        return top if top is not None and self.says(part, top) else None

    def chance(self, kind: str, facts: Facts) -> float:
        """How likely a sentence is the part; 1 for parts that only follow from others (bridge, explanation)."""
        part = kind.replace(" ", "_")
        return weights(part).chance(self.table[facts.sentence.start]) if part in FITTED else 1.0

    def found(self, facts: Facts | None, kind: str, why: str) -> Found | None:
        return self.claim(facts, kind, why, self.chance(kind, facts)) if facts else None

    def all_found(self, sentences: Iterable[Facts], kind: str, why: str) -> tuple[Found, ...]:
        return tuple(self.claim(f, kind, why, self.chance(kind, f)) for f in sentences)

    def claim(self, facts: Facts, kind: str, why: str, sure: float) -> Found:
        start, end = facts.sentence.start, facts.sentence.end
        return Found(self.essay.text[start:end], start, end, kind, why, facts.paragraph + 1, sure=round(sure, 2))


def _is_said_or_called(facts: Facts) -> bool:
    """More than one word, or one that is called out ("Splash!")."""
    return len(facts.sentence.words) > 1 or facts.features["exclamation"] > 0
