"""rubric-kit steady and compare; and the reader's own standards, shown only where they are asked for."""

import json
from datetime import date, timedelta

import pytest
from typer.testing import CliRunner

from rubric_kit.cli import app
from rubric_kit.records.pieces import pieces
from rubric_kit.records.rereading import as_you_mark, mark_again
from rubric_kit.records.rows import Draft
from rubric_kit.records.tasks import Version
from rubric_kit.scoring.standards import FEWEST

from .conftest import SAMPLES

DAY = date(2025, 10, 3)
LEVELS = {"focus": 4, "organization": 4, "evidence": 4, "sentences": 4, "conventions": 4}
TEXT = b"Owls are good hunters. They hunt at night. For example, an owl hears a mouse under the snow."
FIRST, SECOND = (
    SAMPLES / f"2025-{day}_tamsin_a-little-princess_draft-{n}.docx" for day, n in (("11-21", 1), ("12-03", 2))
)


@pytest.fixture
def run():
    runner = CliRunner()
    return lambda *arguments: runner.invoke(app, [str(argument) for argument in arguments])


@pytest.fixture
def year(family):
    """Eight pieces, all marked at 4, three of them marked again."""
    ann = family.students.add("Ann", grade=6, school_year="2025-26")
    for week in range(FEWEST):
        day = DAY + timedelta(weeks=week)
        task = family.tasks.add(f"task {week}", "Why?", set_on=day, versions={ann.id: Version("paragraph")})
        draft = family.drafts.hand_in_bytes(
            family.tasks.assignment(task.id, ann.id).id, TEXT, "owls.txt", received_on=day
        )
        family.sheets.make(draft.id)
        family.marks.add(draft.id, LEVELS, marked_on=day)
        if week < 3:
            mark_again(family, draft.id, LEVELS | {"focus": 3}, today=day + timedelta(days=60))
    return family


def test_steady_tells_how_often_levels_were_the_same(year, run):
    told = run("steady", "--json", "--family", year.folder)
    assert told.exit_code == 0
    plain = json.loads(told.stdout)
    assert (plain["marked_again"], plain["same"], plain["within_one"]) == (3, 0.8, 1.0)
    assert plain["marked"] == FEWEST
    assert all(offset > 0 for offset in plain["offsets"].values())
    in_words = run("steady", "--family", year.folder)
    assert "above those proposed" in in_words.output


def test_standards_are_shown_only_when_switched_on(year):
    piece = pieces(year)[0]
    assert as_you_mark(year, piece) == {}
    year.settings.set("use_reader_standards", True)
    learned = as_you_mark(year, piece)
    assert set(learned) == set(LEVELS)
    assert all(learned[key] >= piece.proposed[key] for key in LEVELS)
    assert any(learned[key] > piece.proposed[key] for key in LEVELS)


def test_an_empty_year_has_nothing_to_tell_yet(family, run):
    told = run("steady", "--family", family.folder)
    assert told.exit_code == 0
    assert "not known yet" in " ".join(told.output.split())


def test_two_files_are_compared(run, tmp_path):
    told = run("compare", FIRST, SECOND, "--grade", 8, "--html", tmp_path / "two.html")
    assert told.exit_code == 0, told.output
    assert "<html" in (tmp_path / "two.html").read_text("utf-8")


def test_two_drafts_of_the_records_are_compared(busy, run):
    draft = busy.database.rows(Draft)[0]
    alone = run("compare", "--student", "Ann", "--task", "The wild", "--family", busy.folder)
    assert (alone.exit_code, "one draft" in alone.stderr) == (1, True)
    busy.drafts.hand_in(draft.assignment_id, SECOND, received_on=date(2026, 5, 20))
    told = run("compare", "--student", "Ann", "--task", "The wild", "--family", busy.folder)
    assert told.exit_code == 0, told.output
    assert "Your own levels" not in told.output  # the second draft is not marked
    last = busy.drafts.of(draft.assignment_id)[-1]
    for marked, level in ((draft, 2), (last, 3)):
        busy.marks.add(marked.id, dict.fromkeys(LEVELS, level), marked_on=date(2026, 5, 21))
        busy.sheets.make(marked.id)
    told = run("compare", "--student", "Ann", "--task", "The wild", "--family", busy.folder)
    assert "Your own levels, and in brackets the proposed ones" in told.output
    assert "out of 100 (yours)" in told.output


@pytest.mark.parametrize(
    "arguments",
    [(), (FIRST,), (FIRST, SECOND, FIRST), ("--student", "Ann"), (FIRST, SECOND, "--student", "A", "--task", "b")],
)
def test_compare_wants_two_files_or_a_student_and_a_task(run, arguments):
    assert run("compare", *arguments).exit_code == 2
