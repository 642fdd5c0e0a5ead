"""What is suggested for children's misspellings does not change unnoticed; see keep_suggestions.py."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from keep_suggestions import KEPT, suggestions_text


def test_suggestions_and_their_weights_are_those_that_were_kept() -> None:
    assert suggestions_text().splitlines() == KEPT.read_text("utf-8").splitlines()
