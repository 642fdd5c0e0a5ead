"""The demo year in sample_essays: every piece reads as its child laid it out, and year.toml fits the pieces."""

from __future__ import annotations

import re
import tomllib
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from rubric_kit.reading import read
from rubric_kit.scoring.rubric_file import load_form

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
    "2025-12-18_tamsin_a-christmas-carol.rtf": 5,
    "2025-12-19_jonas_a-christmas-carol.md": 3,
    "2026-01-16_tamsin_robinson-crusoe.txt": 5,
    "2026-01-19_jonas_robinson-crusoe.docx": 3,
    "2026-01-23_wren_robinson-crusoe_draft-1.odt": 1,
    "2026-02-02_wren_robinson-crusoe_draft-2.odt": 1,
    "2026-02-20_jonas_alice-in-wonderland.txt": 3,
    "2026-02-20_tamsin_alice-in-wonderland.odt": 5,
    "2026-02-27_wren_down-the-laundry-basket.docx": 5,  # a story
    "2026-03-10_tamsin_treasure-island_draft-1.docx": 5,
    "2026-03-12_jonas_treasure-island_draft-1.md": 3,
    "2026-03-16_wren_treasure-island.rtf": 1,
    "2026-03-17_tamsin_treasure-island_draft-2.docx": 5,
    "2026-03-18_jonas_treasure-island_draft-2.md": 3,
    "2026-04-01_wren_around-the-world-in-eighty-days_draft-1.odt": 1,
    "2026-04-02_jonas_around-the-world-in-eighty-days_draft-1.docx": 5,
    "2026-04-03_tamsin_around-the-world-in-eighty-days.txt": 5,
    "2026-04-08_wren_around-the-world-in-eighty-days_draft-2.odt": 1,
    "2026-04-10_jonas_around-the-world-in-eighty-days_draft-2.docx": 5,
    "2026-05-15_jonas_call-of-the-wild.txt": 3,
    "2026-05-15_tamsin_call-of-the-wild.odt": 5,
    "2026-05-18_wren_call-of-the-wild.txt": 1,
    "2026-05-28_tamsin_wizard-of-oz.odt": 5,
    "2026-05-29_jonas_wizard-of-oz.rtf": 5,
    "2026-05-29_wren_wizard-of-oz.txt": 1,
}
UNTITLED = {"2026-01-23_wren_robinson-crusoe_draft-1.odt"}
# Fewest and most words that a piece of so many paragraphs has at these ages; a short one is a child's bad day.
WORDS = {1: (40, 220), 3: (100, 250), 5: (230, 600)}
GRADES = {"tamsin": 8, "jonas": 6, "wren": 4}
# The paragraphs that a task of this form asks for; a story has as many as it needs.
ASKED = {"paragraph": {1}, "three-paragraph": {3}, "five-paragraph": {5}, "narrative": {3, 4, 5, 6}}
YEAR_FILE = SAMPLES / "year.toml"
YEAR: dict[str, Any] = tomllib.loads(YEAR_FILE.read_text(encoding="utf-8"))
CRITERIA = {criterion.key for criterion in load_form("five-paragraph").criteria}
LAST_DAY = date(2026, 5, 31)

every_sample = pytest.mark.parametrize("name", PARAGRAPHS)


def test_the_folder_holds_these_pieces_and_nothing_else() -> None:
    assert {file.name for file in SAMPLES.iterdir()} == {YEAR_FILE.name, *PARAGRAPHS}


def test_most_pieces_are_txt_docx_and_odt_and_some_are_rtf_and_md() -> None:
    suffixes = [Path(name).suffix for name in PARAGRAPHS]
    assert all(suffixes.count(suffix) * 5 >= len(suffixes) for suffix in (".txt", ".docx", ".odt"))
    assert all(suffixes.count(suffix) >= 3 for suffix in (".rtf", ".md"))


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


def key(row: dict[str, Any]) -> tuple[str, str]:
    return row["student"], row["task"]


def draft_key(row: dict[str, Any]) -> tuple[str, str, int]:
    return row["student"], row["task"], row["draft"]


TASKS = {row["title"]: row for row in YEAR["task"]}
GIVEN = {(fit["student"], task["title"]): fit for task in YEAR["task"] for fit in task["for"]}
EXCUSED = {key(row) for row in YEAR["excused"]}
DRAFTS = {(row["student"], row["task"], row["number"]): row for row in YEAR["draft"]}
MARKS = {draft_key(row): row for row in YEAR["mark"]}


def all_dates(value: Any) -> list[date]:
    if isinstance(value, dict):
        return [day for inner in value.values() for day in all_dates(inner)]
    if isinstance(value, list):
        return [day for inner in value for day in all_dates(inner)]
    return [value] if isinstance(value, date) else []


def test_the_year_is_as_large_as_the_demo_promises() -> None:
    assert len(YEAR["student"]) == 3
    assert len(YEAR["term"]) == 2
    assert len(DRAFTS) >= 30
    assert sum(number == 2 for *_, number in DRAFTS) >= 4
    assert len(YEAR["again"]) == 8


def test_names_and_titles_are_there_once() -> None:
    for rows, name in (("student", "name"), ("term", "name"), ("book", "title"), ("task", "title"), ("draft", "file")):
        names = [row[name] for row in YEAR[rows]]
        assert len(names) == len(set(names))
    for rows in ("mark", "again", "conference"):
        assert len({draft_key(row) for row in YEAR[rows]}) == len(YEAR[rows])
    assert len(DRAFTS) == len(YEAR["draft"])


