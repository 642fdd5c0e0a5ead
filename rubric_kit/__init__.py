"""Score children's essays on an open rubric, with the sentences behind every level.

    import rubric_kit as rk

    essay = rk.read("essay.docx")
    sheet = rk.score(essay, grade=8)

Names are loaded when first used, so that importing the package costs next to nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rubric_kit.batching.run import batch as batch
    from rubric_kit.errors import RubricKitError as RubricKitError
    from rubric_kit.measures.measured import measure as measure
    from rubric_kit.measures.unparsed import measure_unparsed as measure_unparsed
    from rubric_kit.reading import read as read
    from rubric_kit.reading import read_text as read_text
    from rubric_kit.records import begin as begin
    from rubric_kit.records import open_family as open_family
    from rubric_kit.scoring.agreement import agreement as agreement
    from rubric_kit.scoring.feedback import feedback as feedback
    from rubric_kit.scoring.readers import readers_view as readers_view
    from rubric_kit.scoring.revision import compare as compare
    from rubric_kit.scoring.rubric_file import load_file
    from rubric_kit.scoring.score import HandedIn as HandedIn
    from rubric_kit.scoring.score import score as score
    from rubric_kit.scoring.score import score_many as score_many
    from rubric_kit.showing import show as show
    from rubric_kit.showing.charts.year import charts as charts
    from rubric_kit.showing.desk import desk as desk
    from rubric_kit.showing.notebook import talk_page as talk_page
    from rubric_kit.showing.notebook import year_end_page as year_end_page
    from rubric_kit.showing.notebook import year_page as year_page
    from rubric_kit.showing.portfolio import portfolio as portfolio
    from rubric_kit.showing.portfolio import term_report as term_report

    load_rubric = load_file

_HOMES = {
    "HandedIn": ("rubric_kit.scoring.score", "HandedIn"),
    "RubricKitError": ("rubric_kit.errors", "RubricKitError"),
    "agreement": ("rubric_kit.scoring.agreement", "agreement"),
    "batch": ("rubric_kit.batching.run", "batch"),
    "begin": ("rubric_kit.records", "begin"),
    "charts": ("rubric_kit.showing.charts.year", "charts"),
    "compare": ("rubric_kit.scoring.revision", "compare"),
    "desk": ("rubric_kit.showing.desk", "desk"),
    "feedback": ("rubric_kit.scoring.feedback", "feedback"),
    "load_rubric": ("rubric_kit.scoring.rubric_file", "load_file"),
    "measure": ("rubric_kit.measures.measured", "measure"),
    "measure_unparsed": ("rubric_kit.measures.unparsed", "measure_unparsed"),
    "open_family": ("rubric_kit.records", "open_family"),
    "portfolio": ("rubric_kit.showing.portfolio", "portfolio"),
    "read": ("rubric_kit.reading", "read"),
    "read_text": ("rubric_kit.reading", "read_text"),
    "readers_view": ("rubric_kit.scoring.readers", "readers_view"),
    "score": ("rubric_kit.scoring.score", "score"),
    "score_many": ("rubric_kit.scoring.score", "score_many"),
    "show": ("rubric_kit.showing", "show"),
    "talk_page": ("rubric_kit.showing.notebook", "talk_page"),
    "year_end_page": ("rubric_kit.showing.notebook", "year_end_page"),
    "year_page": ("rubric_kit.showing.notebook", "year_page"),
    "term_report": ("rubric_kit.showing.portfolio", "term_report"),
}
__all__ = list(_HOMES)


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'rubric_kit' has no attribute {name!r}")
    module, attribute = _HOMES[name]
    return getattr(import_module(module), attribute)
