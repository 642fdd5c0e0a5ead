"""The records' file: whole writes, undo, append-only tables, and errors in words."""

import json
import sqlite3
from datetime import date

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.records import begin, open_family
from rubric_kit.records.database import Database
from rubric_kit.records.family import FOLDER_VARIABLE, RECORDS, usual_folder
from rubric_kit.records.migrations import APPLICATION, steps, version_of
from rubric_kit.records.rows import TABLES, Draft, Mark, MarkLevel, Question, Sheet, Student
from rubric_kit.records.tasks import Version

HOSTILE_NAMES = [
    "../../x",
    "Robert'); DROP TABLE students;--",
    "🦉🦉",
    "n" * 300,
    "a\nb",
    "%s{0}",
    "NUL\x00in it",
    "=1+1",
]


def test_a_new_file_is_marked_as_ours_and_has_every_step(family):
    connection = family.database.connection
    assert connection.execute("PRAGMA application_id").fetchone()[0] == APPLICATION
    assert version_of(connection) == max(steps())
    assert connection.execute("PRAGMA journal_mode").fetchone()[0] == "wal"
    assert connection.execute("PRAGMA foreign_keys").fetchone()[0] == 1


def test_every_table_has_its_dataclass_and_its_view(family):
    for kind, table in TABLES.items():
        assert family.database.rows(kind) == []
        stored = [row["name"] for row in family.database.read(f"SELECT name FROM pragma_table_info('{table}')")]
        assert [*kind.__slots__, "removed"] == stored


@pytest.mark.parametrize("name", HOSTILE_NAMES)
def test_any_name_is_just_a_name(family, name):
    student = family.students.add(name, grade=6)
    assert family.students.find(name) == student
    assert [s.name for s in family.students.all()] == [name.strip()]


def test_a_write_that_fails_half_way_leaves_nothing(family):
    def half_a_write():
        with family.database.write("two students") as write:
            write.add(Student, name="Ann")
            raise RuntimeError("half way")

    with pytest.raises(RuntimeError, match="half way"):
        half_a_write()
    assert family.students.all() == []
    assert family.database.history() == []


def test_undo_goes_back_write_by_write_to_the_beginning(busy):
    names = [busy.undo() for _ in busy.database.history()]
    with pytest.raises(RecordsError, match="nothing to undo"):
        busy.undo()
    assert names[0].startswith("hand in")
    assert names[-1] == "add student Ann"
    assert busy.students.all() == []
    assert busy.tasks.all() == []


def test_undo_brings_back_what_was_changed_and_what_was_removed(busy):
    ann = busy.students.find("Ann")
    busy.students.change(ann.id, name="Anna")
    busy.students.remove(ann.id)
    assert [s.name for s in busy.students.all()] == ["Ben"]
    assert busy.tasks.assignments(ann.id) == []
    busy.undo()
    assert busy.students.get(ann.id).name == "Anna"
    assert len(busy.database.rows(Draft)) == 1
    busy.undo()
    assert busy.students.get(ann.id).name == "Ann"


def test_after_an_undo_new_writes_can_be_undone_too(family):
    family.students.add("Ann", grade=8)
    family.undo()
    family.students.add("Ann", grade=7)
    assert family.undo() == "add student Ann"
    with pytest.raises(RecordsError):
        family.undo()


@pytest.mark.parametrize(
    ("kind", "change"),
    [
        (Draft, "UPDATE drafts SET sha256 = replace(sha256, 'a', 'b')"),
        (Draft, "DELETE FROM drafts"),
        (Sheet, "UPDATE sheets SET body = '{}'"),
        (Sheet, "DELETE FROM sheets"),
        (Mark, "UPDATE marks SET marked_on = '2026-01-01'"),
        (Mark, "DELETE FROM marks"),
        (MarkLevel, "UPDATE mark_levels SET level = 4"),
        (MarkLevel, "DELETE FROM mark_levels"),
    ],
)
def test_drafts_proposals_and_marks_are_never_changed_or_deleted(busy, kind, change):
    draft = busy.database.rows(Draft)[0]
    busy.sheets.make(draft.id)
    busy.marks.add(draft.id, {"focus": 3}, marked_on=date(2026, 5, 16))
    before = busy.database.rows(kind)
    with pytest.raises(sqlite3.IntegrityError):
        busy.database.connection.execute(change)
    assert before
    assert busy.database.rows(kind) == before


def test_what_hangs_on_nothing_is_refused(family):
    with pytest.raises(RecordsError, match="not there"), family.database.write("a question of no task") as write:
        write.add(Question, task_id=99, number=1, text="Who?", points=1)


