"""The commands of the family's year, each in its usual way."""

from __future__ import annotations

import re
import shlex
from pathlib import Path
from typing import Any

import pytest

from rubric_kit import cli
from rubric_kit.records import begin

from .commands import ESSAY, INPUT, read, run, said

README = Path(__file__).parents[1] / "README.md"
GROUPS = {
    "student": "add list change grade remove",
    "term": "add list change remove",
    "book": "add list change remove",
    "task": "add list show give change question excuse remove",
    "draft": "add list show remove",
    "answers": "give list",
    "conference": "add list change remove",
    "setting": "list set reset",
    "old-mark": "list remove",
    "rubric": "show copy measures add list",
}


def test_every_command_has_help_with_an_example() -> None:
    whole = run("--help").stdout
    for name in ("begin", "due", "mark", "undo", "history", "demo", "import", *GROUPS):
        assert name in whole
    for words in ("begin", "due", "mark", "undo", "history", "demo", "import", "score", "agree"):
        assert f"Example: rubric-kit {words}" in said(run(words, "--help"))
    for group, commands in GROUPS.items():
        told = run(group, "--help").stdout
        for command in commands.split():
            assert command in told
            if group != "rubric" or command in {"add", "list"}:
                assert f"Example: rubric-kit {group} {command}" in said(run(group, command, "--help"))


def test_every_command_stands_in_the_file_that_the_table_names() -> None:
    commands = cli._Commands()
    assert [commands[name].name for name in commands] == list(commands)


def test_records_begin_in_a_folder_and_the_next_step_is_told(tmp_path: Path) -> None:
    place = tmp_path / "new" / "records"
    result = run("begin", place)
    assert f'--family "{place}"' in said(result)
    assert (place / "family.db").is_file()
    run("student", "add", "Ann", "--grade", 3, "--family", place)
    assert [s["name"] for s in read("student", "list", "--family", place)] == ["Ann"]
    run("begin", place)  # once more opens it
    assert "no records can be begun" in run("begin", place / "family.db", code=INPUT).stderr


def test_without_records_every_command_says_how_to_begin(tmp_path: Path) -> None:
    for words in (("student", "list"), ("due",), ("undo",), ("draft", "list"), ("mark", "1", "--focus", "3")):
        assert "rubric-kit begin" in run(*words, "--family", tmp_path, code=INPUT).stderr


def test_students_are_added_listed_renamed_graded_and_removed(our_year: Path) -> None:
    run("student", "add", "Zoe", "--grade", 2, "--year", "2025-26")
    run("student", "grade", "zoe", 3, "--year", "2026-27")
    run("student", "change", "Zoe", "--name", "Zoë")
    assert read("student", "list")[-1] == {"id": 3, "name": "Zoë", "grades": {"2025-26": 2, "2026-27": 3}}
    assert "2025-26: 2, 2026-27: 3" in run("student", "list").stdout
    run("student", "remove", "Zoë")
    assert [s["name"] for s in read("student", "list")] == ["Ann", "Ben"]
    run("undo")
    assert len(read("student", "list")) == 3


def test_terms_and_books_are_added_listed_changed_and_removed(our_year: Path) -> None:
    run("term", "add", "autumn", "--begins", "2025-09-01", "--ends", "2026-01-16")
    assert "shares days with: autumn" in said(
        run("term", "add", "spring", "--begins", "2026-01-16", "--ends", "2026-05-29")
    )
    run("term", "change", "spring", "--begins", "2026-01-17")
    assert [(t["name"], t["begins"]) for t in read("term", "list")] == [
        ("autumn", "2025-09-01"),
        ("spring", "2026-01-17"),
    ]
    run("term", "remove", "autumn")
    assert "autumn" not in run("term", "list").stdout
    run("book", "add", "Heidi", "--author", "Johanna Spyri", "--started", "2026-01-01")
    run("book", "change", "heidi", "--finished", "2026-02-01", "--unit", "Mountains")
    assert read("book", "list")[1] == {
        "id": 2, "title": "Heidi", "author": "Johanna Spyri", "unit": "Mountains", "started": "2026-01-01",
        "finished": "2026-02-01",
    }  # fmt: skip
    run("book", "remove", "Heidi by Johanna Spyri")
    assert "Heidi" not in run("book", "list").stdout


