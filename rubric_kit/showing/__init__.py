"""What a person sees of a score: the terminal, a web page, a PDF, a notebook."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rubric_kit.scoring.sheet import ScoreSheet


@dataclass(frozen=True, slots=True, repr=False)
class Shown:
    """A piece of a page that a notebook draws by itself."""

    html: str

    def _repr_html_(self) -> str:
        return self.html


def show(sheet: ScoreSheet) -> Shown:
    """The whole score sheet with the essay marked, for a notebook: ``show(sheet)`` as the last line of a cell."""
    from rubric_kit.showing.html import sheet_html

    return Shown(sheet_html(sheet))
