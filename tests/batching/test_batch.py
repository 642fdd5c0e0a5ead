"""rk.batch in one process: what goes in, what comes out, and what is told of bad rows."""

from __future__ import annotations

from pathlib import Path

import pytest

import rubric_kit as rk
from rubric_kit.batching.columns import columns
from rubric_kit.batching.rows import ROWS, BatchError
from rubric_kit.measures.measured import FAMILIES
from rubric_kit.scoring.rubric_file import shipped

from .tables import essay, rows_of, write_csv

pq = pytest.importorskip("pyarrow.parquet", reason="pyarrow, of the extra batch, is not installed")
SAMPLES = Path(__file__).parents[2] / "sample_essays"
DOCX = SAMPLES / "2025-09-19_tamsin_black-beauty.docx"
DIFFERS = ("row", "id")


def parquet(path: Path, **cells: list[object]) -> Path:
    import pyarrow as pa

    pq.write_table(pa.table(cells), path)
    return path


def test_every_column_is_what_scoring_the_essay_alone_gives(tmp_path: Path) -> None:
    done = rk.batch(write_csv(tmp_path / "in.csv", [("a", essay(1))]), tmp_path / "out.parquet", grade=5, processes=1)
    sheet = rk.score(rk.read_text(essay(1)), grade=5)
    (row,) = pq.read_table(done.results).to_pylist()
    assert (done.rows, done.left_out, done.problems.exists()) == (1, 0, False)
    assert (row["row"], row["id"], row["grade"], row["form"], row["rubric_version"]) == (2, "a", 5, "five-paragraph", 1)
    assert (row["percent"], row["letter"], row["words"]) == (sheet.percent, sheet.letter, sheet.measures.counts.words)
    assert row["cautions"] == " ".join(sheet.cautions)
    for score in sheet.criteria:
        assert [row[f"{what}_{score.key}"] for what in ("level", "score", "sure")] == [
            score.level,
            score.score,
            score.sure,
        ]
    assert {name: row[name] for name in sheet.measures} == {name: r.value for name, r in sheet.measures.items()}


def test_no_two_columns_have_one_name_and_every_measure_has_one() -> None:
    names = [column.name for column in columns(("focus", "organization"))]
    assert len(names) == len(set(names))
    assert {name for table in FAMILIES.values() for name in table} <= set(names)


def test_a_folder_a_csv_file_and_a_parquet_file_give_the_same(tmp_path: Path) -> None:
    essays = {f"{n:02}.txt": essay(n) for n in range(ROWS + 3)}
    folder = tmp_path / "essays"
    (folder / "more").mkdir(parents=True)
    for name, text in essays.items():
        (folder / name).write_text(text, encoding="utf-8")
    given = [
        folder,
        write_csv(tmp_path / "in.csv", list(essays.items())),
        parquet(tmp_path / "in.parquet", id=list(essays), text=list(essays.values())),
    ]
    tables = []
    for number, source in enumerate(given):
        rk.batch(source, tmp_path / f"{number}.parquet", grade=5, processes=1)
        rk.batch(source, tmp_path / f"{number}.csv", grade=5, processes=1)
        tables.append(pq.read_table(tmp_path / f"{number}.parquet").to_pylist())
        assert [row["id"] for row in tables[-1]] == list(essays)
        read_back = rows_of(tmp_path / f"{number}.csv")
        assert [[str("" if v is None else v) for v in row.values()] for row in tables[-1]] == [
            list(row.values()) for row in read_back
        ]
    for table in tables:
        for row in table:
            del row["row"]
    assert tables[0] == tables[1] == tables[2]


def test_a_folder_is_taken_with_its_folders_and_in_the_order_of_names(tmp_path: Path) -> None:
    for name in ("b/2.txt", "a.txt", "b/1.md", ".hidden.txt", "~$open.docx"):
        place = tmp_path / "in" / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(essay(1), encoding="utf-8")
    (tmp_path / "in" / "c.docx").write_bytes(DOCX.read_bytes())
    (tmp_path / "in" / "d.jpg").write_bytes(b"\xff\xd8\xff")
    (tmp_path / "in" / "gone.txt").symlink_to(tmp_path / "nowhere")
    out = tmp_path / "in" / "results.csv"
    done = rk.batch(tmp_path / "in", out, processes=1)
    assert [row["id"] for row in rows_of(out)] == ["a.txt", "b/1.md", "b/2.txt", "c.docx"]
    assert [(row["id"], row["what is wrong"]) for row in rows_of(done.problems)] == [
        ("d.jpg", ".jpg files cannot be read"),
        ("gone.txt", "there is no such file"),
    ]
    again = rk.batch(tmp_path / "in", out, processes=1)  # its own files are no essays
    assert (again.rows, again.left_out) == (4, 2)


