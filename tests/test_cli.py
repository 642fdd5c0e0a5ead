"""rubric-kit on the terminal: options, exit codes, JSON Lines, pages, and what a terminal or a pipe may do to it."""

from __future__ import annotations

import io
import json
import os
import pty
import select
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner, Result

import rubric_kit as rk
from rubric_kit import cli
from rubric_kit.scoring.rubric_file import FORMS, load_form

SAMPLES = Path(__file__).parents[1] / "sample_essays"
ONE = SAMPLES / "2026-05-15_jonas_call-of-the-wild.txt"
TWO = SAMPLES / "2025-09-19_tamsin_black-beauty.docx"
THREE = SAMPLES / "2026-05-18_wren_call-of-the-wild.txt"
KEYS: dict[str, set[str]] = {
    "": {
        "source", "title", "heading", "grade", "form", "counts", "readability", "structure", "mechanics", "criteria",
        "percent", "letter", "cautions",
    },
    "counts": {"paragraphs", "sentences", "words", "syllables", "letters"},
    "readability": {
        "flesch_reading_ease", "flesch_kincaid_grade", "gunning_fog", "smog", "coleman_liau", "automated_readability",
        "dale_chall", "new_dale_chall", "spache", "linsear_write", "forcast", "lix", "rix",
    },
    "structure": {
        "paragraphs", "hook", "thesis", "restated_thesis", "evidence", "transitions", "new_claim_in_conclusion",
    },
    "mechanics": {"spelling", "confused_words", "run_ons", "fragments", "capitals", "repeated_words"},
}  # fmt: skip
OF_CRITERION = {"name", "level", "sure", "reasons", "evidence", "next_step"}


def run(*arguments: str | Path, given: str | bytes | None = None) -> Result:
    return CliRunner().invoke(cli.app, [str(a) for a in arguments], input=given)


def objects(result: Result) -> list[dict[str, Any]]:
    return [json.loads(line) for line in result.stdout.splitlines()]


