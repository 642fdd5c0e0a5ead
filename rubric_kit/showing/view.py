"""A score sheet in the words and the order in which a person reads it; every page and the terminal are drawn from it.

All text in a ``View`` is inert (showing/inert.py); lengths are not limited.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib.metadata import version

from rubric_kit.measures.catalogue import Result
from rubric_kit.measures.found import Found
from rubric_kit.measures.measured import Measures
from rubric_kit.measures.school_grade import consensus, school_grade
from rubric_kit.reading import Essay
from rubric_kit.scoring.advice import advice
from rubric_kit.scoring.feedback import feedback, sure_in_words
from rubric_kit.scoring.rubric import LEVEL_NAMES, LEVELS
from rubric_kit.scoring.sheet import CriterionScore, NextStep, ScoreSheet
from rubric_kit.scoring.spans import SHOW
from rubric_kit.showing.counting import counting, judged, number
from rubric_kit.showing.inert import inert
from rubric_kit.showing.labels import Label, formula_name, labels
from rubric_kit.showing.marked import Block, marked_essay, marks_of, sentence_anchor

OUT_OF = 10  # readers, in "6 in 10"
ABOUT_SURE = "How sure: of ten experienced readers, how many would likely give the same level."
ABOUT_READABILITY = "Readability formulas"  # how the caution about them begins (scoring/cautions.py)


@dataclass(frozen=True, slots=True)
class Quote:
    """Words of the child's with their place; numbers from 1, ``sentence`` 0 where the words stand in none."""

    text: str
    paragraph: int
    sentence: int
    anchor: str

    @property
    def place(self) -> str:
        if not self.sentence:
            return f"paragraph {self.paragraph}"
        return f"paragraph {self.paragraph}, sentence {self.sentence}"