def test_columns_of_grade_and_form_go_before_the_options(tmp_path: Path) -> None:
    rows = [
        ("a", essay(1), "8", "Paragraph", "x"),
        ("b", essay(2), "", "", "y"),
        ("c", essay(3), "7.0", "narrative", ""),
    ]
    source = write_csv(tmp_path / "in.csv", rows, ("ID", " Text ", "grade", "form", "prompt"))
    rk.batch(source, tmp_path / "out.csv", grade=4, form="three-paragraph", processes=1)
    found = [(row["grade"], row["form"]) for row in rows_of(tmp_path / "out.csv")]
    assert found == [("8", "paragraph"), ("4", "three-paragraph"), ("7", "narrative")]


def test_numbers_as_ids_and_grades_in_parquet(tmp_path: Path) -> None:
    source = parquet(tmp_path / "in.parquet", id=[1, 2], text=[essay(1), None], grade=[6.0, None])
    done = rk.batch(source, tmp_path / "out.csv", processes=1)
    assert [(row["id"], row["grade"]) for row in rows_of(done.results)] == [("1", "6")]
    assert [(row["row"], row["id"]) for row in rows_of(done.problems)] == [("2", "2")]


def test_a_rubric_of_ones_own_names_the_columns(tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text(shipped("paragraph").replace("criterion.focus", "criterion.main_idea"), "utf-8")
    rk.batch(write_csv(tmp_path / "in.csv", [("a", essay(1))]), tmp_path / "out.csv", rubric=own, processes=1)
    (row,) = rows_of(tmp_path / "out.csv")
    assert row["level_main_idea"] in "1234"
    assert "level_focus" not in row


def test_bad_rows_are_told_of_and_the_rest_is_scored(tmp_path: Path) -> None:
    german = "Der Hund ist mein bester Freund und wir gehen jeden Tag in den Wald hinter dem Haus. " * 3
    rows = [
        ("good", essay(1), ""),
        ("empty", "  ", ""),
        ("", essay(2), ""),
        ("good", essay(3), ""),
        ("grade", essay(4), "12"),
        ("grade2", essay(4), "eight"),
        ("german", german, ""),
        ("x" * 500, essay(5), ""),
        ("last", essay(6), ""),
    ]
    done = rk.batch(write_csv(tmp_path / "in.csv", rows, ("id", "text", "grade")), tmp_path / "out.csv", processes=1)
    assert [row["id"] for row in rows_of(done.results)] == ["good", "last"]
    problems = rows_of(done.problems)
    assert [(int(row["row"]), row["id"][:10]) for row in problems] == [
        (3, "empty"), (4, ""), (5, "good"), (6, "grade"), (7, "grade2"), (8, "german"), (9, "xxxxxxxxxx"),
    ]  # fmt: skip
    told = [row["what is wrong"] for row in problems]
    assert told[2] == "row 2 has the same id"
    assert told[3] == "its grade is '12'"
    assert "English" in told[5]
    assert all(row["what to do"].endswith(".") for row in problems)
    assert not any("essay:" in value for row in problems for value in row.values())


def test_a_list_of_problems_goes_when_there_are_none_any_more(tmp_path: Path) -> None:
    source = write_csv(tmp_path / "in.csv", [("a", essay(1)), ("b", "")])
    done = rk.batch(source, tmp_path / "out.csv", processes=1)
    assert done.problems.exists()
    write_csv(source, [("a", essay(1)), ("b", essay(2))])
    rk.batch(source, tmp_path / "out.csv", processes=1)
    assert not done.problems.exists()
    assert sorted(p.name for p in tmp_path.iterdir()) == ["in.csv", "out.csv"]


def test_a_fault_of_ours_in_one_essay_does_not_cost_the_others(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from rubric_kit.batching import scored

    def failing(handed_in: list[rk.HandedIn]) -> list[object]:
        raise KeyError("something")

    alone = scored.score

    def failing_on_two(essay: rk.reading.Essay, *rest: object) -> object:
        if "number 2" in essay.text:
            raise KeyError("something")
        return alone(essay, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(scored, "score_many", failing)
    monkeypatch.setattr(scored, "score", failing_on_two)
    source = write_csv(tmp_path / "in.csv", [(n, essay(n)) for n in range(1, 4)])
    done = rk.batch(source, tmp_path / "out.csv", processes=1)
    assert [row["id"] for row in rows_of(done.results)] == ["1", "3"]
    assert "rubric-kit failed on it (KeyError" in rows_of(done.problems)[0]["what is wrong"]


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("in.csv", None, "no such folder or file"),
        ("in.txt", "x", "a folder or as a table"),
        ("in.csv", "", "no column called id"),
        ("in.csv", "id,text\n", "no essay in it"),
        ("in.csv", "id,essay\n1,x\n", "no column called text"),
        ("in.csv", "id,text,Text\n1,x,y\n", "2 columns called text"),
        ("in.parquet", "no such thing", "no Parquet file"),
        ("in.csv", '"id,text\n1,"', "no column called"),
    ],
)
def test_what_cannot_be_begun_is_told_and_leaves_nothing(
    tmp_path: Path, name: str, content: str | None, told: str
) -> None:
    if content is not None:
        (tmp_path / name).write_text(content)
    with pytest.raises(BatchError, match=told):
        rk.batch(tmp_path / name, tmp_path / "out.csv", processes=1)
    assert not list(tmp_path.glob("out*"))


def test_parquet_without_the_columns_or_with_other_things_in_them(tmp_path: Path) -> None:
    with pytest.raises(BatchError, match="no column called text"):
        rk.batch(parquet(tmp_path / "a.parquet", id=[1], words=["x"]), tmp_path / "out.csv", processes=1)
    with pytest.raises(BatchError, match="holds int64, not text"):
        rk.batch(parquet(tmp_path / "b.parquet", id=[1], text=[7]), tmp_path / "out.csv", processes=1)
    assert not list(tmp_path.glob("out*"))


def test_parquet_text_that_is_no_utf8_and_a_file_that_is_cut_off(tmp_path: Path) -> None:
    import pyarrow as pa

    broken = pa.array([b"caf\xe9 it is", essay(2).encode()]).view(pa.string())
    pq.write_table(pa.table({"id": ["a", "b"], "text": broken}), tmp_path / "in.parquet")
    done = rk.batch(tmp_path / "in.parquet", tmp_path / "out.csv", processes=1)
    assert [row["id"] for row in rows_of(done.results)] == ["b"]
    assert "not UTF-8" in rows_of(done.problems)[0]["what is wrong"]
    whole = (tmp_path / "in.parquet").read_bytes()
    (tmp_path / "cut.parquet").write_bytes(whole[: len(whole) // 2])
    with pytest.raises(BatchError, match="damaged"):
        rk.batch(tmp_path / "cut.parquet", tmp_path / "cut.csv", processes=1)


@pytest.mark.parametrize("out", ["out.xlsx", "out", "in.csv", "folder.csv"])
def test_where_results_cannot_go_is_told_before_anything_is_scored(tmp_path: Path, out: str) -> None:
    (tmp_path / "folder.csv").mkdir()
    source = write_csv(tmp_path / "in.csv", [("a", essay(1))])
    before = source.read_bytes()
    with pytest.raises(BatchError, match=r"Choose such an ending|written over|a folder or device"):
        rk.batch(source, tmp_path / out, processes=1)
    assert source.read_bytes() == before
    assert sorted(p.name for p in tmp_path.iterdir()) == ["folder.csv", "in.csv"]


def test_a_missing_folder_for_the_results_is_made(tmp_path: Path) -> None:
    source = write_csv(tmp_path / "in.csv", [("a", essay(1))])
    done = rk.batch(source, tmp_path / "new" / "folder" / "out.csv", processes=1)
    assert len(rows_of(done.results)) == 1


def test_results_behind_a_link_stay_where_the_link_points(tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    link = tmp_path / "out.csv"
    link.symlink_to(tmp_path / "there" / "real.csv")
    rk.batch(write_csv(tmp_path / "in.csv", [("a", essay(1))]), link, processes=1)
    assert link.is_symlink()
    assert len(rows_of(tmp_path / "there" / "real.csv")) == 1
