"""What lies on the desk: a scored essay, from the records or only looked at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from rubric_kit.records.family import Family
from rubric_kit.records.pieces import Piece, piece, pieces
from rubric_kit.records.rereading import as_you_mark
from rubric_kit.records.work import program
from rubric_kit.scoring.sheet import ScoreSheet


@dataclass(frozen=True)
class Opened:
    """A scored essay.

    piece     what the records say of it; none for a file that is only looked at
    again     whether it is an old piece that is marked once more, unseen
    as_mark   the levels that the reader would likely give, where she wants to see them; else {}
    """

    sheet: ScoreSheet
    piece: Piece | None = None
    again: bool = False
    as_mark: Mapping[str, int] = field(default_factory=dict)

    @property
    def key(self) -> tuple[object, bool]:
        """What tells it from everything else that was on the desk."""
        return (self.piece.draft.id if self.piece else id(self.sheet)), self.again

    @property
    def own(self) -> Mapping[str, int]:
        """The reader's levels as they are kept; not told where the piece is marked again."""
        return {} if self.piece is None or self.again else self.piece.own

    @property
    def comment(self) -> str:
        return self.piece.mark.comment if self.piece and self.piece.mark and not self.again else ""

    @property
    def proposal_was_seen(self) -> bool:
        """A piece that was marked has shown its proposal, at the latest after the marking."""
        return self.piece is not None and self.piece.mark is not None


def open_draft(family: Family, draft_id: int, *, again: bool = False) -> Opened:
    """A draft of the records, scored anew. Raises RecordsError, RubricFileError, NotEnglishError."""
    found = piece(family, draft_id)
    sheet = family.sheets.score(found.draft)
    return Opened(sheet, found, again, {} if again else as_you_mark(family, found))


def keep_proposal(family: Family, opened: Opened) -> None:
    """Keep the proposal as it was shown, unless it is the one that is kept already."""
    if opened.piece is None:
        return
    kept = opened.piece.sheet
    levels = {c.key: c.level for c in opened.sheet.criteria}
    if kept is None or kept.program != program() or dict(opened.piece.proposed) != levels:
        family.sheets.keep(opened.piece.draft.id, opened.sheet)


def first_to_open(family: Family) -> Piece | None:
    """The piece that waits longest to be marked, of tasks whose last draft is not marked; else the newest one."""
    last = pieces(family, last_drafts=True)
    waiting = [p for p in last if not p.is_marked and not p.assignment.excused]
    return waiting[0] if waiting else last[-1] if last else None
