"""The page for a talk: words for grade 3 and up, the child's own sentences, no numbers, one sheet of paper."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date, timedelta
from itertools import product

import pytest
from pypdf import PdfReader

from rubric_kit.records.family import Family
from rubric_kit.scoring.advice import advice, stretch
from rubric_kit.scoring.feedback import grade_of
from rubric_kit.scoring.rubric import GRADES
from rubric_kit.scoring.rubric_file import FORMS
from rubric_kit.showing.charts.tables import levels_table
from rubric_kit.showing.conference import Talk, talk, talk_html, talk_pdf
from rubric_kit.showing.conference.grown import grown
from rubric_kit.showing.conference.talk import SENTENCE, TITLE
from rubric_kit.showing.conference.words import words

from ..chart_pieces import FIRST, TERMS, made
from .conftest import ESSAY

TODAY = date(2026, 6, 2)
STARTED = "You put your own thoughts on paper. That is where all good work starts."


@pytest.fixture
def about(family: Family) -> Talk:
    return talk(family, 7, TODAY)


def series(*levels: tuple[int, int]) -> list[object]:
    """Pieces three weeks apart with these levels for focus and for organization."""
    return [made(n, day=FIRST + timedelta(days=21 * n), own=own, task=n) for n, own in enumerate(levels, start=1)]


def page(*told: str) -> tuple[str, ...]:
    """All that the page says to a child."""
    say = words()
    return (*say["say"].values(), say["chart"]["dot"], say["chart"]["line"], *say["levels"].values(), *told)


STEPS = {f"{form} {name}": row for form in FORMS for name, row in advice(form).items()}
STEPS |= {f"stretch {name}": row for name, row in stretch().items()}
GREW = [*words()["grew"].values(), *words()["not_yet"].values()]
HARDEST = max(STEPS.values(), key=lambda row: grade_of((row["try"], row["exercise"])))


@pytest.mark.parametrize("name", STEPS)
def test_each_strength_and_step_with_each_word_about_growth_is_no_harder_than_any_grade(name: str) -> None:
    row = STEPS[name]
    worked = row.get("worked", STARTED)
    for grew, strength, step in product(GREW, (worked, STARTED), (row, HARDEST)):
        lines = page(grew, strength, step["try"], step["exercise"])
        hard = grade_of(lines)
        assert all(hard <= grade for grade in GRADES), lines


def test_each_sentence_about_growth_stands_alone_at_grade_3() -> None:
    for told in [*words()["grew"].values(), *words()["not_yet"].values(), *words()["say"].values()]:
        assert grade_of((told,)) <= 3, told


def test_what_rose_most_surely_is_told_and_drawn_without_numbers() -> None:
    found = grown(levels_table(series(*[(3, level) for level in (1, 1, 2, 2, 3, 3, 4)])), "five-paragraph", TERMS)
    assert found.words == words()["grew"]["organization"]
    ax = found.chart.draw()
    names = [label.get_text() for label in ax.get_yticklabels()]
    assert names == list(words()["levels"].values())
    assert len([line for line in ax.lines if line.get_linestyle() == "--"]) == 1
    assert "a start" in found.chart.alt
    assert "very good" in found.chart.alt
    assert not any(c.isdigit() for c in found.chart.alt + found.words)


@pytest.mark.parametrize(
    ("levels", "told"),
    [
        ([(4, 4), (4, 4), (3, 3), (3, 3), (2, 2), (2, 2), (1, 1)], "open"),
        ([(3, 2), (2, 3), (3, 2), (2, 3), (3, 2), (3, 3), (2, 2)], "open"),
        ([(1, 1), (4, 4)], "few"),
    ],
    ids=["a fall", "ups and downs", "two pieces"],
)
def test_without_a_rise_none_is_claimed_and_no_fall_is_told(levels: list[tuple[int, int]], told: str) -> None:
    found = grown(levels_table(series(*levels)), "five-paragraph", TERMS)
    assert found.words == words()["not_yet"][told]
    assert [line for line in found.chart.draw().lines if line.get_linestyle() == "--"] == []


def test_without_a_level_there_is_no_chart() -> None:
    assert grown(levels_table([made(own=None, proposed=None)]), "paragraph", TERMS).chart is None


def test_the_sentences_are_the_childs_own_and_not_the_same(about: Talk) -> None:
    assert about.worked_sentence in " ".join(ESSAY.split())
    assert about.step_sentence in " ".join(ESSAY.split())
    assert about.worked_sentence != about.step_sentence
    assert about.worked_sentence.endswith(".")
    assert about.grew == words()["grew"]["organization"]


def test_earlier_goals_come_with_what_became_of_them(family: Family) -> None:
    family.conferences.change(1, outcome="Done.")
    family.conferences.add(7, held_on=TODAY, goal="Today's.")
    about = talk(family, 7, TODAY)
    assert [(e.goal, e.outcome) for e in about.earlier] == [("One <i>reason</i> more.", "Done.")]
    assert about.today_s
    assert about.today_s.goal == "Today's."


def test_only_pieces_up_to_the_day_of_the_piece_are_looked_at(family: Family) -> None:
    assert talk(family, 2, TODAY).grew == words()["not_yet"]["few"]


def test_markup_is_shown_as_text_and_nothing_can_run(about: Talk) -> None:
    html = talk_html(about, 'Try <img src=x onerror="x">')
    assert "<script" not in html
    assert "<img src=x" not in html
    assert "<b>Ashe" not in html
    assert "Try &lt;img src=x" in html
    assert "default-src &#39;none&#39;" in html or "default-src 'none'" in html


@pytest.mark.parametrize("long", [False, True], ids=["as it is", "everything as long as can be"])
def test_it_is_one_sheet_of_paper(about: Talk, long: bool) -> None:
    if long:
        far = "wherever the weather " * 15
        about = replace(
            about,
            title="W" * TITLE,
            worked_sentence=far[:SENTENCE],
            step_sentence="W" * SENTENCE,
            earlier=tuple(replace(about.earlier[0], goal=far, outcome=far) for _ in range(5)),
        )
    text = [p.extract_text() for p in PdfReader(io.BytesIO(talk_pdf(about, "wherever we go " * 40))).pages]
    assert len(text) == 1
    assert "We say yes to this" in text[0]
    assert about.step.split()[0] in text[0]
