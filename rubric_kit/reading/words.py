"""Words by Flesch's rule: contractions, hyphenated words, numbers, abbreviations and & are one word each."""

from __future__ import annotations

import re

from rubric_kit.reading.essay import Word

LETTERS = r"[^\W_]+"
WORD = re.compile(rf"[$£€]?{LETTERS}(?:(?:['’-]|(?<=\d)[.,:](?=\d)){LETTERS})*[%¢°]?|&")


def find_words(text: str, start: int, end: int) -> tuple[Word, ...]:
    """The words of ``text[start:end]``, in order, with offsets into ``text``."""
    return tuple(Word(m.start(), m.end(), m.group()) for m in WORD.finditer(text, start, end))