def test_a_question_becomes_a_task_that_fits_each_child(our_year: Path) -> None:
    run(
        *("task", "add", "--book", "the call of the wild", "--question", "Is Buck free at the end?"),
        *("--due", "2026-06-01", "--for", "Ann:five-paragraph:2", "--for", "Ben:1"),
        *("--answer", "Who feeds Buck? = 2", "--answer", "Does 1 + 1 = 2? = 1.5"),
    )
    shown = read("task", "show", "The Call of the Wild")
    assert shown["task"]["prompt"] == "About “The Call of the Wild” by Jack London:\n\nIs Buck free at the end?"
    assert [(q["text"], q["points"]) for q in shown["questions"]] == [("Who feeds Buck?", 2), ("Does 1 + 1 = 2?", 1.5)]
    versions = [(v["student"], v["version"]["form"], v["version"]["questions"]) for v in shown["versions"]]
    assert versions == [("Ann", "five-paragraph", 2), ("Ben", "three-paragraph", 1)]
    sheet = said(run("task", "show", "The Call of the Wild", "--for", "ben"))
    assert "Write three paragraphs" in sheet
    assert "Who feeds Buck?" in sheet
    assert "1 + 1" not in sheet


def test_a_task_is_given_changed_excused_and_removed(our_year: Path) -> None:
    run("task", "give", "The wild", "Ben", "--form", "paragraph")
    (ben,) = [v["version"] for v in read("task", "show", "The wild")["versions"] if v["student"] == "Ben"]
    assert (ben["form"], ben["questions"], ben["due"]) == ("paragraph", 1, "2026-05-14")  # the rest stays
    assert ben["instructions"].startswith("Write one paragraph")
    run("task", "give", "The wild", "Ben", "--instructions", "Just three sentences.")
    run("task", "give", "The wild", "Ben", "--form", "narrative")
    (ben,) = [v["version"] for v in read("task", "show", "The wild")["versions"] if v["student"] == "Ben"]
    assert ben["instructions"] == "Just three sentences."  # one's own words stay
    run("task", "change", "the wild", "--title", "Wild", "--due", "2026-06-01")
    assert {v["version"]["due"] for v in read("task", "show", "Wild")["versions"]} == {"2026-06-01"}
    run("task", "excuse", "Wild", "Ben")
    assert "Ben" not in run("due").stdout
    run("task", "excuse", "Wild", "Ben", "--no-longer")
    assert "Ben" in run("due").stdout
    run("task", "remove", "Wild")
    assert "No tasks yet" in run("task", "list").stdout
    assert "Nothing is due" in run("due").stdout


def test_a_question_is_put_otherwise_or_added_but_not_worth_less_than_was_given(our_year: Path) -> None:
    run("task", "question", "The wild", 3, "Who is Hal? = 1")
    run("answers", "give", "1=2", "--student", "Ann", "--task", "The wild")
    assert "has 2 points already" in run("task", "question", "The wild", 1, "Who is Buck? = 1", code=INPUT).stderr
    run("task", "question", "The wild", 1, "Who is Buck, and whose? = 3")
    told = [(q["text"], q["points"]) for q in read("task", "show", "The wild")["questions"]]
    assert told == [("Who is Buck, and whose?", 3), ("Where is he taken?", 1.5), ("Who is Hal?", 1)]


def test_what_is_due_is_told_in_words(our_year: Path) -> None:
    told = said(run("due", "--on", "2026-05-16"))
    assert "1 late, 1 to mark" in told
    assert "2 days late" in told
    assert [row["days"] for row in read("due", "--student", "Ben", "--on", "2026-05-13")] == [1]


