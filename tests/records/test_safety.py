"""Nothing finished is lost: programs killed, two at once, a full disk, a folder that may not be written to."""

import errno
import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import contextmanager
from datetime import date

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.records import begin, database, migrations, open_family
from rubric_kit.records.check import check
from rubric_kit.records.family import BACKUPS, ORIGINALS, RECORDS
from rubric_kit.records.rows import Draft
from rubric_kit.records.tasks import Version

NOBODY = 65534
WRITES, KILLS = 200, 8
# Hands in drafts for ever, and says the number of each one when it is finished.
WRITER = """
import sys
from datetime import date
from rubric_kit.records import open_family
family = open_family(sys.argv[1])
for number in range(int(sys.argv[2]), int(sys.argv[3])):
    content = f"Owls hunt at night. Number {number} says so.".encode()
    family.drafts.hand_in_bytes(1, content, f"{number}.txt", received_on=date(2026, 5, 1))
    print(number, flush=True)
"""


@pytest.fixture
def given(family):
    """A family whose assignment 1 takes drafts."""
    ann = family.students.add("Ann", grade=8, school_year="2025-26")
    family.tasks.add("owls", "Why?", set_on=date(2026, 5, 1), versions={ann.id: Version()})
    return family


def writer(folder, first, last):
    return subprocess.Popen(
        [sys.executable, "-c", WRITER, str(folder), str(first), str(last)], stdout=subprocess.PIPE, text=True
    )


@pytest.mark.slow
def test_killed_again_and_again_in_the_middle_of_200_writes_no_finished_write_is_lost(given):
    chance = random.Random(11)
    finished: list[int] = []
    while len(finished) < WRITES:
        program = writer(given.folder, len(finished), WRITES)
        least = WRITES if len(finished) >= WRITES * (KILLS - 1) / KILLS else chance.randint(5, WRITES // KILLS)
        for said, line in enumerate(program.stdout, start=1):
            finished.append(int(line))
            if said >= least:
                time.sleep(chance.uniform(0, 0.01))
                program.send_signal(signal.SIGKILL)
                break
        rest = program.stdout.read()
        finished += [int(line) for line in rest.split()]
        program.wait()
        with open_family(given.folder) as reopened:
            names = [draft.file_name for draft in reopened.database.rows(Draft)]
        assert set(names) >= {f"{number}.txt" for number in finished}
        assert len(names) <= len(finished) + KILLS * 2  # at most what was finished but not yet said
        finished = sorted({int(name.removesuffix(".txt")) for name in names})
        assert finished == list(range(len(finished)))
    assert check(given.folder).damage == ()


@pytest.mark.slow
def test_two_programs_that_write_at_once_wait_for_each_other(given):
    both = [writer(given.folder, 0, 60), writer(given.folder, 100, 160)]
    assert [program.wait(timeout=120) for program in both] == [0, 0]
    drafts = given.database.rows(Draft)
    assert len(drafts) == 120
    assert sorted(draft.number for draft in drafts) == list(range(1, 121))


def test_a_write_that_waits_in_vain_fails_in_words(family, monkeypatch):
    monkeypatch.setattr(database, "WAIT", 0.1)
    other = sqlite3.connect(family.folder / RECORDS, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with open_family(family.folder) as waiting:
        with pytest.raises(RecordsError, match="another program is writing"):
            waiting.students.add("Ann", grade=8)
        other.execute("ROLLBACK")
        other.close()
        assert waiting.students.add("Ann", grade=8).name == "Ann"


def test_a_full_disk_under_the_records_loses_nothing(given):
    connection = given.database.connection
    pages = connection.execute("PRAGMA page_count").fetchone()[0]
    connection.execute(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(RecordsError, match="the disk is full; nothing was written"):
        given.students.add("B" * 100_000, grade=8)
    connection.execute("PRAGMA max_page_count = 1000000")
    assert [s.name for s in given.students.all()] == ["Ann"]
    assert check(given.folder).damage == ()


def test_a_full_disk_under_the_originals_loses_nothing(given, monkeypatch):
    def full(_):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(RecordsError, match="Make room"):
        given.drafts.hand_in_bytes(1, b"Owls hunt.", "owls.txt", received_on=date(2026, 5, 1))
    assert given.database.rows(Draft) == []
    assert [p for p in (given.folder / ORIGINALS).rglob("*") if p.is_file()] == []


@contextmanager
def nobody(folder):
    """As a user who may read but not write there."""
    if not hasattr(os, "geteuid"):
        pytest.skip("no users here to take rights from")
    for path in [folder, *folder.rglob("*")]:
        path.chmod(0o555 if path.is_dir() else 0o444)
    root = os.geteuid() == 0
    if root:
        for path in folder.parents:
            if path.owner() == "root" and str(path).count("/") > 1:
                path.chmod(path.stat().st_mode | 0o055)
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if root:
            os.seteuid(0)
        for path in [folder, *folder.rglob("*")]:
            path.chmod(0o755 if path.is_dir() else 0o644)


def test_a_folder_that_may_not_be_written_to_is_told_so(family):
    family.students.add("Ann", grade=8)
    family.close()
    with nobody(family.folder), pytest.raises(RecordsError, match=r"permissions|may be written"):
        open_family(family.folder).students.add("Ben", grade=5)
    with nobody(family.folder), pytest.raises(RecordsError, match="Choose another folder"):
        begin(family.folder / "inside")
    with open_family(family.folder) as again:
        assert [s.name for s in again.students.all()] == ["Ann"]


def test_a_new_step_backs_the_records_up_first_and_happens_whole(family, monkeypatch):
    family.students.add("Ann", grade=8)
    newest = max(migrations.steps())
    more = {**migrations.steps(), newest + 1: "ALTER TABLE students ADD COLUMN born TEXT;"}
    monkeypatch.setattr(migrations, "steps", lambda: more)
    with open_family(family.folder) as newer:
        assert migrations.version_of(newer.database.connection) == newest + 1
        assert newer.database.read("SELECT name, born FROM students")[0]["name"] == "Ann"
    (kept,) = (family.folder / BACKUPS).iterdir()
    old = sqlite3.connect(kept)
    assert old.execute("PRAGMA user_version").fetchone()[0] == newest
    assert old.execute("SELECT name FROM students").fetchone()[0] == "Ann"
    old.close()


def test_a_step_that_fails_leaves_the_records_as_they_were(family, monkeypatch):
    family.students.add("Ann", grade=8)
    newest = max(migrations.steps())
    broken = "ALTER TABLE students ADD COLUMN born TEXT; UPDATE students SET no_such_column = 1;"
    with monkeypatch.context() as patched:
        patched.setattr(migrations, "steps", lambda: {**{newest: ""}, newest + 1: broken})
        with pytest.raises(RecordsError, match="cannot be used"):
            open_family(family.folder)
    with open_family(family.folder) as again:
        assert migrations.version_of(again.database.connection) == newest
        assert "born" not in [
            row["name"] for row in again.database.read("SELECT name FROM pragma_table_info('students')")
        ]
        assert [s.name for s in again.students.all()] == ["Ann"]
