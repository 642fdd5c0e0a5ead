"""What each paragraph is for: introduction, body, conclusion, or something else."""

from __future__ import annotations

from collections.abc import Sequence

from rubric_kit.measures.structure.facts import Facts
from rubric_kit.measures.structure.sentence_features import Table
from rubric_kit.measures.structure.weights import weights

STORY = (
    "past",
    "time",
    "stance",
    "being",
    "i_subject",
    "general",
    "quotation",
    "reasons",
    "closing",
    "order",
    "modal",
    "explain",
    "first_person",
    "claim",
)
STORY_FORMS = ("narrative",)
ONE_BLOCK_FORMS = ("paragraph",)
ENDING = (
    "past",
    "names",
    "number",
    "quotation",
    "stance",
    "spread",
    "example",
    "new",
    "second_person",
    "modal",
    "question",
)


def roles(paragraphs: Sequence[Sequence[Facts]], features: Table, form: str) -> tuple[str, ...]:
    """One role a paragraph. ``form`` is the form of the task; ``features`` are each sentence's, by its start."""
    count = len(paragraphs)
    if form in STORY_FORMS or (count > 1 and tells_a_story(paragraphs, features)):
        return ("other",) * count
    if count == 1:
        return ("body",) if form in ONE_BLOCK_FORMS else ("other",)
    found = ["body"] * count
    if form not in ONE_BLOCK_FORMS:
        found[0] = "introduction"
    if ends(paragraphs, features):
        found[-1] = "conclusion"
    return tuple(found)


def ends(paragraphs: Sequence[Sequence[Facts]], features: Table) -> bool:
    """Whether the last paragraph winds the essay up."""
    model = weights("conclusion")
    return model.chance(ending_features(paragraphs, len(paragraphs) - 1, features)) >= model.threshold


def ending_features(paragraphs: Sequence[Sequence[Facts]], number: int, features: Table) -> dict[str, float]:
    """Of one paragraph: its first sentence's cues, its length beside the others', the means of its sentences."""
    rows = [features[f.sentence.start] for f in paragraphs[number]]
    lengths = [sum(len(f.sentence.words) for f in p) for p in paragraphs]
    others = [length for i, length in enumerate(lengths) if i not in (0, number)] or lengths[:1]
    return {
        "closing": rows[0]["closing"],
        "order": rows[0]["order"] * (1 - rows[0]["closing"]),
        "length": min(2.0, lengths[number] * len(others) / max(1, sum(others))),
        **{name: sum(row[name] for row in rows) / len(rows) for name in ENDING},
    }


def tells_a_story(paragraphs: Sequence[Sequence[Facts]], features: Table) -> bool:
    """Whether the text as a whole is a story: most sentences in the past, moved on by time, next to no points made."""
    every = [features[f.sentence.start] for p in paragraphs for f in p]
    model = weights("story")
    return model.chance(story_features(every)) >= model.threshold


def story_features(sentences: Sequence[dict[str, float]]) -> dict[str, float]:
    """The means of what tells a story from an essay, over all sentences of a text."""
    return {name: sum(s[name] for s in sentences) / max(1, len(sentences)) for name in STORY}
