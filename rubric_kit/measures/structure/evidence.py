"""What kind of evidence a sentence gives."""

from __future__ import annotations

from collections.abc import Mapping

KINDS = {
    "quotation": "quotes the very words",
    "citation": "names the place in the book or source",
    "number": "gives a number or an amount",
    "example": "gives an example",
    "paraphrase": "tells something definite that happened or is so",
}


def evidence_kind(features: Mapping[str, float]) -> str:
    """The first of KINDS that fits: a quotation with a page is a quotation, an example with a number a number."""
    if features["quotation"] > 0:
        return "quotation"
    for kind in ("citation", "number", "example"):
        if features[kind]:
            return kind
    return "paraphrase"
