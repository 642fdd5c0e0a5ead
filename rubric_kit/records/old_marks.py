"""Marks from before these records began: an outcome without its essay."""

from __future__ import annotations

from rubric_kit.records.nouns import Noun
from rubric_kit.records.rows import OldMark


class OldMarks(Noun[OldMark]):
    kind = OldMark

    def of(self, student_id: int) -> list[OldMark]:
        """A child's, first to last."""
        return self._database.rows(OldMark, "student_id = ? ORDER BY marked_on, id", [student_id])
