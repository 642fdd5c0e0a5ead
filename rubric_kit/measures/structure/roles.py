"""What each paragraph is for: introduction, body, conclusion, or something else."""

from __future__ import annotations

from collections.abc import Sequence

from rubric_kit.measures.structure.facts import Facts
from rubric_kit.measures.structure.weights import weights

STORY_FORMS = ("narrative",)
ONE_BLOCK_FORMS = ("paragraph",)


def roles(paragraphs: Sequence[Sequence[Facts]], features: dict[int, dict[str, float]], form: str) -> tuple[str, ...]:
    """One role a paragraph. ``form`` is the form of the task; ``features`` are each sentence's, by its start."""
    count = len(paragraphs)
    if form in STORY_FORMS or tells_a_story(paragraphs, features):
        return ("other",) * count
    if count == 1:
        return ("body",) if form in ONE_BLOCK_FORMS else ("other",)
    found = ["body"] * count
    if form not in ONE_BLOCK_FORMS:
        found[0] = "introduction"
    if ends(paragraphs, features):
        found[-1] = "conclusion"
    return tuple(found)


def ends(paragraphs: Sequence[Sequence[Facts]], features: dict[int, dict[str, float]]) -> bool:
    """Whether the last paragraph winds the essay up."""
    model = weights("conclusion")
    return model.chance(ending_features(paragraphs, features)) >= model.threshold


def ending_features(paragraphs: Sequence[Sequence[Facts]], features: dict[int, dict[str, float]]) -> dict[str, float]:
    """Of the last paragraph: its first cues, its length beside the body's, and the means of its sentences."""
    last = [features[f.sentence.start] for f in paragraphs[-1]]
    lengths = [sum(len(f.sentence.words) for f in p) for p in paragraphs]
    middle = lengths[1:-1] or lengths[:-1]
    return {
        "closing": last[0]["closing"],
        "order": last[0]["order"],
        "length": min(2.0, lengths[-1] / max(1.0, sum(middle) / len(middle))),
        "paragraphs": min(1.0, (len(paragraphs) - 2) / 3),
        **{
            name: sum(s[name] for s in last) / len(last)
            for name in ("past", "names", "number", "quotation", "stance", "spread", "opposite", "example", "new")
        },
    }


def tells_a_story(paragraphs: Sequence[Sequence[Facts]], features: dict[int, dict[str, float]]) -> bool:
    """Whether the text as a whole is a story: most sentences in the past, moved on by time, next to no points made."""
    every = [features[f.sentence.start] for p in paragraphs for f in p]
    model = weights("story")
    return model.chance(story_features(every)) >= model.threshold


def story_features(sentences: Sequence[dict[str, float]]) -> dict[str, float]:
    """The means of what tells a story from an essay, over all sentences of a text."""
    names = (
        "past",
        "time",
        "stance",
        "being",
        "i_subject",
        "person_subject",
        "general",
        "quotation",
        "reasons",
        "closing",
        "order",
        "modal",
        "explain",
    )
    return {name: sum(s[name] for s in sentences) / max(1, len(sentences)) for name in names}
