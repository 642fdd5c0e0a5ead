"""What several tests of measures share."""

from __future__ import annotations

import pytest
import spacy
from spacy.language import Language

from rubric_kit.measures.pipeline import NOT_USED, installed


@pytest.fixture(scope="session")
def untouched() -> Language:
    """The parser as spaCy loads it, without what we change in it."""
    return spacy.load(installed(), exclude=list(NOT_USED))
