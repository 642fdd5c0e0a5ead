"""A wrong rubric file gives one line: which file, which line of it, what is wrong, what to do."""

from __future__ import annotations

import os
import re
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from wrong_rubrics import GOOD, KEPT, WRONG, messages

from rubric_kit.errors import RubricFileError
from rubric_kit.scoring.rubric_file import FORMS, LARGEST, load_file, load_form, parse_rubric, shipped


def without(table: str) -> str:
    return GOOD[: GOOD.index(table)]


def test_the_good_one_is_read() -> None:
    rubric = parse_rubric(GOOD, "mine.toml")
    assert (rubric.name, rubric.form, rubric.version, rubric.default_grade) == ("my rubric", "paragraph", 2, 5)
    assert rubric.paragraphs == (1, 2)
    assert rubric.percent == {1: 60, 2: 70, 3: 85, 4: 100}
    assert rubric.letters == ((90, "A"), (80, "B"), (0, "C"))
    assert [(c.key, c.weight, len(c.look_for)) for c in rubric.criteria] == [("point", 60, 2), ("care", 40, 1)]
    assert [c.name for c in rubric.criteria] == [line[8:-1] for line in GOOD.splitlines() if line[:6] == "name ="][1:]
    assert rubric.source == "mine.toml"
    assert rubric.criteria[0].look_for[1].expected == {4: (20, 40, 60, 80), 8: (40, 80, 120, 160)}


@pytest.mark.parametrize("case", WRONG)
def test_a_wrong_file_is_told_by_name_line_and_remedy(case: str) -> None:
    old, new, line, says = WRONG[case]
    assert old in GOOD
    with pytest.raises(RubricFileError) as raised:
        parse_rubric(GOOD.replace(old, new, 1), "mine.toml")
    message = str(raised.value)
    assert says in message
    assert re.match(rf"mine\.toml, line {line or '[0-9]+'}: ", message), message
    assert "\n" not in message
    assert message.endswith(".")


def test_percents_may_begin_at_0_and_a_weight_may_be_the_whole() -> None:
    assert parse_rubric(GOOD.replace("1 = 60", "1 = 0", 1), "mine.toml").percent[1] == 0
    alone = GOOD[: GOOD.index("[criterion.care]")].replace("weight = 60", "weight = 100", 1)
    assert [c.weight for c in parse_rubric(alone, "mine.toml").criteria] == [100]
    thirds = GOOD.replace("weight = 60", "weight = 60.01", 1)
    assert parse_rubric(thirds, "mine.toml").criteria[0].weight == 60.01


def test_a_criterion_that_looks_for_nothing_says_so() -> None:
    text = GOOD[: GOOD.index("[[criterion.care.look_for]]")] + "look_for = []\n"
    with pytest.raises(RubricFileError) as raised:
        parse_rubric(text, "mine.toml")
    assert str(raised.value) == (
        f"mine.toml, line {text.count(chr(10))}: there is nothing to look for. Add a [[criterion.care.look_for]] table."
    )


def test_the_line_named_is_that_of_the_table_with_the_fault() -> None:
    two = GOOD.replace("grade_5 = [6, 4, 2, 0]", "grade_5 = [6, 4, 2]", 1)
    with pytest.raises(RubricFileError, match=r"^mine\.toml, line 50: 'grade_5' of 'misspellings_per_100_words'"):
        parse_rubric(two, "mine.toml")


def test_what_is_said_of_a_wrong_file_is_what_was_kept() -> None:
    """See wrong_rubrics.py, which writes what is kept."""
    assert messages().splitlines() == KEPT.read_text("utf-8").splitlines()


@pytest.mark.parametrize("text", [without("[criterion.point]"), without("[criterion.point]") + "[criterion]\n"])
def test_a_file_without_a_criterion_says_so(text: str) -> None:
    with pytest.raises(RubricFileError, match=r"mine\.toml, line \d+: .*\[criterion\.NAME\] table"):
        parse_rubric(text, "mine.toml")


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "line 1: there is nothing in it"),
        (b" \n\n", "line 1: there is nothing in it"),
        (b"\xff\xfe\x00name", "not plain text in UTF-8"),
        ('name = "é"'.encode("cp1252"), "not plain text in UTF-8"),
        (bytes(range(256)) * 20, "not plain text in UTF-8"),
        (b"\x00" * 100, "not written as TOML"),
        (b"[" * 100_000, "not written as TOML"),
        (b"a = " + b"[" * 100_000, "not written as TOML"),
        (b"a = " + b"{b = " * 50_000, "not written as TOML"),
        (b"# note\n" * (LARGEST // 7 + 1), "too large for a rubric"),
        (b"a.a.a.a = 1\na.a.a.a.b = 2", "not written as TOML"),
    ],
)
def test_a_file_that_is_no_rubric_gives_one_line(content: bytes, says: str, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_bytes(content)
    with pytest.raises(RubricFileError) as raised:
        load_file(path)
    assert says in str(raised.value)
    assert str(raised.value).startswith("mine.toml")
    assert "\n" not in str(raised.value)


def test_a_folder_a_missing_file_and_a_pipe_are_no_rubric(tmp_path: Path) -> None:
    (tmp_path / "folder.toml").mkdir()
    os.mkfifo(tmp_path / "pipe.toml")
    for name in ("folder.toml", "gone.toml", "pipe.toml", "a" * 300, "a\0b.toml"):
        with pytest.raises(RubricFileError, match="Check the name"):
            load_file(tmp_path / name)


@pytest.mark.parametrize("form", FORMS)
def test_a_copy_of_a_shipped_rubric_is_the_same_rubric(form: str, tmp_path: Path) -> None:
    copy = tmp_path / f"{form}.toml"
    copy.write_text(shipped(form), "utf-8")
    assert load_file(copy) == load_form(form)


@pytest.mark.parametrize("change", [lambda t: "\ufeff" + t, lambda t: t.replace("\n", "\r\n")])
def test_what_an_editor_leaves_behind_does_no_harm(change, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_bytes(change(GOOD).encode())
    assert load_file(path).name == "my rubric"


def test_the_line_is_right_with_quoted_names_comments_and_spaces() -> None:
    text = GOOD.replace("[criterion.care]", '[ criterion . "care" ]  # the last one').replace(
        "weight = 40", "weight=-4"
    )
    with pytest.raises(RubricFileError, match=r"mine\.toml, line 40: the weight is -4"):
        parse_rubric(text, "mine.toml")


def test_an_unknown_form_is_told_with_those_there_are() -> None:
    with pytest.raises(RubricFileError, match="Choose one of: paragraph, three-paragraph"):
        load_form("poem")


def test_what_a_message_quotes_cannot_steer_a_terminal(tmp_path: Path) -> None:
    file = tmp_path / "my\x1b[31m rubric.toml"
    file.write_text(shipped("paragraph").replace('measure = "', 'measure = "\\u0000\\u001b[31m', 1), "utf-8")
    with pytest.raises(RubricFileError, match="there is no measure") as raised:
        load_file(file)
    assert str(raised.value).isprintable()
