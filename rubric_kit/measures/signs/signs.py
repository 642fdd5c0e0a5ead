"""All signs of one essay, family by family."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from rubric_kit.measures.catalogue import Measure, Result, run
from rubric_kit.measures.parse import parse
from rubric_kit.measures.signs.everyday import EVERYDAY, everyday_counts
from rubric_kit.measures.signs.phrasing import PHRASING, phrasing_counts
from rubric_kit.measures.signs.slips import SLIPS, slip_counts
from rubric_kit.measures.signs.word_range import WORD_RANGE, range_counts

if TYPE_CHECKING:
    from rubric_kit.measures.measured import Measures

SIGNS: Mapping[str, Mapping[str, Measure[Any]]] = {
    "slips": SLIPS,
    "phrasing": PHRASING,
    "word range": WORD_RANGE,
    "everyday words": EVERYDAY,
}


def signs(measured: Measures) -> dict[str, Result]:
    """Work out every sign of a measured essay; a sign that cannot be said is a result with its reason."""
    parsed = parse(measured.essay)
    bases = {
        "slips": slip_counts(measured),
        "phrasing": phrasing_counts(parsed),
        "word range": range_counts(measured, parsed),
        "everyday words": everyday_counts(measured.essay),
    }
    return {name: run(row, bases[family]) for family, table in SIGNS.items() for name, row in table.items()}
