"""Files that no essay can be read from: always one line that names the file and says what to do."""

from __future__ import annotations

import io
import os
import random
import socket
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfReader, PdfWriter

from rubric_kit.errors import UnreadableFileError
from rubric_kit.reading import files
from rubric_kit.reading.files import read_text, text_of

sys.path.insert(0, str(Path(__file__).parent))
from hostile_files import BAD, DO_THIS, SENTENCE, good_docx, good_odt, good_pdf, good_rtf


def is_good(error: UnreadableFileError, name: str) -> None:
    message = str(error)
    assert message.isprintable(), message
    assert name in message
    assert any(action in message for action in DO_THIS), message
    assert len(message) < 400


@pytest.mark.parametrize("case", BAD)
def test_a_bad_file_gives_one_line_that_names_it_and_says_what_to_do(
    case: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    name, content = BAD[case]
    file = tmp_path / name
    file.write_bytes(content() if callable(content) else content)
    with pytest.raises(UnreadableFileError) as raised:
        text_of(file)
    is_good(raised.value, files.printable(name))
    assert capfd.readouterr() == ("", "")


def test_a_missing_file_a_folder_and_odd_names_give_one_line(tmp_path: Path) -> None:
    (tmp_path / "folder.txt").mkdir()
    (tmp_path / "plain.txt").write_text(SENTENCE)
    (tmp_path / "loop.txt").symlink_to(tmp_path / "loop.txt")
    (tmp_path / "nowhere.txt").symlink_to(tmp_path / "gone.txt")
    os.mkfifo(tmp_path / "pipe.txt")
    names = [
        "gone.txt",
        "folder.txt",
        "loop.txt",
        "nowhere.txt",
        "pipe.txt",
        "plain.txt/a.txt",
        "a" * 300 + ".txt",
        "a\0b.txt",
    ]
    names += [
        "line\nbreak.txt",
        "esc\x1b]0;x\x07.txt",
        "right\u202eleft.txt",
        "half\udcff.txt",
        "😀.txt",
        "deep/" * 2000 + "a.txt",
    ]
    for name in names:
        with pytest.raises(UnreadableFileError) as raised:
            text_of(tmp_path / name if "\0" not in name else f"{tmp_path}/{name}")
        is_good(raised.value, files.printable(name)[-20:])


@pytest.mark.parametrize("name", ["", ".", "/", "/dev/zero", "/dev/null", "/proc/self/mem"])
def test_places_that_hold_no_essay_give_one_line(name: str) -> None:
    with pytest.raises(UnreadableFileError) as raised:
        text_of(name)
    is_good(raised.value, name)


def test_a_socket_is_not_waited_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind("a.txt")
        with pytest.raises(UnreadableFileError, match=r"a\.txt: it is a device or a pipe"):
            text_of("a.txt")


@pytest.mark.parametrize("kind", [PermissionError(13, "no"), OSError(5, "disk"), OSError("no number")])
def test_a_file_that_may_not_or_cannot_be_opened_gives_one_line(
    kind: OSError, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a.txt").write_text(SENTENCE)

    def refuse(*_: object) -> None:
        raise kind

    monkeypatch.setattr("builtins.open", refuse)
    with pytest.raises(UnreadableFileError) as raised:
        text_of(tmp_path / "a.txt")
    is_good(raised.value, "a.txt")


@pytest.mark.parametrize(
    "name", ["line\nbreak.txt", "esc\x1b[31m.txt", "😀 my essay.txt", "right\u202eleft.txt", ".hidden.txt", "ESSAY.TXT"]
)
def test_a_good_file_with_an_odd_name_is_read(name: str, tmp_path: Path) -> None:
    (tmp_path / name).write_text(SENTENCE)
    assert text_of(tmp_path / name) == SENTENCE


@pytest.mark.parametrize("make", [good_docx, good_odt, good_rtf, good_pdf])
def test_a_file_cut_off_anywhere_never_gives_any_other_error(make: Callable[[], bytes], tmp_path: Path) -> None:
    whole = make()
    chance = random.Random(2)
    file = tmp_path / f"a.{make.__name__.removeprefix('good_')}"
    for _ in range(60):
        file.write_bytes(whole[: chance.randrange(len(whole))])
        with pytest.raises(UnreadableFileError) as raised:
            text_of(file)
        is_good(raised.value, file.name)


@pytest.mark.parametrize("make", [good_docx, good_odt, good_rtf, good_pdf])
def test_a_file_with_changed_bytes_gives_text_or_one_line(make: Callable[[], bytes], tmp_path: Path) -> None:
    whole = make()
    chance = random.Random(3)
    file = tmp_path / f"a.{make.__name__.removeprefix('good_')}"
    for _ in range(60):
        changed = bytearray(whole)
        for _ in range(chance.randrange(1, 20)):
            changed[chance.randrange(len(changed))] = chance.randrange(256)
        file.write_bytes(changed)
        try:
            assert text_of(file)
        except UnreadableFileError as error:
            is_good(error, file.name)


def test_a_pdf_that_only_its_owner_may_change_is_read(tmp_path: Path) -> None:
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(good_pdf())))
    writer.encrypt(user_password="", owner_password="secret", algorithm="RC4-128")
    writer.write(tmp_path / "a.pdf")
    assert text_of(tmp_path / "a.pdf") == "The old boat sank in the bay."


@pytest.mark.parametrize("line", [b"x", b"word ", "e’".encode("cp1252"), "’".encode()])
def test_one_endless_line_is_read_whole(line: bytes, tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"One " + line * 300_000)
    assert len(text_of(tmp_path / "a.txt")) >= 300_000


@pytest.mark.parametrize("text", ["", " \n", "123", "\ufeff", "a" * 2_000_001])
def test_pasted_text_without_words_gives_one_line(text: str) -> None:
    with pytest.raises(UnreadableFileError) as raised:
        read_text(text, source="pasted\ntext")
    is_good(raised.value, "pasted?text")