@dataclass(frozen=True, slots=True)
class Why:
    """A reason in words and the places that it rests on."""

    text: str
    quotes: tuple[Quote, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """What to teach, what is said to the child, five minutes' practice, and the sentence to try it on."""

    teach: str
    child: str
    exercise: str
    quote: Quote | None


@dataclass(frozen=True, slots=True)
class CriterionView:
    """One criterion; ``above`` is the next level's descriptor, "" at the top; ``own`` the reader's, "" where none."""

    key: str
    name: str
    weight: str
    level: int
    level_name: str
    own: str
    sure: str
    readers: str
    descriptor: str
    above: str
    reasons: tuple[Why, ...]
    not_judged: str
    step: Step


@dataclass(frozen=True, slots=True)
class SlipView:
    """One slip; ``better`` is a suggestion or ""."""

    text: str
    better: tuple[str, ...]
    why: str
    quote: Quote


@dataclass(frozen=True, slots=True)
class SlipGroup:
    """All slips of one kind, in order."""

    heading: str
    slips: tuple[SlipView, ...]


@dataclass(frozen=True, slots=True)
class FormulaView:
    """A readability formula's row; ``value`` and ``grade`` are in words, with "cannot say" where there is none."""

    name: str
    value: str
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class ParagraphView:
    """What one paragraph does."""

    number: int
    role: str
    point: Quote | None
    answers: str
    evidence: int
    explanation: int
    sentences: int


@dataclass(frozen=True, slots=True)
class KeyRow:
    """A label that occurs in this essay, and what it means."""

    label: str
    family: str
    whole: bool
    about: str


@dataclass(frozen=True, slots=True)
class View:
    """Everything a page shows, in reading order; percent and letter are those that count, and ``whose`` says whose."""

    title: str
    source: str
    byline: str
    percent: str
    letter: str
    whose: str
    comment: tuple[str, ...]
    criteria: tuple[CriterionView, ...]
    child: tuple[str, ...]
    essay: tuple[Block, ...]
    key: tuple[KeyRow, ...]
    paragraphs: tuple[ParagraphView, ...]
    notes: tuple[str, ...]
    slips: tuple[SlipGroup, ...]
    parent: tuple[str, ...]
    reads_like: str
    formulas: tuple[FormulaView, ...]
    readability_caution: str
    cautions: tuple[str, ...]
    method: str


def view(sheet: ScoreSheet, own: Mapping[str, int] = {}, comment: str = "") -> View:
    """The whole sheet in words.

    own      the reader's levels by criterion key; the percent and what is said to the child then follow them
    comment  the reader's
    """
    measured, essay = sheet.measures, sheet.measures.essay
    marks = marks_of(measured)
    counts = counting(sheet, own)
    source = inert(essay.source)
    return View(
        title=_one_line(essay.title.text) if essay.title else source,
        source=source if essay.title else "",
        byline=byline(sheet),
        percent=counts.percent,
        letter=counts.letter,
        whose=counts.whose,
        comment=tuple(inert(line) for line in comment.splitlines() if line.strip()),
        criteria=tuple(_criterion(c, sheet, own.get(c.key)) for c in sheet.criteria),
        child=tuple(inert(line) for line in feedback(judged(sheet, own)).child),
        essay=marked_essay(essay, marks),
        key=_key(m.label for m in marks),
        paragraphs=_paragraphs(measured),
        notes=tuple(inert(n) for n in measured.structure.notes),
        slips=slips(measured),
        parent=tuple(inert(line) for line in feedback(sheet).parent),
        reads_like=reads_like(measured),
        formulas=tuple(_formula(r) for r in measured.family("readability").values()),
        readability_caution=" ".join(c for c in sheet.cautions if c.startswith(ABOUT_READABILITY)),
        cautions=tuple(inert(c) for c in sheet.cautions if not c.startswith(ABOUT_READABILITY)),
        method=_method(sheet),
    )


def byline(sheet: ScoreSheet) -> str:
    counts = (
        _count(len(sheet.measures.essay.words), "word"),
        _count(len(sheet.measures.essay.sentences), "sentence"),
        _count(len(sheet.measures.essay.paragraphs), "paragraph"),
    )
    return f"Grade {sheet.grade} · {inert(sheet.rubric.name)} · {', '.join(counts)}"


def quote(essay: Essay, found: Found) -> Quote:
    """A found thing as a quotation with its place."""
    sentences = essay.paragraphs[found.paragraph - 1].sentences
    index = bisect_right(sentences, found.start, key=lambda s: s.start)
    anchor = sentence_anchor(found.paragraph, index) if index else ""
    return Quote(_one_line(found.text), found.paragraph, index, anchor)


def slips(measured: Measures) -> tuple[SlipGroup, ...]:
    """The slips of spelling, capitals and so on, by kind; kinds without any are left out."""
    groups = []
    for name, label in labels("mechanics").items():
        found: tuple[Found, ...] = getattr(measured.mechanics, name)
        rows = tuple(
            SlipView(_one_line(f.text), tuple(map(_one_line, f.suggestions)), inert(f.why), quote(measured.essay, f))
            for f in found
        )
        groups += [SlipGroup(label.heading, rows)] if rows else []
    return tuple(groups)


def reads_like(measured: Measures) -> str:
    """What the readability formulas agree on, in a sentence."""
    agreed = consensus(measured.family("readability"))
    if agreed.grade is None or agreed.low is None or agreed.high is None:
        return "The text is too short for any readability formula."
    spread = f"{len(agreed.members)} formulas put it between {number(agreed.low)} and {number(agreed.high)}"
    return f"Reads like a text for school grade {number(agreed.grade)}; {spread}."


def criterion_quotes(measure: str, measured: Measures) -> tuple[Found, ...]:
    """The found things that a reason about a measure rests on; none where it rests on the whole piece."""
    row = advice()[measure]
    return SHOW[row["show"]](measured) if "show" in row else ()


def _criterion(score: CriterionScore, sheet: ScoreSheet, own: int | None) -> CriterionView:
    measured = sheet.measures
    descriptors = next(c.descriptors for c in sheet.rubric.criteria if c.key == score.key)
    return CriterionView(
        key=score.key,
        name=inert(score.name),
        weight=f"{score.weight:g}",
        level=score.level,
        level_name=LEVEL_NAMES[score.level],
        own="" if own is None else f"{own} {LEVEL_NAMES[own]}",
        sure=sure_in_words(score.sure),
        readers=f"{round(score.sure * OUT_OF)} in {OUT_OF}",
        descriptor=inert(score.descriptor),
        above=inert(descriptors[score.level + 1]) if score.level < LEVELS[-1] else "",
        reasons=tuple(
            Why(inert(r.text), tuple(quote(measured.essay, f) for f in criterion_quotes(r.measure, measured)))
            for r in score.reasons
        ),
        not_judged=inert(score.not_judged),
        step=_step(score.next_step, measured.essay),
    )


def _step(step: NextStep, essay: Essay) -> Step:
    sentence = quote(essay, step.sentence) if step.sentence else None
    return Step(inert(step.what), inert(step.child), inert(step.exercise), sentence)


def _key(used: Iterable[Label]) -> tuple[KeyRow, ...]:
    rows = sorted(set(used), key=lambda label: label.rank)
    return tuple(KeyRow(label.plain, label.family, label.whole, label.about) for label in rows)


def _paragraphs(measured: Measures) -> tuple[ParagraphView, ...]:
    return tuple(
        ParagraphView(
            number=p.number,
            role=p.role,
            point=quote(measured.essay, p.topic_sentence) if p.topic_sentence else None,
            answers=inert(", ".join(p.answers)),
            evidence=p.evidence,
            explanation=p.explanation,
            sentences=p.sentences,
        )
        for p in measured.structure.paragraphs
    )


def _formula(result: Result) -> FormulaView:
    reading = school_grade(result.name, result.value) if result.value is not None else None
    return FormulaView(
        name=formula_name(result.name),
        value="cannot say" if result.value is None else f"{result.value:.1f}",
        unit=result.unit,
        grade=reading.words if reading else "",
        source=result.source,
        note=result.why_not or result.note.replace("indicative", "only a hint"),
    )


def _method(sheet: ScoreSheet) -> str:
    rubric = sheet.rubric
    return (
        f"Levels proposed by rubric_kit {version('rubric-kit')} from what the rubric “{inert(rubric.name)}”, version "
        f"{rubric.version}, looks for at grade {sheet.grade}; the percent is the mean of what the levels are worth, by "
        "weight. Everything was worked out on this computer and nothing was sent anywhere."
    )


def _count(many: int, thing: str) -> str:
    return f"{many} {thing}" if many == 1 else f"{many} {thing}s"


def _one_line(text: str) -> str:
    return " ".join(inert(text).split())
