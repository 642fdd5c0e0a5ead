"""What to be careful about with one score sheet."""

from __future__ import annotations

from rubric_kit.measures.measured import Measures
from rubric_kit.scoring.rubric import Rubric

SHORT = 100  # words: the sample that most readability formulas were made for
ENGLISH = 0.6  # share of words in wordfreq's short list or the speller's; in English prose it is above 0.8

ALWAYS = (
    "The levels are a proposal; yours are final. No program can judge whether an idea is true, fresh or moving.",
    "Readability formulas describe the text. They do not measure a child's ability or the worth of an essay.",
    "Scores are no diagnosis. If you worry about a learning difficulty, ask a qualified evaluator.",
)


def cautions(measured: Measures, rubric: Rubric, grade: int, *, assumed: bool) -> tuple[str, ...]:
    """Cautions about this essay first, then those that always hold."""
    own = []
    words = len(measured.essay.words)
    if assumed:
        own.append(f"No grade was given; the levels are those expected at grade {grade}.")
    if words < SHORT:
        own.append(f"With {words} words this is a small sample; every number here is only a hint.")
    if _share_unknown(measured) > 1 - ENGLISH:
        own.append("Many words are not known as English; if the text is in another language, nothing here holds.")
    return (*own, *measured.structure.notes[:1], *ALWAYS) if _form_is_off(measured, rubric) else (*own, *ALWAYS)


def _share_unknown(measured: Measures) -> float:
    return len(measured.mechanics.spelling) / max(1, len(measured.essay.words))


def _form_is_off(measured: Measures, rubric: Rubric) -> bool:
    fewest, most = rubric.paragraphs
    return not fewest <= len(measured.essay.paragraphs) <= most
