"""The demo year in sample_essays: every piece reads as its child laid it out."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rubric_kit.reading import read

SAMPLES = Path(__file__).parents[1] / "sample_essays"

# Paragraphs as laid out by the child, without heading and title.
PARAGRAPHS = {
    "2025-09-19_jonas_black-beauty.txt": 3,
    "2025-09-19_tamsin_black-beauty.docx": 5,
    "2025-09-22_wren_black-beauty.odt": 1,
    "2025-10-17_tamsin_wind-in-the-willows.odt": 5,
    "2025-10-17_wren_wind-in-the-willows.txt": 1,
    "2025-10-20_jonas_wind-in-the-willows.docx": 3,
    "2025-11-21_tamsin_a-little-princess_draft-1.docx": 5,
    "2025-12-01_jonas_a-little-princess.odt": 3,
    "2025-12-03_tamsin_a-little-princess_draft-2.docx": 5,
    "2025-12-05_wren_a-little-princess.txt": 1,
    "2026-01-16_tamsin_robinson-crusoe.txt": 5,
    "2026-01-19_jonas_robinson-crusoe.docx": 3,
    "2026-01-23_wren_robinson-crusoe.odt": 1,
    "2026-02-20_jonas_alice-in-wonderland.txt": 3,
    "2026-02-20_tamsin_alice-in-wonderland.odt": 5,
    "2026-02-27_wren_down-the-laundry-basket.docx": 5,  # a story
    "2026-04-03_tamsin_around-the-world-in-eighty-days.txt": 5,
    "2026-04-08_wren_around-the-world-in-eighty-days.odt": 1,
    "2026-04-10_jonas_around-the-world-in-eighty-days.docx": 5,
    "2026-05-15_jonas_call-of-the-wild.txt": 3,
    "2026-05-15_tamsin_call-of-the-wild.odt": 5,
    "2026-05-18_wren_call-of-the-wild.txt": 1,
}
UNTITLED = {"2026-01-23_wren_robinson-crusoe.odt"}
# Fewest and most words that a piece of so many paragraphs has at these ages; a short one is a child's bad day.
WORDS = {1: (40, 220), 3: (100, 250), 5: (230, 600)}
GRADES = {"tamsin": 8, "jonas": 6, "wren": 4}

every_sample = pytest.mark.parametrize("name", PARAGRAPHS)


def test_the_folder_holds_these_pieces_and_nothing_else() -> None:
    assert {file.name for file in SAMPLES.iterdir()} == set(PARAGRAPHS)


def test_every_format_is_about_a_third_of_the_year() -> None:
    suffixes = [Path(name).suffix for name in PARAGRAPHS]
    assert all(suffixes.count(suffix) * 4 >= len(suffixes) for suffix in (".txt", ".docx", ".odt"))


@every_sample
def test_paragraphs_are_those_of_the_childs_own_layout(name: str) -> None:
    assert len(read(SAMPLES / name).paragraphs) == PARAGRAPHS[name]


@every_sample
def test_the_length_suits_the_form(name: str) -> None:
    fewest, most = WORDS[PARAGRAPHS[name]]
    assert fewest <= len(read(SAMPLES / name).words) <= most


@every_sample
def test_the_heading_names_the_child_the_year_and_the_course(name: str) -> None:
    day, child, *_ = name.split("_")
    heading = read(SAMPLES / name).heading
    assert heading is not None
    for part in (child.title(), day[:4], "Literature", f"Grade {GRADES[child]}"):
        assert part in heading.text


@every_sample
def test_the_title_is_kept_out_of_the_counts(name: str) -> None:
    essay = read(SAMPLES / name)
    assert (essay.title is None) == (name in UNTITLED)
    if essay.title is not None:
        assert essay.paragraphs[0].start >= essay.title.end


@every_sample
def test_the_date_in_the_file_name_lies_in_the_school_year(name: str) -> None:
    assert re.match(r"2025-(09|1[0-2])-|2026-0[1-5]-", name)