def test_a_draft_is_handed_in_scored_shown_and_removed(our_year: Path, tmp_path: Path) -> None:
    result = run("draft", "add", ESSAY, "--student", "ann", "--task", "the wild", "--on", "2026-05-20")
    assert "out of 100" in result.stdout
    assert "Ann, The wild, draft 2" in result.stdout
    assert "rubric-kit mark 2" in result.stdout
    shown = read("draft", "show", 2)
    assert shown["draft"]["received_on"] == "2026-05-20"
    assert set(shown["proposal"]["counts"]) >= {"words", "sentences"}
    assert [d["draft"]["number"] for d in read("draft", "list", "--student", "Ann", "--task", "The wild")] == [1, 2]
    page = tmp_path / "page.html"
    run("draft", "show", 2, "--html", page)
    assert page.read_text("utf-8").lower().startswith("<!doctype html>")
    run("mark", 2, "--accept", "--focus", 1, "--comment", "Try again.")
    told = said(run("draft", "show", 2))
    assert "1 beginning" in told
    assert "Your comment: Try again." in told
    run("draft", "show", 2, "--html", page)
    assert 'data-head="Your level">1 beginning' in page.read_text("utf-8")
    assert "(yours; proposed: " in page.read_text("utf-8")
    assert "Try again." in page.read_text("utf-8")
    run("draft", "remove", 2)
    assert len(read("draft", "list")) == 1


def test_a_draft_handed_in_blind_shows_no_level_before_the_reader_s_own(our_year: Path) -> None:
    result = run("draft", "add", ESSAY, "--student", "Ben", "--task", "The wild", "--blind")
    assert "out of 100" not in result.stdout
    assert not re.search("exemplary|at grade|approaching|beginning", result.stdout)
    proposed = f"{read('draft', 'show', 2)['proposal']['percent']:g}"
    assert proposed not in run("draft", "list", "--student", "Ben").stdout.split()
    marked = run("mark", 2, "--blind", given="3\n2\n5\n3\n3\n2\nGood.\n")
    asked, _, after = marked.stdout.partition("Your comment")
    assert "A level is 1, 2, 3 or 4" in asked
    assert "[" not in asked  # no level is offered
    assert "proposed" in after
    assert proposed in run("draft", "list", "--student", "Ben").stdout.split()
    shown = read("draft", "show", 2)
    assert shown["own"] == {"focus": 3, "organization": 2, "evidence": 3, "sentences": 3, "conventions": 2}
    assert (shown["mark"]["seen_proposal"], shown["mark"]["comment"]) == (False, "Good.")


def test_what_is_not_english_is_kept_without_a_proposal_and_can_be_marked(our_year: Path, tmp_path: Path) -> None:
    essay = tmp_path / "essai.txt"
    essay.write_text("Mon chien est petit et il aime courir dans le jardin avec moi. " * 6, "utf-8")
    result = run("draft", "add", essay, "--student", "Ben", "--task", "The wild", code=INPUT)
    assert "handed in as number 2, without a proposal" in result.stderr
    run("mark", 2, "--levels", "focus=3,organization=2,evidence=3,sentences=3,conventions=2")
    assert "3 at grade" in run("draft", "show", 2).stdout


def test_levels_that_are_not_given_are_asked_for_and_none_is_kept_when_stopped(our_year: Path) -> None:
    run("mark", 1, "--focus", 3, given="2\n", code=INPUT)
    assert read("draft", "show", 1)["mark"] is None
    run("mark", 1, "--focus", 3, given="2\n3\n3\n4\n\n")
    assert read("draft", "show", 1)["own"]["conventions"] == 4


def test_an_old_piece_is_marked_again_and_the_first_mark_counts(our_year: Path) -> None:
    run("mark", 1, "--again", given="3\n3\n3\n3\n3\n", code=INPUT)  # it was never marked
    run("mark", 1, "--levels", "focus=3,organization=2,evidence=3,sentences=3,conventions=2")
    told = run("mark", 1, "--again", given="4\n4\n4\n4\n4\n").stdout
    assert "at first" in told
    assert read("draft", "show", 1)["own"]["focus"] == 3


def test_points_for_answers_are_given_and_listed(our_year: Path) -> None:
    assert "3 of 3.5 points" in said(run("answers", "give", "1=2", "2=1", "--student", "Ann", "--task", "The wild"))
    assert [a["points"] for a in read("answers", "list", "--student", "Ann", "--task", "The wild")] == [2, 1]
    assert "Where is he taken?" in run("answers", "list", "--student", "Ann", "--task", "The wild").stdout
    assert "1 without points yet" in said(run("task", "give", "The wild", "Ben", "--questions", 2)) + said(
        run("answers", "give", "1=2", "--student", "Ben", "--task", "The wild")
    )


