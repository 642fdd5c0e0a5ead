"""What was found of an essay's structure, as plain data."""

from __future__ import annotations

from dataclasses import dataclass

from rubric_kit.measures.found import Found


@dataclass(frozen=True, slots=True)
class ParagraphPart:
    """One paragraph's work.

    role            introduction, body, conclusion or other
    topic_sentence  None where no sentence states the point, and in paragraphs that need none
    answers         the words of the thesis that the topic sentence takes up (empty where it takes up none)
    evidence, explanation  counts of such sentences
    specifics       sentences with a name, a number or a quotation
    near_thesis     share of the thesis's meaning that the paragraph takes up, 0 to 1
    """

    number: int
    start: int
    end: int
    role: str
    topic_sentence: Found | None
    answers: tuple[str, ...]
    evidence: int
    explanation: int
    sentences: int
    specifics: int
    near_thesis: float


@dataclass(frozen=True, slots=True)
class Structure:
    """Every part that was found; a missing part is None or an empty tuple, never a guess.

    forecast  the points that the thesis names ahead, as spans of the thesis
    notes     what is missing, implicit or in an unusual place, in plain sentences
    """

    paragraphs: tuple[ParagraphPart, ...]
    hook: Found | None
    bridge: tuple[Found, ...]
    thesis: Found | None
    forecast: tuple[Found, ...]
    evidence: tuple[Found, ...]
    explanation: tuple[Found, ...]
    transitions: tuple[Found, ...]
    restated_thesis: Found | None
    closing_thought: Found | None
    new_claims: tuple[Found, ...]
    notes: tuple[str, ...]

    def with_role(self, role: str) -> tuple[ParagraphPart, ...]:
        return tuple(p for p in self.paragraphs if p.role == role)
