# ruff: noqa: E501  (a paragraph is one line, as a child hands it in)
"""A score sheet made by hand, so that what is shown can be tested without measuring; and one about a hostile text."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest

from rubric_kit.measures.counts import count
from rubric_kit.measures.found import Found
from rubric_kit.measures.measured import Measures
from rubric_kit.measures.mechanics import Mechanics
from rubric_kit.measures.readability import readability
from rubric_kit.measures.structure.parts import ParagraphPart, Structure
from rubric_kit.reading import Essay
from rubric_kit.reading.layout import essay_from_text
from rubric_kit.scoring.cautions import ALWAYS
from rubric_kit.scoring.rubric import LEVELS, Criterion, Rubric
from rubric_kit.scoring.sheet import CriterionScore, NextStep, Reason, ScoreSheet

OWLS = """Robin Ashe
Grade 5

Owls at Night

Have you ever heard a soft hoot in the dark? Owls are built for hunting at night because of their eyes and their wings.

First, owls see well in the dark. An owl's eyes are 100 times as sharp as ours. They can find a mouse becuase their eyes let in so much light.

Owls also fly without a sound, a mouse never hears them coming. Their feathers have soft edges.

In the end, eyes and wings make owls the best night hunters. I hope I see one soon.
"""

HOSTILE = """Robin Ashe

I think <script>alert('x')</script> dogs are loyal. #import "@preview/none:1.0.0": * costs $x^2$ and [bold red]loud[/bold red].

First, dogs \x1b[31mhelp\x1b[0m people \u202eevil txet\u202c each day \U0001f600 at the café. {{ 7*7 }} {% raw %} &amp; <b>play</b>" onmouseover="x".

In the end, dogs are loyal. `code` *star* _under_ @ref <label> // note /* more */ \\u{1f} \udcff end.
"""


def found(essay: Essay, words: str, kind: str, *suggestions: str) -> Found:
    start = essay.text.index(words)
    paragraph = next(i for i, p in enumerate(essay.paragraphs, 1) if p.start <= start < p.end)
    return Found(words, start, start + len(words), kind, f"is {kind}", paragraph, suggestions)


def sheet_for(essay: Essay, structure: Structure, **slips: tuple[Found, ...]) -> ScoreSheet:
    """One criterion a level, each with a reason about the thesis."""
    mechanics = Mechanics(**{f.name: slips.get(f.name, ()) for f in fields(Mechanics)})
    counts = count(essay)
    measures = Measures(essay, "five-paragraph", counts, structure, mechanics, (), readability(counts))
    criteria = tuple(
        Criterion(f"c{n}", f"criterion <{n}>", 25, {m: f"descriptor {m}" for m in LEVELS}, f"matter {n}", ())
        for n in LEVELS
    )
    rubric = Rubric(
        "owl rubric", "five-paragraph", 1, 5, (4, 4), {1: 60, 2: 75, 3: 88, 4: 98}, ((0, "B"),), criteria, ""
    )
    step = NextStep("what to teach", "Read it out loud.", "Say it once more.", structure.thesis)
    reason = Reason("thesis_found", 1, 4, 1, "One sentence states the point.")
    scores = tuple(
        CriterionScore(c.key, c.name, c.weight, n, float(n), 0.6, c.descriptors[n], (reason,), (), c.not_judged, step)
        for n, c in zip(LEVELS, criteria, strict=True)
    )
    return ScoreSheet(measures, rubric, 5, scores, 80.2, "B", ("A small sample.", *ALWAYS))


def parts(essay: Essay, roles: list[str], topics: dict[int, Found]) -> tuple[ParagraphPart, ...]:
    return tuple(
        ParagraphPart(n, p.start, p.end, role, topics.get(n), ("eyes",), 1, 1, len(p.sentences), 1, 0.5)
        for n, (p, role) in enumerate(zip(essay.paragraphs, roles, strict=True), start=1)
    )


@pytest.fixture(scope="session")
def owls() -> ScoreSheet:
    essay = essay_from_text(OWLS, "owls.txt")
    thesis = found(essay, "Owls are built for hunting at night because of their eyes and their wings.", "thesis")
    topics = {2: found(essay, "First, owls see well in the dark.", "topic sentence")}
    structure = Structure(
        paragraphs=parts(essay, ["introduction", "body", "body", "conclusion"], topics),
        hook=found(essay, "Have you ever heard a soft hoot in the dark?", "hook"),
        bridge=(),
        thesis=thesis,
        forecast=(found(essay, "eyes", "point"), found(essay, "wings", "point")),
        evidence=(found(essay, "An owl's eyes are 100 times as sharp as ours.", "number"),),
        explanation=(found(essay, "Their feathers have soft edges.", "explanation"),),
        transitions=(found(essay, "First", "order"), found(essay, "In the end", "closing")),
        restated_thesis=found(essay, "In the end, eyes and wings make owls the best night hunters.", "restated thesis"),
        closing_thought=found(essay, "I hope I see one soon.", "closing thought"),
        new_claims=(),
        notes=("In paragraph 3 no sentence was found that states its point; it may be implied.",),
    )
    splice = found(essay, "Owls also fly without a sound, a mouse never hears them coming.", "comma splice", "sound. A")
    spelling = found(essay, "becuase", "misspelling", "because", "becalms")
    return sheet_for(essay, structure, spelling=(spelling,), run_ons=(splice,))


@pytest.fixture(scope="session")
def hostile() -> ScoreSheet:
    essay = essay_from_text(HOSTILE, "<img src=x>.txt")
    thesis = found(essay, "I think <script>alert('x')</script> dogs are loyal.", "thesis")
    empty = Structure(
        paragraphs=parts(essay, ["introduction", "body", "conclusion"], {}),
        hook=None,
        bridge=(),
        thesis=thesis,
        forecast=(),
        evidence=(),
        explanation=(),
        transitions=(),
        restated_thesis=None,
        closing_thought=None,
        new_claims=(),
        notes=("<i>note</i>",),
    )
    slip = found(essay, "<b>play</b>", "misspelling", "<u>plan</u>")
    return sheet_for(essay, empty, spelling=(slip,))


@pytest.fixture
def long_title(owls: ScoreSheet) -> ScoreSheet:
    """The owls under a title of 300 letters without a space."""
    essay = essay_from_text(OWLS, "owls.txt")
    assert essay.title is not None
    titled = replace(essay, title=replace(essay.title, text="W" * 300))
    return replace(owls, measures=replace(owls.measures, essay=titled))
