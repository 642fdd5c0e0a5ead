"""rubric-kit open: how JupyterLab is set up, and what is said where it cannot start."""

from __future__ import annotations

import json
import socket
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

import rubric_kit as rk
from rubric_kit.cli import app, lab_settings, opening_notebooks
from rubric_kit.cli.lab_settings import shortcuts, write_settings


def run(*arguments: str) -> Result:
    return CliRunner().invoke(app, ["open", *arguments])


@pytest.fixture
def served(monkeypatch: pytest.MonkeyPatch) -> list[tuple[object, ...]]:
    """What JupyterLab would have been started with."""
    calls: list[tuple[object, ...]] = []
    monkeypatch.setattr(opening_notebooks, "_serve", lambda *given, browser: calls.append((*given, browser)))
    monkeypatch.setattr(opening_notebooks, "find_spec", lambda name: name)
    for name in ("RUBRIC_KIT_FAMILY", "RUBRIC_KIT_SERVED"):
        monkeypatch.setenv(name, "")
    return calls


def test_the_familys_folder_gets_the_notebooks_and_is_served(served: list[tuple[object, ...]], tmp_path: Path) -> None:
    rk.begin(tmp_path).close()
    result = run("--family", str(tmp_path), "--no-browser", "--port", "40123")
    assert result.exit_code == 0, result.output
    assert served == [(tmp_path.resolve(), "1_score_an_essay.ipynb", 40123, False)]
    assert (tmp_path / "notebooks" / "1_score_an_essay.ipynb").is_file()


def test_a_folder_without_records_is_told(served: list[tuple[object, ...]], tmp_path: Path) -> None:
    result = run("--family", str(tmp_path))
    assert result.exit_code == 1
    assert "there are no records there. Begin some" in result.output
    assert served == []


def test_a_missing_jupyterlab_is_told_with_the_command(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening_notebooks, "find_spec", lambda name: None)
    result = run("--demo")
    assert result.exit_code == 1
    assert "pip install 'rubric-kit[notebooks]'" in result.output


def test_a_port_that_is_taken_is_told(served: list[tuple[object, ...]], tmp_path: Path) -> None:
    rk.begin(tmp_path).close()
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        result = run("--family", str(tmp_path), "--port", str(taken.getsockname()[1]))
    assert result.exit_code == 1
    assert "is taken" in result.output


def test_settings_fetch_nothing_and_leave_what_a_person_changed(tmp_path: Path) -> None:
    schemas = tmp_path / "schemas"
    write_settings(tmp_path / "set", schemas)
    server = json.loads((tmp_path / "set" / "jupyter_lab_config.json").read_text())
    assert server["LabApp"]["news_url"] is None
    assert server["LabApp"]["extension_manager"] == "readonly"
    assert server["ServerApp"]["ip"] == "127.0.0.1"
    page = tmp_path / "set/lab/user-settings/@jupyterlab/apputils-extension/notification.jupyterlab-settings"
    assert json.loads(page.read_text()) == {"fetchNews": "false", "checkForUpdates": False}
    page.write_text("{}")
    write_settings(tmp_path / "set", schemas)
    assert page.read_text() == "{}"


def test_keys_for_cells_are_switched_off_in_our_desks_only(tmp_path: Path) -> None:
    schema = tmp_path / "@jupyterlab" / "notebook-extension" / "tracker.json"
    schema.parent.mkdir(parents=True)
    cells = {"command": "cut", "keys": ["X"], "selector": f"{lab_settings.OF_CELLS}:not(.x) :focus"}
    others = {"command": "save", "keys": ["Accel S"], "selector": "body"}
    schema.write_text(json.dumps({"jupyter.lab.shortcuts": [cells, others]}))
    off, on = shortcuts(tmp_path)
    assert off == cells | {"disabled": True}
    assert on["selector"] == cells["selector"] + ":not(.rkd *):not(.rkn *)"
    assert "," not in on["selector"]
