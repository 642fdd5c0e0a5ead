"""A backup is whole, checked on its way back, and never written over anything; damage is found and explained."""

import zipfile
from datetime import date
from hashlib import sha256

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.records.backup import HASHES, backup, restore
from rubric_kit.records.check import check
from rubric_kit.records.family import ORIGINALS, RECORDS
from rubric_kit.records.originals import path_of
from rubric_kit.records.rows import TABLES, Draft


def everything(family):
    return {table: list(map(tuple, family.database.read(f"SELECT * FROM {table}"))) for table in TABLES.values()}


@pytest.fixture
def filled(busy):
    draft = busy.database.rows(Draft)[0]
    busy.sheets.make(draft.id)
    busy.marks.add(draft.id, {"focus": 3}, marked_on=date(2026, 5, 16))
    return busy


def test_what_was_backed_up_comes_back_to_the_byte(filled, tmp_path):
    many = backup(filled, tmp_path / "year.zip")
    with restore(tmp_path / "year.zip", tmp_path / "again") as restored:
        assert everything(restored) == everything(filled)
        draft = restored.database.rows(Draft)[0]
        assert restored.drafts.essay(draft).text == filled.drafts.essay(draft).text
    assert many == 3  # the records, the words about the folder, one original
    assert check(tmp_path / "again").damage == ()


def test_the_hashes_in_a_backup_are_those_of_its_files(filled, tmp_path):
    backup(filled, tmp_path / "year.zip")
    with zipfile.ZipFile(tmp_path / "year.zip") as archive:
        for line in archive.read(HASHES).decode().splitlines():
            digest, name = line.split("  ")
            assert sha256(archive.read(name)).hexdigest() == digest


def test_nothing_is_written_over(filled, tmp_path):
    (tmp_path / "year.zip").write_text("precious")
    with pytest.raises(RecordsError, match="already"):
        backup(filled, tmp_path / "year.zip")
    assert (tmp_path / "year.zip").read_text() == "precious"
    backup(filled, tmp_path / "good.zip")
    with pytest.raises(RecordsError, match="something in it"):
        restore(tmp_path / "good.zip", filled.folder)


def test_a_backup_that_cannot_be_written_leaves_nothing(filled, tmp_path):
    with pytest.raises(RecordsError, match="no-such-folder"):
        backup(filled, tmp_path / "no-such-folder" / "year.zip")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["family"]


def rewritten(path, to, change):
    """A copy of a zip whose files went through ``change(name, content)``; None leaves one out."""
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(to, "w") as new:
        for name in old.namelist():
            changed = change(name, old.read(name))
            if changed is not None:
                new.writestr(*changed)


@pytest.mark.parametrize(
    "change",
    [
        lambda name, content: (name, content[:-1] + b"X" if name.startswith(ORIGINALS) else content),
        lambda name, content: (name, content if name != RECORDS else content[: len(content) // 2]),
        lambda name, content: None if name.startswith(ORIGINALS) else (name, content),
        lambda name, content: None if name == HASHES else (name, content),
        lambda name, content: (name, b"") if name == HASHES else (name, content),
        lambda name, content: (name, b"\xff\xfe") if name == HASHES else (name, content),
        lambda name, content: (
            (name, content.replace(b"About", b"../About"))
            if name == HASHES
            else (name.replace("About", "../About"), content)
        ),
    ],
)
def test_a_damaged_backup_is_refused_and_leaves_nothing(filled, tmp_path, change):
    backup(filled, tmp_path / "year.zip")
    rewritten(tmp_path / "year.zip", tmp_path / "bad.zip", change)
    with pytest.raises(RecordsError, match=r"bad\.zip|family\.db"):
        restore(tmp_path / "bad.zip", tmp_path / "again")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["bad.zip", "family", "year.zip"]


@pytest.mark.parametrize("content", [b"", b"no zip", b"PK\x03\x04" + b"\x00" * 50])
def test_what_is_no_zip_is_refused(tmp_path, content):
    (tmp_path / "bad.zip").write_bytes(content)
    with pytest.raises(RecordsError, match=r"bad\.zip"):
        restore(tmp_path / "bad.zip", tmp_path / "again")
    with pytest.raises(RecordsError, match=r"none\.zip"):
        restore(tmp_path / "none.zip", tmp_path / "again")


def test_whole_records_have_no_damage(filled):
    found = check(filled.folder)
    assert (found.damage, found.strays, found.originals) == ((), (), 1)
    assert found.rows > 10


def test_a_changed_and_a_lost_original_are_named(filled):
    draft = filled.database.rows(Draft)[0]
    kept = path_of(filled.folder / ORIGINALS, draft.sha256, draft.file_name)
    kept.write_bytes(b"changed")
    assert [draft.file_name in d.what and "changed" in d.what for d in check(filled.folder).damage] == [True]
    kept.unlink()
    assert ["not there" in d.what for d in check(filled.folder).damage] == [True]


def test_a_file_that_nothing_points_to_is_named_but_no_damage(filled):
    stray = filled.folder / ORIGINALS / "notes.txt"
    stray.write_text("mine")
    found = check(filled.folder)
    assert (found.damage, found.strays) == ((), (stray,))


def test_a_broken_database_is_damage_with_a_remedy(filled):
    filled.database.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    filled.close()
    records = filled.folder / RECORDS
    content = bytearray(records.read_bytes())
    for page in range(4096, len(content), 4096):  # the head of every page but the first
        content[page : page + 64] = b"\xff" * 64
    records.write_bytes(content)
    found = check(filled.folder)
    assert found.damage
    assert all(d.remedy for d in found.damage)


def test_what_points_nowhere_and_a_forged_rubric_are_damage(filled):
    connection = filled.database.connection
    connection.execute("PRAGMA foreign_keys = OFF")
    connection.execute("UPDATE assignments SET student_id = 77 WHERE id = 1")
    assert any("students" in d.what for d in check(filled.folder).damage)
    connection.execute("UPDATE assignments SET student_id = 1 WHERE id = 1")
    connection.execute("DROP TRIGGER rubrics_stay")
    connection.execute("UPDATE rubrics SET text = text || ' '")
    assert any("rubric" in d.what for d in check(filled.folder).damage)


def test_a_folder_without_records_is_told_so(tmp_path):
    with pytest.raises(RecordsError, match="no records"):
        check(tmp_path)
