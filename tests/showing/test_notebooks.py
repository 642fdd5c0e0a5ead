"""Copies of the shipped notebooks in a family's folder: nothing that a person wrote is ever replaced."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import rubric_kit as rk
from rubric_kit.errors import RubricKitError
from rubric_kit.showing import notebooks
from rubric_kit.showing.notebooks import copy_notebooks, family_here, shipped_notebooks

ONE = "one.ipynb"


def notebook(source: str, outputs: tuple[str, ...] = ("old",)) -> dict[str, Any]:
    cell = {"cell_type": "code", "source": source, "outputs": list(outputs), "execution_count": 7, "metadata": {}}
    return {"cells": [cell], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}


@pytest.fixture
def ship(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Any:
    """Ship one notebook of some source, and copy it into the family's folder; gives back the copy."""
    shipped = tmp_path / "shipped" / ONE
    shipped.parent.mkdir()
    monkeypatch.setattr(notebooks, "shipped_notebooks", lambda: [shipped])

    def ship_and_copy(source: str) -> Path:
        shipped.write_text(json.dumps(notebook(source)))
        return copy_notebooks(tmp_path / "family")[0]

    return ship_and_copy


def source_of(copy: Path) -> str:
    return str(json.loads(copy.read_text())["cells"][0]["source"])


def test_a_copy_has_no_old_outputs(ship: Any) -> None:
    cell = json.loads(ship("first").read_text())["cells"][0]
    assert (cell["outputs"], cell["execution_count"]) == ([], None)


def test_a_copy_that_was_only_run_gives_way_to_a_newer_version(ship: Any) -> None:
    copy = ship("first")
    copy.write_text(json.dumps(notebook("first", ("much",))))
    assert source_of(ship("second")) == "second"
    assert ship("second") == copy


def test_a_copy_that_was_run_keeps_its_outputs_while_the_version_is_the_same(ship: Any) -> None:
    copy = ship("first")
    copy.write_text(json.dumps(notebook("first", ("much",))))
    ship("first")
    assert json.loads(copy.read_text())["cells"][0]["outputs"] == ["much"]


@pytest.mark.parametrize("content", [json.dumps(notebook("mine")), "damaged", '{"cells": 3}'])
def test_a_copy_that_a_person_changed_is_left_alone_beside_a_newer_one(ship: Any, content: str) -> None:
    mine = ship("first")
    mine.write_text(content)
    assert ship("first") == mine
    newer = ship("second")
    assert (newer.name, source_of(newer)) == ("one_2.ipynb", "second")
    newer.write_text(json.dumps(notebook("mine too")))
    assert ship("third").name == "one_3.ipynb"
    assert mine.read_text() == content


def test_a_notebook_of_the_same_name_that_was_there_before_is_left_alone(ship: Any, tmp_path: Path) -> None:
    there = tmp_path / "family" / "notebooks" / ONE
    there.parent.mkdir(parents=True)
    there.write_text(json.dumps(notebook("mine")))
    assert ship("first").name == "one_2.ipynb"
    assert source_of(there) == "mine"


def test_a_folder_that_cannot_be_written_is_told(ship: Any, tmp_path: Path) -> None:
    (tmp_path / "family").write_text("a file")
    with pytest.raises(RubricKitError, match="the notebooks cannot be copied there"):
        ship("first")


def test_every_shipped_notebook_hides_its_code_in_cells_of_at_most_ten_lines() -> None:
    shipped = shipped_notebooks()
    assert shipped[0].name == "1_score_an_essay.ipynb"
    for path in shipped:
        if path.name.startswith("4_"):  # shows its code on purpose
            continue
        for cell in json.loads(path.read_text("utf-8"))["cells"]:
            if cell["cell_type"] == "code":
                assert cell["metadata"]["jupyter"]["source_hidden"]
                assert len(cell["source"]) <= 10


def test_a_notebook_is_about_the_folder_that_the_variable_names(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("RUBRIC_KIT_FAMILY", str(tmp_path))
    assert family_here() is None
    rk.begin(tmp_path).close()
    found = family_here()
    assert found is not None
    assert found.folder == tmp_path
    found.close()
