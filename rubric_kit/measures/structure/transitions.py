"""Transitions: the words and phrases that join sentences and paragraphs, by the job they do."""

from __future__ import annotations

import re
import tomllib
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
# Where a clause may begin inside a sentence, so that "start" phrases count there too.
CLAUSE_START = r"(?:^[\s\"'(]*(?:(?:and|but|so|well)\s+)?|[;:]\s*)"


def transitions(essay: Essay) -> tuple[Found, ...]:
    """Every transition in the essay, in order; ``kind`` is its job: one of the keys of WHY."""
    found: list[Found] = []
    for number, paragraph in enumerate(essay.paragraphs, start=1):
        for sentence in paragraph.sentences:
            found += _in_sentence(essay, sentence, number)
    return tuple(found)


def _in_sentence(essay: Essay, sentence: Sentence, number: int) -> list[Found]:
    lower = essay.text[sentence.start : sentence.end].translate(PLAIN).lower()
    found = []
    taken = 0
    for match in _pattern().finditer(lower):
        job, phrase = next((name, text) for name, text in match.groupdict().items() if text is not None)
        start, end = match.span(job)
        if start >= taken and _joins(lower, phrase, end):
            taken = end
            place = sentence.start + start
            text = essay.text[place : place + len(phrase)]
            found.append(Found(text, place, place + len(phrase), job.rstrip("_"), WHY[job.rstrip("_")], number))
    return found


def _joins(lower: str, phrase: str, end: int) -> bool:
    """Whether a word that can also do other work is a transition here ("so many", "still waters", "first prize")."""
    following = lower[end:].lstrip()
    if phrase in ("so", "then", "now", "still", "once", "yet") and following.startswith(
        ("that ", "much", "many", "far")
    ):
        return False
    return not (phrase == "another" and not following)


@cache
def _pattern() -> re.Pattern[str]:
    """Longest phrases first, one named group for each job; a trailing underscore marks its "start" list."""
    table = tomllib.loads((files("rubric_kit.measures.structure") / "data/transitions.toml").read_text("utf-8"))
    start = [(phrase, job) for job, lists in table.items() for phrase in lists["start"]]
    anywhere = [(phrase, job) for job, lists in table.items() for phrase in lists["anywhere"]]
    groups = [rf"{CLAUSE_START}(?P<{job}_>(?:{_longest(start, job)}))\b" for job in table]
    groups += [rf"\b(?P<{job}>{_longest(anywhere, job)})\b" for job in table]
    return re.compile("|".join(groups))


def _longest(phrases: list[tuple[str, str]], job: str) -> str:
    return "|".join(re.escape(p) for p in sorted((p for p, j in phrases if j == job), key=len, reverse=True))
