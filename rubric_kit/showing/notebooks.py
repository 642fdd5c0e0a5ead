"""The shipped notebooks: where they are, their copies in a family's folder, and the records that they are about."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

from rubric_kit.errors import RecordsError, RubricKitError
from rubric_kit.records.demo import build_demo
from rubric_kit.records.family import FOLDER_VARIABLE, RECORDS, Family, open_family, usual_folder

FOLDER = "notebooks"
SERVED_VARIABLE = "RUBRIC_KIT_SERVED"  # set by rubric-kit open: the folder whose files its JupyterLab gives out
SHIPPED_BEFORE = ".shipped.json"  # in the copies' folder: the fingerprint of each notebook as it was last copied


def family_here() -> Family | None:
    """The records that a notebook is about: those that RUBRIC_KIT_FAMILY names, else the usual ones, else the invented
    family's, which are built for the occasion. None where the variable names a folder without records.
    """
    folder = usual_folder()
    if (folder / RECORDS).is_file():
        return open_family(folder)
    return None if os.environ.get(FOLDER_VARIABLE) else build_demo(Path(mkdtemp(prefix="pellwood-")))


def shipped_notebooks() -> list[Path]:
    """The notebooks of the installed package, or those beside it where the program runs from its own source.

    Raises RecordsError where they are in neither.
    """
    package = Path(str(files("rubric_kit")))
    for place in (package / FOLDER, package.parent / FOLDER):
        found = sorted(place.glob("*.ipynb"))
        if found:
            return found
    raise RecordsError(f"{package}: the notebooks are not there. Install rubric_kit again.")


def copy_notebooks(family_folder: Path) -> list[Path]:
    """Copies of all shipped notebooks in the folder ``notebooks`` there, ready to run: without old outputs.

    A copy that a person changed is left alone: a newer version gets another name beside it. One that was not changed,
    or only run, is replaced by a newer version.

    Raises RubricKitError where they cannot be written.
    """
    folder = family_folder / FOLDER
    try:
        folder.mkdir(parents=True, exist_ok=True)
        known = folder / SHIPPED_BEFORE
        before: dict[str, dict[str, str]] = json.loads(known.read_text("utf-8")) if known.exists() else {}
        now = {path.name: _copy(path, folder, before.get(path.name, {})) for path in shipped_notebooks()}
        known.write_text(json.dumps(before | now, indent=1), "utf-8")
    except (OSError, ValueError) as error:
        raise RubricKitError(f"{folder}: the notebooks cannot be copied there ({error}). Check the folder.") from error
    return [folder / row["copy"] for row in now.values()]


def _copy(shipped: Path, folder: Path, before: Mapping[str, str]) -> dict[str, str]:
    """Which file is the copy, and of which version."""
    notebook = json.loads(shipped.read_text("utf-8"))
    version = _fingerprint(notebook)
    copy = folder / before.get("copy", shipped.name)
    if copy.exists() and before.get("version") == version:
        return {"copy": copy.name, "version": version}
    if copy.exists() and _fingerprint_of(copy) not in (version, before.get("version")):
        copy = _free_name(folder, shipped)
    for cell in notebook["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"], cell["execution_count"] = [], None
    copy.write_text(json.dumps(notebook, indent=1, ensure_ascii=False) + "\n", "utf-8")
    return {"copy": copy.name, "version": version}


def _fingerprint(notebook: Mapping[str, Any]) -> str:
    """Of what a person writes in a notebook; running it changes nothing of that."""
    written = [(cell["cell_type"], "".join(cell["source"])) for cell in notebook["cells"]]
    return sha256(json.dumps(written).encode()).hexdigest()


def _fingerprint_of(copy: Path) -> str:
    try:
        return _fingerprint(json.loads(copy.read_text("utf-8")))
    except (OSError, ValueError, KeyError, TypeError):
        return ""  # damaged, and so not ours to replace


def _free_name(folder: Path, shipped: Path) -> Path:
    number = 2
    while (folder / f"{shipped.stem}_{number}.ipynb").exists():
        number += 1
    return folder / f"{shipped.stem}_{number}.ipynb"