def shell(*arguments: str | Path, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """A process of its own, for what only a process has."""
    return subprocess.run(
        command(*arguments), capture_output=True, check=False, env={**os.environ, **environment}, timeout=120
    )


def command(*arguments: str | Path) -> list[str]:
    return [sys.executable, "-c", "from rubric_kit.cli import main; main()", *map(str, arguments)]


def spans(value: object) -> list[dict[str, Any]]:
    if isinstance(value, dict):
        here = [value] if {"text", "start", "end", "kind"} <= value.keys() else []
        return here + [s for v in value.values() for s in spans(v)]
    return [s for v in value for s in spans(v)] if isinstance(value, list) else []


@pytest.fixture(scope="module")
def scored() -> dict[str, Any]:
    (found,) = objects(run("score", ONE, "--json"))
    return found


def test_an_essay_is_scored_in_words_a_parent_reads() -> None:
    result = run("score", ONE)
    assert result.exit_code == 0
    assert result.stderr == ""
    for words in ("out of 100", "Your own levels are final", "Next: ", "Slips found", "Keep in mind"):
        assert words in result.stdout


def test_json_has_every_key_it_promises(scored: dict[str, Any]) -> None:
    for part, keys in KEYS.items():
        assert keys <= (scored[part] if part else scored).keys()
    for criterion in scored["criteria"]:
        assert criterion.keys() >= OF_CRITERION
        assert 0 <= criterion["sure"] <= 1
        assert criterion["level"] in (1, 2, 3, 4)
        assert criterion["evidence"]
    for number, paragraph in enumerate(scored["structure"]["paragraphs"], 1):
        assert paragraph["number"] == number
        assert {"role", "topic_sentence"} <= paragraph.keys()


@pytest.mark.parametrize("path", [ONE, TWO, THREE], ids=lambda p: p.suffix)
def test_json_offsets_index_the_text_that_read_gives(path: Path) -> None:
    text = rk.read(path).text
    (found,) = objects(run("score", path, "--json"))
    every = spans(found)
    assert every
    for span in every:
        assert text[span["start"] : span["end"]] == span["text"]
        assert span["paragraph"] >= 1


def test_a_missing_part_is_null_and_a_list_without_finds_is_empty() -> None:
    (found,) = objects(run("score", "-", "--json", given="Dogs are good."))
    structure = found["structure"]
    for part in ("hook", "restated_thesis", "new_claim_in_conclusion"):
        assert structure[part] is None
    assert found["title"] is None
    assert found["heading"] is None
    assert structure["evidence"] == found["mechanics"]["spelling"] == []
    assert found["readability"]["spache"] is None or isinstance(found["readability"]["spache"], float)


def test_suggestions_stand_beside_a_slip() -> None:
    (found,) = objects(run("score", "-", "--json", given="I like my freind a lot. Becuase he is nice, we play."))
    slips = {s["text"]: s["suggestions"][0] for s in found["mechanics"]["spelling"]}
    assert slips == {"freind": "friend", "Becuase": "Because"}


def test_several_files_are_one_json_object_a_line_in_their_order() -> None:
    result = run("score", ONE, TWO, THREE, "--json")
    assert result.exit_code == 0
    assert [o["source"] for o in objects(result)] == [str(ONE), str(TWO), str(THREE)]


def test_one_bad_file_is_told_and_the_rest_is_scored(tmp_path: Path) -> None:
    result = run("score", ONE, tmp_path / "gone.txt", THREE, "--json")
    assert result.exit_code == 1
    assert [o["source"] for o in objects(result)] == [str(ONE), str(THREE)]
    assert result.stderr == f"{tmp_path}/gone.txt: there is no such file. Check the name and the folder.\n"


def test_a_fault_of_ours_in_one_essay_does_not_cost_the_others(monkeypatch: pytest.MonkeyPatch) -> None:
    from rubric_kit.scoring import score as module

    whole = module.score

    def failing(essay: rk.reading.Essay, *rest: Any) -> Any:
        if essay.source == str(ONE):
            raise KeyError("some\x1b[31mthing")
        return whole(essay, *rest)

    monkeypatch.setattr(module, "score", failing)
    result = run("score", ONE, THREE, "--json")
    assert result.exit_code == 1
    assert [o["source"] for o in objects(result)] == [str(THREE)]
    assert "rubric-kit failed on it (KeyError" in result.stderr
    assert "Traceback" not in result.stderr
    assert "\x1b" not in result.stderr


@pytest.mark.parametrize("grade", ["3", "9"])
def test_the_grade_asked_for_is_the_grade(grade: str) -> None:
    (found,) = objects(run("score", ONE, "--grade", grade, "--json"))
    assert found["grade"] == int(grade)


@pytest.mark.parametrize("form", FORMS)
def test_the_form_asked_for_is_the_form(form: str) -> None:
    (found,) = objects(run("score", ONE, "--form", form, "--json"))
    assert found["form"] == form


def test_a_rubric_of_ones_own_is_used(tmp_path: Path) -> None:
    own = tmp_path / "mine.toml"
    assert run("rubric", "copy", "paragraph", own).exit_code == 0
    own.write_text(own.read_text("utf-8").replace("4 = 98", "4 = 99.5").replace("1 = 62", "1 = 0.5"), "utf-8")
    (found,) = objects(run("score", "-", "--rubric", own, "--json", given="Cat."))
    assert (found["percent"], found["letter"], found["form"]) == (0.5, "F", "paragraph")


def test_a_wrong_rubric_is_told_once_with_its_line(tmp_path: Path) -> None:
    own = tmp_path / "mine.toml"
    run("rubric", "copy", "paragraph", own)
    own.write_text(own.read_text("utf-8").replace("2 = 75", "2 = 7\x1b5", 1), "utf-8")
    result = run("score", ONE, TWO, "--rubric", own)
    assert result.exit_code == 1
    assert result.stdout == ""
    assert result.stderr.startswith("mine.toml, line ")
    assert len(result.stderr.splitlines()) == 1
    assert "\x1b" not in result.stderr


@pytest.mark.parametrize(
    "arguments",
    [
        ["score"],
        ["score", str(ONE), "--grade", "2"],
        ["score", str(ONE), "--grade", "10"],
        ["score", str(ONE), "--grade", "eight"],
        ["score", str(ONE), "--form", "poem"],
        ["score", str(ONE), "--colour"],
        ["score", str(ONE), "--rubric"],
        ["rubric", "show", "poem"],
        ["rubric", "copy", "paragraph"],
        ["rubric", "burn"],
        ["mark", str(ONE)],
    ],
    ids=" ".join,
)
def test_a_wrong_command_line_is_exit_2(arguments: list[str]) -> None:
    result = run(*arguments)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "Traceback" not in result.stderr


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--help"], ["score", "rubric", "Score essays"]),
        (["score", "--help"], ["--grade", "--form", "--rubric", "--json", "--html", "--pdf", "Example:", ".docx"]),
        (["score", "-h"], ["--grade"]),
        (["rubric", "--help"], ["show", "copy", "measures"]),
        (["rubric", "copy", "--help"], ["It must not"]),
    ],
    ids=" ".join,
)
def test_help_tells_what_there_is(arguments: list[str], words: list[str]) -> None:
    result = run(*arguments)
    assert result.exit_code == 0
    assert all(word in result.stdout for word in words)


