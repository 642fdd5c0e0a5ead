"""Two thousand damaged files: each is an essay (a rubric) or an error told in a line, in bounded time and memory."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

OF_EACH_KIND = 400
SEED = 7
MOST_MEMORY = 800  # MB at the peak of a process; measured: 95 for essays, 260 with the parser loaded


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["docx", "odt", "pdf", "rtf", "toml"])
def test_a_damaged_file_is_read_or_told_in_bounded_time_and_memory(kind: str) -> None:
    script = Path(__file__).with_name("mutate_files.py")
    command = [sys.executable, str(script), kind, str(OF_EACH_KIND), str(SEED)]
    run = subprocess.run(command, capture_output=True, text=True, check=True, timeout=1200)
    told = json.loads(run.stdout)
    assert told["wrong"] == {}
    assert told["essays"] + told["told"] == OF_EACH_KIND
    assert told["essays"] >= OF_EACH_KIND // 100  # else too much is damaged for anything to be learned
    assert told["peak_mb"] < MOST_MEMORY
    assert run.stderr == ""
