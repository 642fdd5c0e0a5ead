"""Where a found item stands: paragraph numbers and whole sentences as claims."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

from rubric_kit.measures.found import Found

if TYPE_CHECKING:
    from rubric_kit.reading import Essay, Sentence


class Places:
    """Makes claims about spans of one essay, each with the number of its paragraph (from 1)."""

    def __init__(self, essay: Essay) -> None:
        self._text = essay.text
        self._starts = [paragraph.start for paragraph in essay.paragraphs]

    def found(
        self, start: int, end: int, kind: str, why: str, suggestions: tuple[str, ...] = (), sure: float = 1.0
    ) -> Found:
        number = bisect_right(self._starts, start)
        return Found(self._text[start:end], start, end, kind, why, number, suggestions, sure)

    def sentence(self, sentence: Sentence, kind: str, why: str, suggestions: tuple[str, ...] = ()) -> Found:
        return self.found(sentence.start, sentence.end, kind, why, suggestions)
