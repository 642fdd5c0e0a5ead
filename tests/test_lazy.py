"""Heavy libraries are imported where they are first used, so that starting stays fast."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = (
    "distributed", "jinja2", "matplotlib", "msgpack", "numpy", "pandas", "pyarrow", "pypdf", "rapidfuzz", "scipy",
    "spacy", "textstat",
)  # fmt: skip


@pytest.mark.parametrize(
    ("code", "allowed"),
    [
        ("import rubric_kit", set()),
        ("import rubric_kit.cli", set()),
        ("import rubric_kit as rk; rk.score, rk.score_many, rk.measure, rk.read, rk.batch", {"rapidfuzz"}),
        ("import rubric_kit as rk; rk.measure_unparsed(rk.read_text('Dogs are fun.'))", {"rapidfuzz", "msgpack"}),
    ],
)
def test_what_is_not_needed_is_not_imported(code: str, allowed: set[str]) -> None:
    show = f"{code}; import sys; print(*sorted(set({HEAVY}) & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", show], capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) <= allowed
