"""No text makes a regular expression of the package take the square of its length in time."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

# Patterns with a word in them that only a run knows: letters between word boundaries (front), or escaped.
MADE_OF_A_WORD = {"reading/front.py", "records/doubts.py", "scoring/rubric_file.py", "showing/portfolio/names.py"}
FEWEST = 200  # patterns there were when this was written


@pytest.mark.slow
def test_every_pattern_takes_time_in_proportion_to_the_text() -> None:
    script = Path(__file__).with_name("time_patterns.py")
    run = subprocess.run([sys.executable, str(script)], capture_output=True, text=True, check=True, timeout=1200)
    told = json.loads(run.stdout)
    assert told["slow"] == {}
    assert told["patterns"] >= FEWEST
    assert {place.partition(":")[0] for place in told["unseen"]} <= MADE_OF_A_WORD
