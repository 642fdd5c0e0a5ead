"""Run the notebooks anew on the invented family and keep what they say, for "pytest --nbval notebooks" to compare.

    python tests/docs/run_notebooks.py [NOTEBOOK ...]

What a widget looks like is not kept: its name differs with each run, and its words stand beside it.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

FOLDER = Path(__file__).parents[2] / "notebooks"
WIDGET = "application/vnd.jupyter.widget-view+json"
LONGEST = 300  # seconds for a cell


def run(path: Path) -> None:
    notebook = nbformat.read(path, as_version=4)
    client = NotebookClient(notebook, timeout=LONGEST, store_widget_state=False, record_timing=False)
    client.execute(cwd=str(path.parent))
    for cell in notebook.cells:
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(WIDGET, None)
    nbformat.write(notebook, path)


if __name__ == "__main__":
    os.environ.pop("RUBRIC_KIT_FAMILY", None)
    for path in map(Path, sys.argv[1:]) if sys.argv[1:] else sorted(FOLDER.glob("*.ipynb")):
        run(path)
        print(path.name)