def test_a_talk_is_noted_listed_changed_and_removed(our_year: Path) -> None:
    run("conference", "add", 1, "--worked", "The storm", "--goal", "One reason more", "--on", "2026-05-17")
    run("conference", "change", 1, "--outcome", "Done")
    told = said(run("conference", "list", "--student", "Ann"))
    assert "2026-05-17: Ann, The wild, draft 1 Worked: The storm Goal: One reason more What became of it: Done" in told
    assert read("conference", "list")[0]["next_step"] == ""
    run("conference", "remove", 1)
    assert "No conferences yet" in run("conference", "list").stdout


def test_settings_are_set_and_reset(our_year: Path) -> None:
    run("setting", "set", "answers_weight", 30)
    assert read("setting", "list")["answers_weight"] == 30
    listed = said(run("setting", "list"))
    assert "answers_weight = 30 (usually 40) How many percent of a task's grade its short answers count" in listed
    assert "Choose: latest, best, mean." in listed
    run("setting", "reset", "answers_weight")
    assert read("setting", "list")["answers_weight"] == 40


def test_a_family_s_own_rubric_is_kept_and_used(our_year: Path, tmp_path: Path) -> None:
    own = tmp_path / "mine.toml"
    run("rubric", "copy", "paragraph", own)
    run("rubric", "add", own)
    assert read("rubric", "list")[0]["name"] == "mine.toml"
    run("task", "give", "The wild", "Ben", "--rubric", "Mine.toml")
    (ben,) = [v["version"] for v in read("task", "show", "The wild")["versions"] if v["student"] == "Ben"]
    assert (ben["form"], ben["rubric_id"]) == ("paragraph", 1)  # the form is the rubric's
    shipped = tmp_path / "paragraph.toml"
    own.rename(shipped)
    assert "another name" in run("rubric", "add", shipped, code=INPUT).stderr


def test_undo_takes_back_one_write_after_another_until_none_is_left(our_year: Path) -> None:
    for _ in read("history", "--newest", 100):
        run("undo")
    assert "nothing to undo" in run("undo", code=INPUT).stderr
    assert read("student", "list") == []
    assert "undo: add student Ann" in run("history").stdout


def test_a_class_list_is_told_in_a_dry_run_and_then_brought_over(our_year: Path, tmp_path: Path) -> None:
    table = tmp_path / "class.csv"
    table.write_text("name;grade\nZoë;6\nMax;2\n", "cp1252")
    told = run("import", table, "--dry-run").stdout
    assert "new student Zoë: grade 6" in told
    assert "Nothing was written" in told
    assert len(read("student", "list")) == 2
    run("import", table)
    assert [s["name"] for s in read("student", "list")] == ["Ann", "Ben", "Zoë", "Max"]
    table.write_text("student,book,date,percent\nAnn,Heidi,2025-03-01,88\nZed,Heidi,2025-03-01,88\n", "utf-8")
    result = run("import", table, code=INPUT)
    assert "class.csv, line 3: There is no student called Zed" in result.stderr
    assert read("old-mark", "list") == []
    table.write_text("student,book,date,percent\nAnn,Heidi,3/1/2025,88\n", "utf-8")
    run("import", table, "--dates", "month-first")
    assert "Heidi" in run("old-mark", "list", "--student", "Ann").stdout
    run("old-mark", "remove", 1)
    assert read("old-mark", "list") == []


def test_the_demo_tells_where_it_is_and_what_to_try(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    from rubric_kit.records import demo

    def small(place: Path) -> Any:
        return begin(place)

    monkeypatch.setattr(demo, "build_demo", small)
    lines = run("demo", tmp_path / "demo").stdout.splitlines()
    assert str(tmp_path / "demo") in lines
    assert sum(line.startswith("  rubric-kit ") for line in lines) == 3
    assert re.search("pellwood-", run("demo").stdout)


def test_the_readme_s_commands_of_a_year_work_in_their_order(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    section = README.read_text("utf-8").partition("## Keep the year")[2].partition("\n## ")[0]
    lines = section.split("```")[1].strip().splitlines()
    assert len(lines) > 10
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("RUBRIC_KIT_FAMILY", "Our year")
    (tmp_path / "essay.odt").write_bytes(ESSAY.read_bytes())
    for line in lines:
        name, *words = shlex.split(re.split(r"\s{2,}", line)[0].replace("essay.docx", "essay.odt"))
        assert name == "rubric-kit"
        run(*words)
