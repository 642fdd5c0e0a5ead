"""Spelling: misspelled words of an essay, each with what it may stand for."""

from rubric_kit.measures.spelling.check import spelling
from rubric_kit.measures.spelling.ranking import suggest

__all__ = ["spelling", "suggest"]
