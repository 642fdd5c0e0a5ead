"""How a sentence stands to the rest of the essay: to its paragraph, the other paragraphs, the ends, the title."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from rubric_kit.measures.meaning import reach, shared
from rubric_kit.measures.structure.facts import Facts

Paragraphs = Sequence[Sequence[Facts]]
REMEMBERED = 8  # paragraphs, about those of the essay at hand, of which each is asked for again and again


def relations(paragraphs: Paragraphs, title: Mapping[str, float]) -> dict[int, dict[str, float]]:
    """For each sentence, by its start: shares (0 to 1) of meaning that it has in common with other parts.

    spread      with each other paragraph, averaged: a sentence that states the whole point touches them all
    paragraph   with the rest of its own paragraph
    gathers     the rest of its paragraph with it: how much of the paragraph it covers
    opposite    with the nearest sentence of the essay's other end (introduction and conclusion echo each other)
    title       with the title
    leads       with the first sentence of each other paragraph, averaged
    about       in how many paragraphs (of a single one, sentences) the sentence's own subject comes up
    central     how much of its meaning comes up in how many paragraphs
    new         what it has in common with nothing before it
    """
    whole = [merged(p) for p in paragraphs]
    reaches = [reach_of(tuple(p)) for p in paragraphs]
    found = {}
    in_how_many = Counter(lemma for words in whole for lemma in words)
    before: list[Mapping[str, float]] = []  # what the sentences so far reach
    for number, paragraph in enumerate(paragraphs):
        others = [r for i, r in enumerate(reaches) if i != number]
        far = paragraphs[0] if number == len(paragraphs) - 1 else paragraphs[-1]
        for facts in paragraph:
            others_here = [f for f in paragraph if f is not facts]
            rest = merged(others_here)
            found[facts.sentence.start] = {
                "leads": _mean(alike(facts, p[0]) for i, p in enumerate(paragraphs) if i != number),
                "about": _share_with(facts.subject, whole if len(whole) > 1 else [f.words for f in paragraph]),
                "central": _central(facts, in_how_many, len(paragraphs)),
                "spread": _mean(shared(facts.words, r) for r in others),
                "paragraph": shared(facts.words, _met(facts.words, [f.reach for f in others_here])),
                "gathers": shared(rest, facts.reach),
                "opposite": max((alike(facts, f) for f in far if f is not facts), default=0.0),
                "title": shared(title, facts.reach),
                "new": 1.0 - shared(facts.words, _met(facts.words, before)) if facts.words else 0.0,
            }
            before.append(facts.reach)
    return found


@lru_cache(maxsize=REMEMBERED)
def reach_of(paragraph: tuple[Facts, ...]) -> Mapping[str, float]:
    """What the words of some sentences touch, and how closely."""
    return reach(merged(paragraph))


def alike(one: Facts, other: Facts) -> float:
    """How far two sentences speak of the same (0 to 1): the mean of what each shares with the other."""
    return (shared(one.words, other.reach) + shared(other.words, one.reach)) / 2


def merged(sentences: Iterable[Facts]) -> dict[str, float]:
    """The content lemmas of several sentences, each with its weight."""
    return {lemma: weight for facts in sentences for lemma, weight in facts.words.items()}


def _met(words: Iterable[str], reaches: Sequence[Mapping[str, float]]) -> dict[str, float]:
    """How closely each word is touched by any of these: what ``reach`` of all their words would say of it."""
    return {word: max([reached.get(word, 0.0) for reached in reaches], default=0.0) for word in words}


def _central(facts: Facts, in_how_many: Mapping[str, int], paragraphs: int) -> float:
    total = sum(facts.words.values())
    if not total or paragraphs == 1:
        return 0.0
    return sum(w * (in_how_many[lemma] - 1) for lemma, w in facts.words.items()) / (total * (paragraphs - 1))


def _share_with(subject: str, parts: Sequence[Mapping[str, float]]) -> float:
    return sum(subject in words for words in parts) / len(parts) if subject else 0.0


def _mean(values: Iterable[float]) -> float:
    listed = list(values)
    return sum(listed) / len(listed) if listed else 0.0
