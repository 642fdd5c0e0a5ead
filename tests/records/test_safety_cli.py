"""rubric-kit backup, restore and check."""

import json

import pytest
from typer.testing import CliRunner

from rubric_kit.cli import app
from rubric_kit.records.family import ORIGINALS
from rubric_kit.records.originals import path_of
from rubric_kit.records.rows import Draft


@pytest.fixture
def run():
    runner = CliRunner()
    return lambda *arguments: runner.invoke(app, [str(argument) for argument in arguments])


def said(told):
    """What was printed, in one line whatever the width."""
    return " ".join(told.output.split())


def test_backed_up_restored_and_checked(busy, tmp_path, run):
    saved = run("backup", tmp_path / "year.zip", "--family", busy.folder)
    assert (saved.exit_code, "3 files" in said(saved)) == (0, True)
    again = run("restore", tmp_path / "year.zip", tmp_path / "again")
    assert (again.exit_code, "2 students" in said(again)) == (0, True)
    checked = run("check", "--family", tmp_path / "again")
    assert (checked.exit_code, "no damage" in said(checked)) == (0, True)


def test_a_backup_without_a_name_gets_the_date(busy, tmp_path, run, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run("backup", "--family", busy.folder).exit_code == 0
    assert len(list(tmp_path.glob("family-2*.zip"))) == 1


def test_damage_is_told_with_what_to_do(busy, run):
    draft = busy.database.rows(Draft)[0]
    path_of(busy.folder / ORIGINALS, draft.sha256, draft.file_name).unlink()
    told = run("check", "--family", busy.folder)
    assert told.exit_code == 1
    assert "What to do:" in " ".join(told.output.split())
    assert "rubric-kit check" not in " ".join(told.output.split())  # the command that was just run
    plain = run("check", "--json", "--family", busy.folder)
    assert plain.exit_code == 1
    assert draft.file_name in json.loads(plain.stdout)["damage"][0]["what"]


def test_what_is_not_there_is_told_in_a_line(tmp_path, run):
    for arguments in (
        ("backup", tmp_path / "a.zip", "--family", tmp_path),
        ("restore", tmp_path / "none.zip", tmp_path / "again"),
        ("check", "--family", tmp_path),
    ):
        told = run(*arguments)
        assert told.exit_code == 1
        assert len(told.stderr.splitlines()) == 1
