"""Sentences: what the child ended with . ? or ! or with the paragraph."""

from __future__ import annotations

import re

from rubric_kit.reading.essay import Sentence
from rubric_kit.reading.words import find_words

END = re.compile(r"(?<!\bMr)(?<!\bMrs)(?<!\bMs)(?<!\bDr)[.?!…]+[\"'”’)\]]*(?=\s+[\"'“‘(]?[A-Z0-9]|\s*\Z)")


def find_sentences(text: str, start: int, end: int) -> tuple[Sentence, ...]:
    """The sentences of the paragraph ``text[start:end]``, in order; none is without a word."""
    sentences = []
    stops = [m.end() for m in END.finditer(text[start:end])]
    here = start
    for stop in (*(start + s for s in stops), end):
        words = find_words(text, here, stop)
        if words:
            raw = text[here:stop]
            sentences.append(Sentence(here + len(raw) - len(raw.lstrip()), here + len(raw.rstrip()), words))
            here = stop
    return tuple(sentences)
