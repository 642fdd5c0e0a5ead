"""Transitions: the words and phrases that join sentences and paragraphs, by the job they do."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files

from rubric_kit.measures.found import Found
from rubric_kit.measures.parse import PLAIN
from rubric_kit.reading import Essay, Sentence

WHY = {
    "adding": "adds a point to the one before",
    "contrasting": "turns against what was said before",
    "cause": "says what follows from what was said",
    "order": "puts points or events in order",
    "example": "leads in an example",
    "closing": "winds the essay up",
}
# Where each list of phrases counts, as a pattern before the phrase.
OPENING = r"(?:^[\s\"'(*-]*(?:(?:and|but|so|well|now)\b,?\s+)?|[;:]\s+)"
JOINING = rf"(?:{OPENING}|,\s+|\b(?:and|but|so)\s+)"
BEFORE = {"anywhere": r"\b", "opening": OPENING, "joining": JOINING}
# Words that do other work where these follow: "so many", "now that", "first place".
NOT_BEFORE = r"(?!(?:[a-z]*['-])|\s+(?:much|many|far|that|place|prize|grade|graders?|chapter|time|of)\b)"
TWO_JOBS = ("so", "still", "now", "once", "first", "second", "third", "last", "next", "then", "later")


def transitions(essay: Essay) -> tuple[Found, ...]:
    """Every transition in the essay, in order; ``kind`` is its job: one of the keys of WHY."""
    return tuple(
        found
        for number, paragraph in enumerate(essay.paragraphs, start=1)
        for sentence in paragraph.sentences
        for found in _in_sentence(essay, sentence, number)
    )


def _in_sentence(essay: Essay, sentence: Sentence, number: int) -> list[Found]:
    lower = essay.text[sentence.start : sentence.end].translate(PLAIN).lower()
    matches = (
        (match.start("phrase"), match.end("phrase"), job)
        for job, where, pattern in _patterns()
        for match in _matches(where, pattern, lower)
    )
    found: list[Found] = []
    for start, end, job in sorted(matches, key=lambda m: (m[0], -m[1])):
        if not found or sentence.start + start >= found[-1].end:
            place = sentence.start + start
            text = essay.text[place : sentence.start + end]
            found.append(Found(text, place, sentence.start + end, job, WHY[job], number))
    return found


def _matches(where: str, pattern: re.Pattern[str], sentence: str) -> Iterable[re.Match[str]]:
    """What opens something is looked for at the start alone, where no mark inside opens anything."""
    if where == "opening" and ";" not in sentence and ":" not in sentence:
        return filter(None, [pattern.match(sentence)])
    return pattern.finditer(sentence)


@cache
def _patterns() -> tuple[tuple[str, str, re.Pattern[str]], ...]:
    """Job, list and pattern for each list; overlaps between them are settled by the longest phrase."""
    table = tomllib.loads((files("rubric_kit.measures.structure") / "data/transitions.toml").read_text("utf-8"))
    return tuple(
        (job, where, re.compile(rf"{BEFORE[where]}(?P<phrase>{_either(phrases)})\b"))
        for job, lists in table.items()
        for where, phrases in _filled(lists)
    )


def _filled(lists: Mapping[str, list[str]]) -> list[tuple[str, list[str]]]:
    return [(where, phrases) for where, phrases in lists.items() if phrases]


def _either(phrases: list[str]) -> str:
    longest_first = sorted(phrases, key=len, reverse=True)
    return "|".join(p.replace(" ", r"\s+") + (rf"\b{NOT_BEFORE}" if p in TWO_JOBS else "") for p in longest_first)
