import io
import sys

import pytest

from rubric_kit.measures.measured import FAMILIES
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.terminal import print_measures, print_rubric, print_sheet

COLUMNS = 80
LINES = 70


def printed(capsys: pytest.CaptureFixture[str], sheet: ScoreSheet) -> str:
    print_sheet(sheet)
    return capsys.readouterr().out


@pytest.fixture(autouse=True)
def _a_plain_pipe(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("COLUMNS", "FORCE_COLOR", "NO_COLOR"):
        monkeypatch.delenv(name, raising=False)


def test_a_sheet_fits_80_columns_without_colour_in_a_pipe(owls: ScoreSheet, capsys: pytest.CaptureFixture[str]) -> None:
    lines = printed(capsys, owls).splitlines()
    assert max(map(len, lines)) <= COLUMNS
    assert len(lines) <= LINES
    assert not any("\x1b" in line for line in lines)


def test_levels_reasons_places_steps_slips_and_cautions_are_there(
    owls: ScoreSheet, capsys: pytest.CaptureFixture[str]
) -> None:
    out = " ".join(printed(capsys, owls).split())
    for words in (
        "Owls at Night owls.txt · Grade 5 · owl rubric",
        "80.2 out of 100, B",
        "3 at grade",
        "fairly sure: 6 in 10",
        "“Owls are built for hunting at night because…” (paragraph 1, sentence 2)",
        "Next: Say it once more. Try it on",
        "spelling: becuase → because (2)",
        "sentences run together: Owls also fly without… → sound. A (3)",
        "Reads like a text for school grade",
        "A small sample.",
    ):
        assert words in out
    assert out.count("Readability formulas describe the text") == 1


def test_hostile_text_stays_text(hostile: ScoreSheet, capsys: pytest.CaptureFixture[str]) -> None:
    out = printed(capsys, hostile)
    assert "<script>alert('x')</script>" in out
    assert not any(c in out for c in "\x1b\u202e\u202c")


def test_a_title_of_300_letters_is_wrapped(long_title: ScoreSheet, capsys: pytest.CaptureFixture[str]) -> None:
    out = printed(capsys, long_title)
    assert max(map(len, out.splitlines())) <= COLUMNS
    assert out.count("W") == 300


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8", "cp437"])
def test_any_terminal_encoding_gets_words_instead_of_an_error(
    owls: ScoreSheet, hostile: ScoreSheet, encoding: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding=encoding))
    print_sheet(owls)
    print_sheet(hostile)
    sys.stdout.flush()
    out = raw.getvalue().decode(encoding)
    assert "Owls at Night" in out
    assert ('"Owls are' in out) == (encoding in ("ascii", "cp437"))


def test_a_rubric_shows_every_descriptor_and_the_letters(owls: ScoreSheet, capsys: pytest.CaptureFixture[str]) -> None:
    print_rubric(owls.rubric)
    out = " ".join(capsys.readouterr().out.split())
    assert "criterion <2> (weight 25) 1 beginning: descriptor 1 2 approaching: descriptor 2" in out
    assert "B from 0" in out


def test_every_measure_is_listed_with_its_formula(capsys: pytest.CaptureFixture[str]) -> None:
    print_measures(FAMILIES)
    out = capsys.readouterr().out
    assert all(f"{name}: " in out for table in FAMILIES.values() for name in table)
    assert max(map(len, out.splitlines())) <= COLUMNS
