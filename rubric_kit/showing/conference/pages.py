"""The page for a talk as a part of a notebook, as a web page that needs nothing else, and as one sheet of paper."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from rubric_kit.showing.charts.files import chart_svg
from rubric_kit.showing.conference.talk import Talk
from rubric_kit.showing.conference.words import words
from rubric_kit.showing.drawn import data_uri
from rubric_kit.showing.html import filled, filled_page
from rubric_kit.showing.inert import short
from rubric_kit.showing.pdf import set_pdf
from rubric_kit.showing.portfolio.words import day_in_words

STYLES = ("sheet.css", "talk.css")
# What fits on one sheet of paper; the records and the notebook hold all of it.
GOAL = 240  # characters
BEFORE, BEFORE_SAID = 2, 160  # earlier goals, and characters of each and of what became of it
LINES = 3  # to write on


def talk_part(talk: Talk) -> str:
    """What grew, what works and what to try, as a fragment for a notebook."""
    return filled("talk.html.j2", **_values(talk), level=3)


def talk_html(talk: Talk, goal: str = "") -> str:
    """The whole page: no script, nothing from outside, and a policy that forbids any."""
    return filled_page("talk_page.html.j2", STYLES, **_values(talk), **_paper(talk, goal), level=2)


def talk_pdf(talk: Talk, goal: str = "") -> bytes:
    """One sheet of paper, with lines to write on. Raises PageNotSetError."""
    view = {key: value for key, value in asdict(talk).items() if isinstance(value, str | int)}
    chart = {"svg": chart_svg(talk.chart).decode(), "alt": talk.chart.alt} if talk.chart else None
    data = {"view": view, "say": dict(words()["say"]), "chart": chart, **_paper(talk, goal)}
    return set_pdf("talk.typ", data, talk.title)


def talk_words(talk: Talk) -> str:
    """The same as plain text."""
    say = words()["say"]
    lines = [
        f"{talk.child}: {talk.title}",
        f"{say['grew']}: {talk.grew} {talk.chart.alt if talk.chart else ''}",
        f"{say['worked']}: {talk.worked}",
        f"    {talk.worked_sentence}",
        f"{say['next']}: {talk.step}",
        f"    {talk.step_sentence}",
        f"{say['five']} {talk.exercise}",
        f"{say['before']}:",
    ]
    before = [f"{day_in_words(e.day)}, {e.about}: {e.goal} {e.outcome}" for e in talk.earlier]
    return "\n".join(line.rstrip() for line in [*lines, *before] if line.strip())


def _values(talk: Talk) -> dict[str, Any]:
    picture = data_uri(talk.chart) if talk.chart else ""
    return {"view": talk, "say": words()["say"], "picture": picture, "alt": talk.chart.alt if talk.chart else ""}


def _paper(talk: Talk, goal: str) -> dict[str, Any]:
    return {
        "day": day_in_words(talk.day),
        "goal": short(goal, GOAL),
        "lines": LINES,
        "before": [
            {"day": day_in_words(e.day), "goal": short(e.goal, BEFORE_SAID), "outcome": short(e.outcome, BEFORE_SAID)}
            for e in talk.earlier[:BEFORE]
        ],
    }
