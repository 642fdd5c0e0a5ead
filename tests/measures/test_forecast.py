"""The points that a thesis names ahead: found as spans of the thesis, and taken up by the body paragraphs."""

from __future__ import annotations

import pytest

from rubric_kit.measures.parse import parse
from rubric_kit.measures.structure.facts import Facts, facts_of
from rubric_kit.measures.structure.forecast import MOST, answers, forecast
from rubric_kit.reading import Essay, read_text


def parts(*paragraphs: str) -> tuple[Essay, tuple[tuple[Facts, ...], ...]]:
    essay = read_text("\n\n".join(paragraphs))
    return essay, facts_of(essay, parse(essay))


def points(thesis: str, *bodies: str) -> list[str]:
    essay, facts = parts(thesis, *bodies)
    found = forecast(essay, facts[0][0], facts[1:])
    for item in found:
        assert essay.text[item.start : item.end] == item.text
        assert item.text in thesis
        assert item.paragraph == 1
    return [item.text for item in found]


@pytest.mark.parametrize(
    ("thesis", "named"),
    [
        ("Dogs are loyal, brave, and useful.", ["loyal", "brave", "useful"]),
        (
            "I admire my aunt for her courage, her humor, and her patience.",
            ["her courage", "her humor", "her patience"],
        ),
        (
            "A garden teaches patience, saves money, and feeds friends.",
            ["teaches patience", "saves money", "feeds friends"],
        ),
    ],
)
def test_a_row_of_three_is_a_forecast(thesis: str, named: list[str]) -> None:
    assert points(thesis, "They bark at night.") == named


def test_a_row_of_two_is_one_where_the_body_takes_up_both() -> None:
    thesis = "Owls hunt well because of their eyes and their wings."
    assert points(thesis, "Their eyes are big and round.", "Their wings make no sound.") == [
        "their eyes",
        "their wings",
    ]
    assert points(thesis, "My brother likes soup.", "He cooks it on Sundays.") == []


def test_a_thesis_without_a_row_forecasts_nothing_and_no_thesis_neither() -> None:
    assert points("Owls are good hunters.", "They see well.") == []
    essay, facts = parts("Owls are good hunters.")
    assert forecast(essay, None, facts) == ()


def test_a_point_has_no_line_end_or_end_mark_in_it() -> None:
    text = "Dogs are loyal, brave, and useful.\n\n"
    essay = read_text(text + "They bark at night. They run.")
    facts = facts_of(essay, parse(essay))
    assert [item.text for item in forecast(essay, facts[0][0], facts[1:])] == ["loyal", "brave", "useful"]


def test_an_endless_row_is_a_list_and_no_forecast() -> None:
    row = ", ".join(["cats"] * (3 * MOST))
    assert points(f"I like {row} and dogs.", "Cats purr.") == []


def test_a_paragraph_answers_to_the_words_of_the_thesis_that_it_takes_up() -> None:
    _, facts = parts("Bats help farmers.", "Farmers save money. They are glad.", "My sister likes soup.")
    thesis = facts[0][0]
    assert answers(facts[1][0], facts[1], [], thesis) == ("farmer",)
    assert answers(None, facts[1], [], thesis) == ("farmer",)
    assert answers(facts[2][0], facts[2], [], thesis) == ()
    assert answers(facts[1][0], facts[1], [], None) == ()
