"""Texts too long for an essay of any of the forms: their parts are not looked for, and that is said."""

from __future__ import annotations

from rubric_kit.measures.found import Found
from rubric_kit.measures.structure.parts import ParagraphPart, Structure
from rubric_kit.reading import Essay

# Ten times the longest of the labelled essays (38 sentences, 530 words) and more. Relations compare every sentence with
# every paragraph, so that without a limit a book would take hours; tests/measures/test_structure.py holds the limit.
MOST_SENTENCES = 400
MOST_WORDS = 6000


def too_long(essay: Essay) -> bool:
    """Whether a text is longer than any essay of these forms."""
    return len(essay.sentences) > MOST_SENTENCES or len(essay.words) > MOST_WORDS


def whole(essay: Essay, transitions: tuple[Found, ...]) -> Structure:
    """The structure of a text whose parts are not looked for: every paragraph "other", and a note."""
    parts = tuple(
        ParagraphPart(
            number=number,
            start=paragraph.start,
            end=paragraph.end,
            role="other",
            topic_sentence=None,
            answers=(),
            evidence=0,
            explanation=0,
            sentences=len(paragraph.sentences),
            specifics=0,
            near_thesis=0.0,
        )
        for number, paragraph in enumerate(essay.paragraphs, start=1)
    )
    note = (
        f"With {len(essay.sentences):,} sentences and {len(essay.words):,} words this is longer than an essay of any "
        f"form (at most {MOST_SENTENCES:,} and {MOST_WORDS:,}); its parts were not looked for."
    )
    return Structure(parts, None, (), None, (), (), (), transitions, None, None, (), (note,))
