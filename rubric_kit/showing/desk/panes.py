"""The two sides of the desk as HTML: the essay with its marks, and what stands behind a level."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rubric_kit.scoring.rubric import LEVEL_NAMES
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.html import anchor_prefix, filled
from rubric_kit.showing.marked import marked_essay
from rubric_kit.showing.view import CriterionView, Quote, View, Why, quote, view

QUOTED = 6  # quotations of one reason; the essay shows all


@dataclass(frozen=True, slots=True)
class Behind:
    """What stands behind a criterion's proposed level; quotations are those that are outlined in the essay."""

    criterion: CriterionView
    reasons: tuple[Why, ...]
    more: int
    lit: frozenset[str]


class Panes:
    """Both sides for one score sheet; nothing of the program's own opinion is in them while it is hidden."""

    def __init__(self, sheet: ScoreSheet) -> None:
        self.sheet = sheet
        self.view: View = view(sheet)
        self._prefix = anchor_prefix(sheet.measures.essay.text)
        unnamed = tuple(replace(p, role="") for p in self.view.paragraphs)
        self._plain = replace(self.view, essay=marked_essay(sheet.measures.essay, ()), key=(), paragraphs=unnamed)

    def essay(self, chosen: str | None, *, hidden: bool) -> str:
        """The essay, with the sentences outlined that stand behind the chosen criterion."""
        lit = self.behind(chosen).lit if chosen and not hidden else frozenset()
        shown = self._plain if hidden else self.view
        return filled("desk_essay.html.j2", view=shown, lit=lit, prefix=self._prefix, hidden=hidden)

    def why(self, key: str, *, hidden: bool) -> str:
        """What the criterion's levels mean and, unless hidden, the reasons for the proposed one."""
        descriptors = next(c.descriptors for c in self.sheet.rubric.criteria if c.key == key)
        levels = [(level, LEVEL_NAMES[level], descriptors[level]) for level in LEVEL_NAMES]
        behind = None if hidden else self.behind(key)
        return filled("desk_why.html.j2", behind=behind, levels=levels, prefix=self._prefix)

    def behind(self, key: str) -> Behind:
        """Reasons with their quotations; where no reason has one, the sentences that were looked at."""
        criterion = next(c for c in self.view.criteria if c.key == key)
        reasons = criterion.reasons
        if not any(why.quotes for why in reasons):
            looked = _places(self.sheet, key)
            reasons = (*reasons, Why("It was looked for here:", looked)) if looked else reasons
        every = [q for why in reasons for q in why.quotes]
        short = tuple(replace(why, quotes=why.quotes[:QUOTED]) for why in reasons)
        more = len(every) - sum(len(why.quotes) for why in short)
        return Behind(criterion, short, more, frozenset(q.anchor for q in every if q.anchor))


def _places(sheet: ScoreSheet, key: str) -> tuple[Quote, ...]:
    return tuple(quote(sheet.measures.essay, found) for found in sheet.criterion(key).evidence)