def test_another_programs_database_is_left_alone(tmp_path):
    other = sqlite3.connect(tmp_path / RECORDS)
    other.execute("CREATE TABLE recipes (name)")
    other.close()
    before = (tmp_path / RECORDS).read_bytes()
    with pytest.raises(RecordsError, match="another program"):
        open_family(tmp_path)
    assert (tmp_path / RECORDS).read_bytes() == before


def test_a_file_that_is_no_database_is_told_so(tmp_path):
    (tmp_path / RECORDS).write_bytes(b"not a database at all, but long enough to look at" * 50)
    with pytest.raises(RecordsError, match="no database, or it is damaged"):
        open_family(tmp_path)


def test_records_of_a_newer_program_are_refused(family):
    family.database.connection.execute(f"PRAGMA user_version = {max(steps()) + 1}")
    with pytest.raises(RecordsError, match="newer rubric_kit"):
        Database(family.database.path)


def test_no_records_are_opened_where_there_are_none(tmp_path):
    with pytest.raises(RecordsError, match="rubric-kit begin"):
        open_family(tmp_path)


def test_beginning_twice_opens_what_is_there(tmp_path):
    with begin(tmp_path) as first:
        first.students.add("Ann", grade=8)
    with begin(tmp_path) as second:
        assert [s.name for s in second.students.all()] == ["Ann"]


def test_the_usual_folder_can_be_named_by_a_variable(tmp_path, monkeypatch):
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    assert usual_folder() == tmp_path
    monkeypatch.delenv(FOLDER_VARIABLE)
    assert usual_folder().name == "rubric_kit family"


def test_the_journal_tells_what_stood_there_before(busy):
    ann = busy.students.find("Ann")
    busy.students.change(ann.id, name="Anna")
    change = busy.database.read("SELECT * FROM changes ORDER BY id DESC LIMIT 1")[0]
    assert (change["in_table"], change["row_id"]) == ("students", ann.id)
    assert json.loads(change["before"]) == {"name": "Ann"}
    assert json.loads(change["after"]) == {"name": "Anna"}


def test_what_cannot_be_is_refused_in_words(family):
    ann = family.students.add("Ann", grade=8)
    for wrong, words in [
        (lambda: family.students.add("Ann", grade=8), "already"),
        (lambda: family.students.add("  ", grade=8), "must not be empty"),
        (lambda: family.students.add("Ben", grade=13), "0 .kindergarten. to 12"),
        (lambda: family.students.add("Ben", grade=8, school_year="2025"), "like 2025-26"),
        (lambda: family.students.find("Zoe"), "There are: Ann"),
        (lambda: family.students.get(10**30), "no number"),
        (lambda: family.students.change(ann.id, height=3), "height cannot be changed"),
        (lambda: family.terms.add("autumn", date(2026, 5, 1), date(2026, 4, 1)), "begin before it ends"),
        (lambda: family.tasks.add("t", "p", set_on=date(2026, 5, 1), versions={99: Version()}), "no number 99"),
    ]:
        with pytest.raises(RecordsError, match=words):
            wrong()
    assert [s.name for s in family.students.all()] == ["Ann"]
    assert family.tasks.all() == []


def test_what_was_undone_can_be_brought_back_until_something_new_is_written(family):
    family.students.add("Ann", grade=8)
    family.students.add("Ben", grade=5)
    family.undo()
    family.undo()
    assert family.redo() == "add student Ann"
    assert family.redo() == "add student Ben"
    assert [s.name for s in family.students.all()] == ["Ann", "Ben"]
    with pytest.raises(RecordsError, match="no undo"):
        family.redo()
    assert family.undo() == "add student Ben"
    family.students.add("Cleo", grade=3)
    with pytest.raises(RecordsError, match="no undo"):
        family.redo()


def test_a_write_inside_another_is_part_of_it(family):
    with family.database.write("both"):
        family.students.add("Ann", grade=8)
        family.students.add("Ben", grade=5)
    assert family.undo() == "both"
    assert family.students.all() == []


def test_a_rubric_that_an_undo_took_comes_back_with_the_next_piece(busy):
    draft = busy.database.rows(Draft)[0]
    busy.sheets.make(draft.id)
    busy.undo()
    assert busy.sheets.make(draft.id).draft_id == draft.id


def test_two_students_whose_names_differ_only_in_capitals_are_refused(family):
    family.students.add("Pip", grade=3)
    with pytest.raises(RecordsError, match="already"):
        family.students.add("pip", grade=3)
