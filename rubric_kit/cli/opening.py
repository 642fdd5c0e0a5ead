"""The family's records, opened for one command."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from rubric_kit.cli.errors import errors_in_words

if TYPE_CHECKING:
    from rubric_kit.records.family import Family


@contextmanager
def opened(folder: Path | None) -> Iterator[Family]:
    """The records in a folder, else in the usual one; what goes wrong is told in words."""
    from rubric_kit.records import open_family

    with errors_in_words(), open_family(folder) as records:
        yield records
