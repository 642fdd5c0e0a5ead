"""How JupyterLab is set up for the notebooks, in a folder of its own: a person's other notebooks stay as they are."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from rubric_kit.errors import RubricKitError

ADDRESS = "127.0.0.1"
# By JupyterLab's own names: nothing is fetched or sent, and only this machine can reach it.
SERVER = {
    "Application": {"log_level": "ERROR"},
    "KernelManager": {"transport_encryption": "auto"},
    "LabApp": {
        "news_url": None,
        "check_for_updates_class": "jupyterlab.NeverCheckForUpdate",
        "extension_manager": "readonly",
    },
    "ServerApp": {
        "ip": ADDRESS,
        "port_retries": 0,
        "answer_yes": True,  # Ctrl-C ends it without a question
        "allow_root": True,
        "terminals_enabled": False,
    },
}
PAGE = {
    "apputils-extension/themes": {"overrides": {"content-font-size1": "16px"}},  # to be read at arm's length
    "apputils-extension/notification": {"fetchNews": "false", "checkForUpdates": False},
    "notebook-extension/tracker": {"windowingMode": "none"},
}
# The page at the start: the notebook alone, the side bars folded. JupyterLab names the file so.
WORKSPACE = "lab/workspaces/default-37a8.jupyterlab-workspace"
FOLDED = {"collapsed": True, "visible": True}
START = {"data": {"layout-restorer:data": {"left": FOLDED, "right": FOLDED}}, "metadata": {"id": "default"}}
# JupyterLab's keys for cells ("x" cuts one) also act while a button or a list in a cell's output has the focus; not in
# our desks and forms (templates/desk.css, notebook.css).
OF_CELLS = ".jp-Notebook.jp-mod-commandMode"
FOCUSED, NOT_IN_OURS = " :focus", ":not(.rkd *):not(.rkn *)"  # a comma would be an error, and no key would work


def write_settings(folder: Path, schemas: Path) -> None:
    """Those of the server anew each time; those of the page only where there are none, for a person may change them.

    schemas  JupyterLab's own folder of that name, which says what its keys do

    Raises RubricKitError where they cannot be written.
    """
    pages = PAGE | {"shortcuts-extension/shortcuts": {"shortcuts": list(shortcuts(schemas))}}
    wanted = {folder / "lab/user-settings/@jupyterlab" / f"{name}.jupyterlab-settings": pages[name] for name in pages}
    wanted[folder / WORKSPACE] = START
    wanted = {folder / "jupyter_lab_config.json": SERVER} | {p: v for p, v in wanted.items() if not p.exists()}
    try:
        for path, value in wanted.items():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(json.dumps(value, indent=1), "utf-8")
    except OSError as error:
        raise RubricKitError(f"{folder}: settings cannot be written there ({error.strerror}).") from error


def shortcuts(schemas: Path) -> Iterator[dict[str, Any]]:
    """JupyterLab's keys for cells: each one switched off, and on again outside our desks."""
    for path in sorted(schemas.glob("@jupyterlab/*/*.json")):
        for key in json.loads(path.read_text("utf-8")).get("jupyter.lab.shortcuts", ()):
            where = key.get("selector", "")
            if where.startswith(OF_CELLS) and where.endswith(FOCUSED) and not key.get("disabled"):
                yield key | {"disabled": True}
                yield key | {"selector": where + NOT_IN_OURS}
