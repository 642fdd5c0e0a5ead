"""A found item: a span of the child's text, what it is, and why it counts."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Found:
    """One claim about one span; ``essay.text[start:end] == text``.

    kind         what it is, in the family's own short words ("quotation", "their/there")
    why          one plain sentence for the parent
    paragraph    number of the paragraph it stands in, from 1
    suggestions  what to write instead, best first (mechanics only)
    sure         0 to 1: how sure the finder is
    """

    text: str
    start: int
    end: int
    kind: str
    why: str
    paragraph: int
    suggestions: tuple[str, ...] = ()
    sure: float = 1.0
