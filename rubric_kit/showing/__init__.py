"""What a person sees of a score: the terminal, a web page, a PDF, a notebook."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rubric_kit.scoring.revision import Revision
    from rubric_kit.scoring.sheet import ScoreSheet


@dataclass(frozen=True, slots=True, repr=False)
class Shown:
    """A piece of a page that a notebook draws by itself."""

    html: str

    def _repr_html_(self) -> str:
        return self.html


def show(what: ScoreSheet | Revision) -> Shown:
    """A score sheet with the essay marked, or two drafts side by side, for a notebook: the last line of a cell."""
    from rubric_kit.scoring.revision import Revision
    from rubric_kit.showing.html import revision_html, sheet_html

    return Shown(revision_html(what) if isinstance(what, Revision) else sheet_html(what))
