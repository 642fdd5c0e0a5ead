"""Notebooks are handed over as run, in cells short enough to read; "pytest --nbval notebooks" runs them anew."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))
MOST_LINES = 10


def code_cells(path: Path) -> list[dict[str, Any]]:
    return [cell for cell in json.loads(path.read_text("utf-8"))["cells"] if cell["cell_type"] == "code"]


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_cells_have_at_most_ten_lines(path: Path) -> None:
    assert max(len("".join(cell["source"]).splitlines()) for cell in code_cells(path)) <= MOST_LINES


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_every_cell_was_run_once_from_the_top_without_an_error(path: Path) -> None:
    cells = code_cells(path)
    assert [cell["execution_count"] for cell in cells] == list(range(1, len(cells) + 1))
    assert not [out for cell in cells for out in cell["outputs"] if out["output_type"] == "error"]
    assert any(cell["outputs"] for cell in cells)
