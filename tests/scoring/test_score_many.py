"""Many essays together: each scored exactly as alone, in order, and no essay costs another."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import rubric_kit as rk
from rubric_kit.scoring import score
from rubric_kit.scoring.as_json import as_json
from rubric_kit.scoring.language import NotEnglishError
from rubric_kit.scoring.sheet import ScoreSheet

TUNE = sorted((Path(__file__).parents[1] / "labelled" / "tune").glob("*.toml"))
EVERY = 24  # one labelled essay in so many; all of them were compared once, and take two minutes
GERMAN = "Der Hund lief durch den Wald und sah viele Tiere. " * 4


def labelled() -> Iterator[rk.HandedIn]:
    for path in TUNE[::EVERY]:
        row = tomllib.loads(path.read_text("utf-8"))
        yield rk.HandedIn(rk.read_text(row["text"]), row["grade"], row["form"])


def test_essays_scored_together_come_out_as_each_alone_to_the_last_bit() -> None:
    alone = [rk.score(*each) for each in labelled()]
    together = list(rk.score_many(labelled()))
    for one, other in zip(alone, together, strict=True):
        assert isinstance(other, ScoreSheet)
        assert as_json(one) == as_json(other)
        assert dict(one.measures) == dict(other.measures)
        assert one == other


def test_an_essay_that_cannot_be_scored_costs_no_other() -> None:
    essay = next(labelled())
    bad_grade = essay._replace(grade=12)
    german, tiny = rk.HandedIn(rk.read_text(GERMAN)), rk.HandedIn(rk.read_text("Dogs."))
    found = list(rk.score_many([german, essay, bad_grade, tiny, essay._replace(form="poem")]))
    kinds = [type(each).__name__ for each in found]
    assert kinds == ["NotEnglishError", "ScoreSheet", "ValueError", "ScoreSheet", "RubricFileError"]
    with pytest.raises(NotEnglishError, match="English"):
        rk.score(*german)


def test_no_more_essays_are_read_than_a_batch_holds(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rubric_kit.measures.parse.BATCH", 1_000)
    taken = 0

    def endless() -> Iterator[rk.HandedIn]:
        nonlocal taken
        while True:
            taken += 1
            yield rk.HandedIn(rk.read_text("Dogs are good pets. They play with you all day.\n" * 10))

    next(rk.score_many(endless()))
    assert taken < 5


def test_no_essays_give_no_sheets() -> None:
    assert list(rk.score_many([])) == []


def test_a_fault_of_ours_in_one_essay_costs_only_its_sheet(monkeypatch: pytest.MonkeyPatch) -> None:
    measured = score.measure_parsed

    def faulty(essay: rk.Essay, *others: object) -> object:
        if essay.source == "bad":
            raise ZeroDivisionError
        return measured(essay, *others)

    monkeypatch.setattr(score, "measure_parsed", faulty)
    text = "Dogs are good pets. They play with you all day and they never bite."
    found = list(rk.score_many(rk.HandedIn(rk.read_text(text, name)) for name in ("good", "bad", "also good")))
    assert [type(each).__name__ for each in found] == ["ScoreSheet", "ZeroDivisionError", "ScoreSheet"]
