"""What a reader is shown of the demo year does not change unnoticed; see keep_sheets.py, which writes what is kept."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from keep_sheets import (
    KEPT,
    all_sheets,
    found_text,
    labelled_sheets,
    measures_text,
    readers_text,
    revisions_text,
    sheets_text,
)

from rubric_kit.scoring.sheet import ScoreSheet

CLOSE = 1e-3  # of a value: another processor may round the parser's numbers otherwise


@pytest.fixture(scope="module")
def sheets() -> dict[str, ScoreSheet]:
    return all_sheets()


def kept(name: str) -> str:
    return (KEPT / name).read_text("utf-8")


def are_close(name: str, text: str) -> None:
    was, now = ([line.split("\t") for line in table.splitlines()] for table in (kept(name), text))
    assert now[0] == was[0]
    assert [row[0] for row in now] == [row[0] for row in was]
    for before, after in zip(was[1:], now[1:], strict=True):
        for essay, old, new in zip(was[0][1:], before[1:], after[1:], strict=True):
            same = old == new or (old and new and float(new) == pytest.approx(float(old), rel=CLOSE, abs=CLOSE))
            assert same, f"{before[0]} of {essay} was {old or 'not said'} and is {new or 'not said'}"


def test_the_measures_are_those_that_were_kept(sheets: dict[str, ScoreSheet]) -> None:
    are_close("measures.tsv", measures_text(sheets))


def test_the_readers_view_is_the_one_that_was_kept(sheets: dict[str, ScoreSheet]) -> None:
    are_close("readers.tsv", readers_text(sheets))


def test_levels_reasons_places_and_feedback_are_those_that_were_kept(sheets: dict[str, ScoreSheet]) -> None:
    assert sheets_text(sheets).splitlines() == kept("sheets.txt").splitlines()


def test_what_is_said_of_second_drafts_is_what_was_kept(sheets: dict[str, ScoreSheet]) -> None:
    assert revisions_text(sheets).splitlines() == kept("revisions.txt").splitlines()


def test_what_is_measured_and_found_in_labelled_essays_is_what_was_kept() -> None:
    others = labelled_sheets()
    are_close("labelled_measures.tsv", measures_text(others))
    assert found_text(others).splitlines() == kept("labelled_found.txt").splitlines()
