"""A batch that is stopped in any way goes on where it was; nothing is lost, doubled or mixed."""

from __future__ import annotations

import os
import resource
import shutil
import signal
from pathlib import Path

import pytest

import rubric_kit as rk
from rubric_kit.batching import parts as parts_module
from rubric_kit.batching.rows import ROWS, BatchError

from .tables import children, essay, finished, is_alive, many, parts, rows_of, started, wait_until, write_csv

NUMBER = 15 * ROWS


@pytest.fixture(scope="module")
def source(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return many(tmp_path_factory.mktemp("in") / "in.csv", NUMBER)


@pytest.fixture(scope="module")
def unbroken(source: Path) -> tuple[bytes, bytes]:
    """Results and problems of a batch in one process that was not stopped."""
    done = rk.batch(source, source.with_name("whole.csv"), grade=5, processes=1)
    assert (done.rows, done.left_out) == (NUMBER - 6, 6)
    return done.results.read_bytes(), done.problems.read_bytes()


def stopped(source: Path, out: Path, how: signal.Signals, *options: object) -> tuple[int, str]:
    """A batch in two processes that is stopped half way; its exit code and what it said."""
    process = started(source, "--grade", 5, "--out", out, "--processes", 2, *options)
    wait_until(lambda: len(parts(out)) >= 3 or process.poll() is not None)
    workers = children(process.pid)
    process.send_signal(how)
    said = process.communicate(timeout=60)[1].decode()
    assert "Traceback" not in said
    assert not out.exists()
    assert 3 <= len(parts(out)) < NUMBER / ROWS
    wait_until(lambda: not any(map(is_alive, workers)), 30)
    return process.returncode, said


def goes_on(source: Path, out: Path, unbroken: tuple[bytes, bytes]) -> None:
    """The rest is done, and only the rest, and all is as if it had never been stopped."""
    kept = len(parts(out))
    calls: list[tuple[int, int, int]] = []
    done = rk.batch(source, out, grade=5, processes=2, told=lambda *numbers: calls.append(numbers))
    assert (done.results.read_bytes(), done.problems.read_bytes()) == unbroken
    assert calls[-1] == (NUMBER, NUMBER, kept * ROWS)
    assert not out.with_name(f"{out.name}.parts").exists()


@pytest.mark.slow
def test_after_kill_9_the_same_command_goes_on(source: Path, tmp_path: Path, unbroken: tuple[bytes, bytes]) -> None:
    code, _ = stopped(source, tmp_path / "out.csv", signal.SIGKILL)
    assert code == -signal.SIGKILL
    goes_on(source, tmp_path / "out.csv", unbroken)


@pytest.mark.slow
def test_ctrl_c_stops_tidily_and_says_how_to_go_on(source: Path, tmp_path: Path, unbroken: tuple[bytes, bytes]) -> None:
    code, said = stopped(source, tmp_path / "out.csv", signal.SIGINT)
    assert code == 130
    assert said == "Stopped. What is done is kept: run the same command again to go on.\n"
    goes_on(source, tmp_path / "out.csv", unbroken)


@pytest.mark.slow
def test_ctrl_c_in_a_terminal_goes_to_every_process_and_none_of_them_complains(source: Path, tmp_path: Path) -> None:
    out = tmp_path / "out.csv"
    process = started(source, "--grade", 5, "--out", out, "--processes", 2, start_new_session=True)
    wait_until(lambda: len(children(process.pid)) >= 2)  # while they are starting
    os.killpg(process.pid, signal.SIGINT)
    said = process.communicate(timeout=60)[1].decode()
    assert process.returncode == 130
    assert said == "Stopped. What is done is kept: run the same command again to go on.\n"


@pytest.mark.slow
def test_other_input_options_or_versions_are_not_mixed_in(
    source: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    given, out = tmp_path / "in.csv", tmp_path / "out.csv"
    shutil.copy(source, given)
    stopped(given, out, signal.SIGKILL)
    kept = parts(out)
    with pytest.raises(BatchError, match="another --grade"):
        rk.batch(given, out, grade=6, processes=1)
    with pytest.raises(BatchError, match="another --form"):
        rk.batch(given, out, grade=5, form="paragraph", processes=1)
    from rubric_kit.batching import job

    with monkeypatch.context() as other:
        other.setattr(job, "versions", lambda: {"spacy": "0"})
        with pytest.raises(BatchError, match="another spacy"):
            rk.batch(given, out, grade=5, processes=1)
    with given.open("a") as file:
        file.write(f'new,"{essay(1)}"\n')
    with pytest.raises(BatchError, match="another input"):
        rk.batch(given, out, grade=5, processes=1)
    assert parts(out) == kept


def test_a_folder_with_a_changed_file_is_another_input(tmp_path: Path) -> None:
    folder, out = tmp_path / "in", tmp_path / "out.csv"
    folder.mkdir()
    for number in range(ROWS + 1):
        (folder / f"{number:02}.txt").write_text(essay(number))

    def stop(done: int, total: int, before: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        rk.batch(folder, out, processes=1, told=stop)
    assert len(parts(out)) == 1
    (folder / "03.txt").write_text(essay(3) + " And so on.")
    with pytest.raises(BatchError, match="another input"):
        rk.batch(folder, out, processes=1)


def test_an_input_that_changes_while_it_is_read_is_told(tmp_path: Path) -> None:
    given = write_csv(tmp_path / "in.csv", [(n, essay(n)) for n in range(3)])

    def change(done: int, total: int, before: int) -> None:
        given.write_bytes(given.read_bytes() + b"\n")

    with pytest.raises(BatchError, match="changed while it was read"):
        rk.batch(given, tmp_path / "out.csv", processes=1, told=change)
    assert not (tmp_path / "out.csv").exists()


def test_two_at_once_do_not_work_on_the_same_results(tmp_path: Path) -> None:
    given, out = write_csv(tmp_path / "in.csv", [(1, essay(1))]), tmp_path / "out.csv"

    def another(done: int, total: int, before: int) -> None:
        with pytest.raises(BatchError, match="another rubric-kit batch is at work"):
            rk.batch(given, out, processes=1)

    assert rk.batch(given, out, processes=1, told=another).rows == 1


def test_a_batch_stopped_while_it_cleared_up_begins_anew(tmp_path: Path) -> None:
    given, out = write_csv(tmp_path / "in.csv", [(1, essay(1))]), tmp_path / "out.csv"
    folder = tmp_path / "out.csv.parts"
    folder.mkdir()
    (folder / "00000000.jsonl").write_text("half of something")
    (folder / "about.json.tmp").write_text("{")
    assert rk.batch(given, out, processes=1).rows == 1
    assert not folder.exists()


def test_a_folder_of_that_name_with_other_things_in_it_is_left_alone(tmp_path: Path) -> None:
    folder = tmp_path / "out.csv.parts"
    folder.mkdir()
    (folder / "letters.txt").write_text("dear")
    with pytest.raises(BatchError, match=r"there is 'letters.txt' in it"):
        rk.batch(write_csv(tmp_path / "in.csv", [(1, essay(1))]), tmp_path / "out.csv", processes=1)
    assert [place.name for place in folder.iterdir()] == ["letters.txt"]


def test_a_damaged_note_of_what_was_begun_is_told(tmp_path: Path) -> None:
    folder = tmp_path / "out.csv.parts"
    folder.mkdir()
    (folder / "about.json").write_text("{")
    with pytest.raises(BatchError, match="damaged"):
        rk.batch(write_csv(tmp_path / "in.csv", [(1, essay(1))]), tmp_path / "out.csv", processes=1)


@pytest.mark.parametrize("at", ["keeping", "joining"])
def test_a_full_disk_is_told_and_what_is_done_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at: str) -> None:
    given, out = write_csv(tmp_path / "in.csv", [(n, essay(n)) for n in range(ROWS + 2)]), tmp_path / "out.csv"
    whole, places = Path.replace, []

    def full(self: Path, target: Path) -> Path:
        places.append(Path(target).name)
        if Path(target).name == ("00000001.jsonl" if at == "keeping" else "out.csv"):
            raise OSError(28, "No space left on device")
        return whole(self, target)

    with monkeypatch.context() as disk:
        disk.setattr(parts_module.Path, "replace", full)
        with pytest.raises(BatchError, match=r"No space left on device.*run the same command again"):
            rk.batch(given, out, processes=1)
    assert not out.exists()
    assert len(parts(out)) == (1 if at == "keeping" else 2)
    assert rk.batch(given, out, processes=1).rows == ROWS + 2


def test_files_that_may_grow_no_further_are_told(source: Path, tmp_path: Path) -> None:
    """A limit on the size of files is the nearest to a full disk that needs no disk."""
    code, said = finished(
        source, "--out", tmp_path / "out.csv", "--processes", 1,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (10_000, 10_000)),
    )  # fmt: skip
    assert (code, "cannot be written" in said) == (1, True)


def test_a_place_that_cannot_be_written_is_told(source: Path) -> None:
    code, said = finished(source, "--out", "/proc/results.csv")
    assert (code, "cannot be written" in said) == (1, True)


@pytest.mark.slow
def test_every_row_is_there_once_after_many_stops(source: Path, tmp_path: Path, unbroken: tuple[bytes, bytes]) -> None:
    out = tmp_path / "out.csv"

    def stop_soon(done: int, total: int, before: int) -> None:
        if done - before >= 3 * ROWS and done < total:
            raise KeyboardInterrupt

    for _ in range(20):
        try:
            rk.batch(source, out, grade=5, processes=1, told=stop_soon)
            break
        except KeyboardInterrupt:
            assert not out.exists()
    assert (out.read_bytes(), out.with_name("out.problems.csv").read_bytes()) == unbroken
    numbers = [int(row["row"]) for row in rows_of(out)] + [
        int(r["row"]) for r in rows_of(out.with_name("out.problems.csv"))
    ]
    assert sorted(numbers) == list(range(2, NUMBER + 2))