def test_text_can_be_pasted_in_any_encoding() -> None:
    for encoding in ("utf-8", "utf-16", "cp1252"):
        text = "The café is small. “I like it,” she said, and we went in."
        (found,) = objects(run("score", "-", "--json", given=text.encode(encoding)))
        assert (found["source"], found["counts"]["words"]) == ("pasted text", 13)


@pytest.mark.parametrize("given", [b"", b"  \n", b"123", bytes(range(256)) * 9, b"\xff\xfe"])
def test_nothing_pasted_or_no_text_is_told(given: bytes) -> None:
    result = run("score", "-", given=given)
    assert result.exit_code == 1
    assert result.stderr.startswith("pasted text: ")
    assert len(result.stderr.splitlines()) == 1


def test_a_page_and_a_pdf_of_one_essay(tmp_path: Path) -> None:
    html, pdf = tmp_path / "new" / "a.html", tmp_path / "a.pdf"
    result = run("score", ONE, "--html", html, "--pdf", pdf, "--json")
    assert result.exit_code == 0
    assert html.read_text("utf-8").startswith("<!DOCTYPE html>")
    assert pdf.read_bytes().startswith(b"%PDF-")
    assert len(objects(result)) == 1
    assert result.stderr.splitlines() == [f"Wrote {html}", f"Wrote {pdf}"]


def test_pages_of_several_essays_go_into_a_folder_by_name(tmp_path: Path) -> None:
    result = run("score", ONE, TWO, "--html", tmp_path / "pages")
    assert result.exit_code == 0
    assert {p.name for p in (tmp_path / "pages").iterdir()} == {f"{ONE.stem}.html", f"{TWO.stem}.html"}


def test_one_essay_into_a_folder_that_is_there(tmp_path: Path) -> None:
    assert run("score", ONE, "--html", tmp_path).exit_code == 0
    assert (tmp_path / f"{ONE.stem}.html").is_file()


def test_two_essays_of_one_name_do_not_write_over_each_other(tmp_path: Path) -> None:
    for folder, words in (("a", "Dogs are good."), ("b", "Cats are bad.")):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "essay.txt").write_text(words)
    result = run("score", tmp_path / "a/essay.txt", tmp_path / "b/essay.txt", "--html", tmp_path / "pages")
    assert result.exit_code == 1
    assert "another essay was just written there" in result.stderr
    assert "Dogs are good." in (tmp_path / "pages" / "essay.html").read_text("utf-8")


