"""Names as initials."""

from __future__ import annotations

import pytest

from rubric_kit.showing.portfolio.names import Names


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Wren's bird, the wren, saw WREN and tamsin.", "W.'s bird, the wren, saw W. and T."),
        ("The Pellwoods met Anne-Marie and Marie.", "The P. met A.-M. and M."),
        ("Wrench and Tamsins2 and jonas_x", "Wrench and T.2 and J._x"),
        ("Rene\u0301 and O’Neil and O'Neil", "R. and O. and O."),
        ("I will ask Will.", "I will ask W."),
    ],
)
def test_names_are_replaced_as_whole_words(text: str, told: str) -> None:
    people = ["Wren", "Tamsin", "Jonas", "Anne-Marie", "René O'Neil", "Will"]
    assert Names(people, ["Wren Pellwood\nMay 29, 2026"], initials=True)(text) == told


def test_a_name_in_the_place_of_a_title_is_a_name() -> None:
    assert Names(["Wren"], (), ["Wren Brown", "The Brave Wren"], initials=True)("Brave Wren Brown") == "Brave W. B."


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("wren pellwood", "W. P."),
        ("Sept. 29, 2026", "Sept. 29, 2026"),
        ("Literature, Grade 4", "Literature, Grade 4"),
        ("Mrs. Rivera", "M. R."),
    ],
)
def test_a_heading_keeps_its_date_and_course(line: str, told: str) -> None:
    assert Names(["Wren"], ["Wren Pellwood"], initials=True).heading(line) == told