def test_every_file_of_the_folder_is_a_draft_of_the_year() -> None:
    assert {row["file"] for row in YEAR["draft"]} == set(PARAGRAPHS)


def test_children_and_grades_are_those_of_the_pieces() -> None:
    assert {row["name"].lower(): row["grade"] for row in YEAR["student"]} == GRADES


def test_every_reference_of_the_year_is_to_something_there() -> None:
    students = {row["name"] for row in YEAR["student"]}
    books = {row["title"] for row in YEAR["book"]}
    assert {task["book"] for task in YEAR["task"]} == books
    assert {student for student, _ in GIVEN} == students
    for rows in ("draft", "answers", "excused", "mark", "again", "conference"):
        assert {key(row) for row in YEAR[rows]} <= set(GIVEN)
    for rows in ("mark", "conference"):
        assert {draft_key(row) for row in YEAR[rows]} <= set(DRAFTS)
    assert {draft_key(row) for row in YEAR["again"]} <= set(MARKS)


def test_a_task_given_is_handed_in_and_answered_unless_excused() -> None:
    assert {key(row) for row in YEAR["draft"]} == set(GIVEN) - EXCUSED
    assert {key(row) for row in YEAR["answers"]} == set(GIVEN) - EXCUSED


def test_drafts_are_numbered_as_their_files_say_in_the_order_they_came() -> None:
    for (student, task, number), row in DRAFTS.items():
        day, child, *_ = row["file"].split("_")
        assert (day, child) == (row["received"].isoformat(), student.lower())
        drafts = sum(key(other) == (student, task) for other in YEAR["draft"])
        said = re.search(r"_draft-(\d)\.", row["file"])
        assert said is None if drafts == 1 else said is not None and int(said[1]) == number
        assert number == 1 or DRAFTS[student, task, number - 1]["received"] < row["received"]


def test_the_last_draft_of_every_task_is_marked() -> None:
    last = {(*given, max(number for *rest, number in DRAFTS if tuple(rest) == given)) for given in set(GIVEN) - EXCUSED}
    assert last <= set(MARKS)


def test_every_piece_has_the_paragraphs_that_its_task_asks_for() -> None:
    for row in YEAR["draft"]:
        assert PARAGRAPHS[row["file"]] in ASKED[GIVEN[key(row)]["form"]]


def test_terms_and_books_follow_one_another() -> None:
    for first, then in pairwise(YEAR["term"]):
        assert first["begins"] < first["ends"] < then["begins"] < then["ends"]
    first_day, last_day = YEAR["term"][0]["begins"], YEAR["term"][-1]["ends"]
    assert all(first_day <= book["started"] < book["finished"] <= last_day for book in YEAR["book"])
    started = [book["started"] for book in YEAR["book"]]
    assert started == sorted(started)


def test_every_date_of_the_year_is_past() -> None:
    assert max(all_dates(YEAR)) <= LAST_DAY


def test_what_belongs_to_a_task_comes_after_it_in_order() -> None:
    finished = {book["title"]: book["finished"] for book in YEAR["book"]}
    for task in YEAR["task"]:
        assert finished[task["book"]] <= task["set"]
    for (_, title), fit in GIVEN.items():
        assert TASKS[title]["set"] < fit["due"] <= YEAR["term"][-1]["ends"]
    for row in YEAR["draft"]:
        assert TASKS[row["task"]]["set"] < row["received"]
    for at, mark in MARKS.items():
        assert DRAFTS[at]["received"] <= mark["date"]
    for talk in YEAR["conference"]:
        assert DRAFTS[draft_key(talk)]["received"] <= talk["date"]
    for again in YEAR["again"]:
        assert (again["date"] - MARKS[draft_key(again)]["date"]).days >= 28


def test_one_piece_came_late_and_one_was_done_over() -> None:
    first = [row for row in YEAR["draft"] if row["number"] == 1]
    assert [key(row) for row in first if row["received"] > GIVEN[key(row)]["due"]] == [("Jonas", "Robinson Crusoe")]
    over = {
        at
        for at, mark in MARKS.items()
        for row in YEAR["draft"]
        if key(row) == at[:2] and row["received"] > mark["date"]
    }
    assert over == {("Wren", "Robinson Crusoe", 1)}
    assert len(YEAR["excused"]) == 1


def test_levels_go_from_1_to_4_for_each_criterion() -> None:
    for row in YEAR["mark"] + YEAR["again"]:
        assert set(row["levels"]) == CRITERIA
        assert all(level in {1, 2, 3, 4} for level in row["levels"].values())


def test_some_essays_were_marked_blind() -> None:
    blind = sum(not row["seen_proposal"] for row in YEAR["mark"])
    assert 3 <= blind < len(YEAR["mark"]) / 2


def test_points_are_halves_within_those_of_the_questions() -> None:
    for row in YEAR["answers"]:
        asked = TASKS[row["task"]]["questions"][: GIVEN[key(row)]["questions"]]
        assert len(row["points"]) == GIVEN[key(row)]["questions"]
        for given, question in zip(row["points"], asked, strict=True):
            assert 0 <= given <= question["points"]
            assert given * 2 == int(given * 2)


def test_the_sentence_of_a_conference_stands_in_the_piece() -> None:
    for row in YEAR["conference"]:
        text = " ".join(read(SAMPLES / DRAFTS[draft_key(row)]["file"]).text.split())
        assert row["worked"] in text