def test_a_place_where_nothing_can_be_written_is_told_after_the_score(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    (tmp_path / "folder.pdf").mkdir()
    for option, place in (("--html", tmp_path / "file" / "a.html"), ("--pdf", "/proc/nothing/a.pdf")):
        result = run("score", ONE, option, place)
        assert result.exit_code == 1
        assert "out of 100" in result.stdout
        assert "Choose another place." in result.stderr or "Name a file." in result.stderr
        assert len(result.stderr.splitlines()) == 1
    assert (tmp_path / "file").read_text() == "x"


@pytest.mark.parametrize("form", FORMS)
def test_a_rubric_is_shown_with_its_criteria_and_copied_as_it_is(form: str, tmp_path: Path) -> None:
    shown = run("rubric", "show", form)
    assert shown.exit_code == 0
    assert all(c.name in shown.stdout for c in load_form(form).criteria)
    copied = run("rubric", "copy", form, tmp_path / "mine.toml")
    assert copied.exit_code == 0
    assert f"rubric-kit score ESSAY --rubric {tmp_path}/mine.toml" in copied.stdout
    assert replace(rk.load_rubric(tmp_path / "mine.toml"), source=f"{form}.toml") == load_form(form)


def test_rubric_show_alone_shows_the_five_paragraph_essays() -> None:
    assert "five-paragraph essay" in run("rubric", "show").stdout


def test_a_copy_never_writes_over_a_file(tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text("my work")
    result = run("rubric", "copy", "paragraph", mine)
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == "mine.toml: there is such a file already. Choose another name.\n"
    assert mine.read_text() == "my work"
    assert run("rubric", "copy", "paragraph", tmp_path / "no" / "mine.toml").exit_code == 1
    assert run("rubric", "copy", "paragraph", tmp_path).exit_code == 1


def test_measures_are_listed_with_their_formulas() -> None:
    result = run("rubric", "measures")
    assert result.exit_code == 0
    assert "thesis_found: 1 where a thesis was found" in result.stdout


def test_what_steers_a_terminal_stays_text(tmp_path: Path) -> None:
    essay = tmp_path / "a\x1b[2Jb.txt"
    steering = "Dogs\x1b]0;title\x07 are \x9b31m good \u202e\x1b[2J dogs. "
    essay.write_text(steering + "They run becuase they can and it is fun for all of us. " * 12, "utf-8")
    for options in ([], ["--json"], ["--html", tmp_path / "a.html"]):
        result = run("score", essay, *options)
        assert result.exit_code == 0
        assert not set(result.stdout + result.stderr) & set("\x1b\x07\x9b\u202e")
    bad = run("score", tmp_path / "gone\x1b[31m.txt")
    assert bad.exit_code == 1
    assert "\x1b" not in bad.stderr


@pytest.mark.parametrize(
    "environment", [{"LC_ALL": "C"}, {"PYTHONIOENCODING": "ascii"}, {"PYTHONIOENCODING": "cp1252"}]
)
def test_a_terminal_that_knows_few_letters_gets_those_it_knows(environment: dict[str, str], tmp_path: Path) -> None:
    essay = tmp_path / "été.txt"
    essay.write_text("The café “Zoë” — 漢字 😀 is small. We like it a lot.", "utf-8")
    done = shell("score", essay, **environment)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"out of 100" in done.stdout
    for arguments in (
        ["--help"],
        ["rubric", "show"],
        ["rubric", "copy", "paragraph", tmp_path / f"é{os.urandom(4).hex()}"],
    ):
        assert shell(*arguments, **environment).returncode == 0


@pytest.mark.parametrize(
    "arguments", [["score", str(ONE)], ["score", str(ONE), "--json"], ["rubric", "measures"], ["--help"]]
)
def test_a_reader_that_has_seen_enough_gets_no_traceback(arguments: list[str]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(command(*arguments), stdout=writing, stderr=subprocess.PIPE, check=False, timeout=120)
    os.close(writing)
    assert b"Traceback" not in done.stderr
    assert b"BrokenPipe" not in done.stderr
    assert done.returncode in (0, 1)


def until_idle(process: int) -> None:
    """It has loaded what it needs and waits for what is typed: its processor time stands still."""
    before = 0
    while before != (before := ticks(process)) or not before:
        time.sleep(1)


def ticks(process: int) -> int:
    fields = Path(f"/proc/{process}/stat").read_text("ascii").rpartition(")")[2].split()
    return int(fields[11]) + int(fields[12])


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="no /proc on this system to see a process wait")
def test_ctrl_c_stops_without_a_traceback(tmp_path: Path) -> None:
    waiting = subprocess.Popen(
        command("score", "-"), stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    until_idle(waiting.pid)
    waiting.send_signal(signal.SIGINT)
    out, err = waiting.communicate(timeout=60)
    assert waiting.returncode == 130
    assert b"Traceback" not in out + err


def on_a_terminal(*arguments: str | Path) -> tuple[str, str]:
    """Standard output through a pipe, standard error on a terminal: what each got."""
    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        command(*arguments), stdout=subprocess.PIPE, stderr=theirs, env={**os.environ, "TERM": "xterm"}
    )
    os.close(theirs)
    shown = b""
    assert process.stdout is not None
    out = io.BytesIO()
    open_ends = {ours, process.stdout.fileno()}
    while open_ends:
        for end in select.select(list(open_ends), [], [], 120)[0]:
            try:
                data = os.read(end, 65536)
            except OSError:  # a terminal whose other end is closed
                data = b""
            if not data:
                open_ends.discard(end)
            elif end == ours:
                shown += data
            else:
                out.write(data)
    process.wait(timeout=60)
    os.close(ours)
    return out.getvalue().decode(), shown.decode()


def test_a_bar_shows_progress_on_a_terminal_for_several_files_and_stays_out_of_the_output() -> None:
    out, shown = on_a_terminal("score", ONE, THREE, "--json")
    assert "Scoring" in shown
    assert [json.loads(line)["source"] for line in out.splitlines()] == [str(ONE), str(THREE)]
    out, shown = on_a_terminal("score", ONE, "--json")
    assert shown == ""
    assert shell("score", ONE, THREE, "--json").stderr == b""


def test_the_command_that_the_readme_names_first_works() -> None:
    result = run("score", *sorted(SAMPLES.glob("*.txt")), "--grade", "8")
    assert result.exit_code == 0
    assert result.stdout.count("out of 100") == len(list(SAMPLES.glob("*.txt")))
