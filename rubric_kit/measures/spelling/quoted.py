"""What stands in quotation marks: the words of a book or of a character, whose spelling is not the child's."""

from __future__ import annotations

import re
from bisect import bisect_right
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rubric_kit.reading import Essay

QUOTATION = re.compile(r'["“][^"“”]*["”]')  # closed ones only: a mark that was forgotten would quote the whole essay


class Quoted:
    """The quotations of an essay, each within its paragraph."""

    def __init__(self, essay: Essay) -> None:
        found = [match.span() for p in essay.paragraphs for match in QUOTATION.finditer(essay.text, p.start, p.end)]
        self._starts = [start for start, _ in found]
        self._ends = [end for _, end in found]

    def has(self, place: int) -> bool:
        """Does this character stand in a quotation?"""
        nearest = bisect_right(self._starts, place) - 1
        return nearest >= 0 and place < self._ends[nearest]
