"""rubric-kit batch on the terminal: what it says, where, and with which exit code."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from .commands import COMMAND_LINE, FINE, INPUT, run

ESSAY = "My dog is the best friend that I have. First, it waits for me at the door every day, even in the rain."
RUN = "from rubric_kit.cli import main; main()"


@pytest.fixture
def table(tmp_path: Path) -> Path:
    path = tmp_path / "in.csv"
    path.write_text(f'id,text\n1,"{ESSAY}"\n2,"{ESSAY}"\n')
    return path


def test_it_says_on_stderr_what_was_written(table: Path, tmp_path: Path) -> None:
    result = run("batch", table, "--out", tmp_path / "out.csv", "--processes", 1, code=FINE)
    assert result.stdout == ""
    assert result.stderr == f"Wrote {tmp_path}/out.csv: 2 essays.\n"


def test_rows_left_out_are_told_of_and_the_exit_code_is_1(table: Path, tmp_path: Path) -> None:
    table.write_text(table.read_text() + "3,\n")
    result = run("batch", table, "--out", tmp_path / "out.csv", "--processes", 1, code=INPUT)
    assert f"1 left out: {tmp_path}/out.problems.csv says why, and what to do." in result.stderr


def test_quiet_is_quiet_but_for_errors(table: Path, tmp_path: Path) -> None:
    result = run("batch", table, "--out", tmp_path / "out.csv", "--processes", 1, "--quiet", code=FINE)
    assert result.output == ""
    assert "there is no such" in run("batch", tmp_path / "gone", "--out", "x.csv", "-q", code=INPUT).stderr


@pytest.mark.parametrize(
    "wrong", [["--grade", "12"], ["--form", "sonnet"], ["--processes", "0"], ["--out"], ["--no-such-option"]]
)
def test_a_wrong_command_line_is_2(table: Path, tmp_path: Path, wrong: list[str]) -> None:
    run("batch", table, "--out", tmp_path / "out.csv", *wrong, code=COMMAND_LINE)


def test_a_rubric_that_cannot_be_used_is_told_before_anything_else(table: Path, tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text("name = 1")
    result = run("batch", table, "--out", tmp_path / "out.csv", "--rubric", tmp_path / "own.toml", code=INPUT)
    assert "own.toml" in result.stderr
    assert not list(tmp_path.glob("out*"))


def test_the_help_says_how_to_go_on_and_that_levels_are_proposals() -> None:
    said = " ".join(run("batch", "--help", code=FINE).stdout.split())
    for words in ("goes on where it was", "proposals for a reader", "RESULTS.problems.csv", "--cluster"):
        assert words in said


def test_names_that_steer_a_terminal_are_inert_in_what_it_says(tmp_path: Path) -> None:
    folder = tmp_path / "a\x1b[31m"
    folder.mkdir()
    assert "\x1b" not in run("batch", folder, "--out", tmp_path / "out.csv", code=INPUT).stderr


def test_progress_goes_to_a_terminal_alone_and_is_wiped_at_the_end(table: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-c", RUN, "batch", str(table), "--out", str(tmp_path / "out.csv"), "--processes", "1"]
    ours, theirs = pty.openpty()
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=theirs)
    os.close(theirs)
    assert process.communicate(timeout=60)[0] == b""
    shown = os.read(ours, 65536).decode()
    os.close(ours)
    assert "2 of 2 essays, " in shown
    assert " a second, less than a minute left" in shown
    assert shown.endswith(f"\r\x1b[KWrote {tmp_path}/out.csv: 2 essays.\r\n")
