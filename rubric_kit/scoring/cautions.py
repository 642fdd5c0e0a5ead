"""What to be careful about with one score sheet."""

from __future__ import annotations

from rubric_kit.measures.measured import Measures
from rubric_kit.measures.structure.length import too_long
from rubric_kit.scoring.rubric import Rubric

SHORT = 100  # words: the sample that most readability formulas were made for
FEWEST_WORDS = 25  # a third of the shortest labelled piece; below this no level is earned, though nothing is wrong

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
        length = "1 word" if words == 1 else f"{words} words"
        own.append(f"With {length} this is a small sample; every number here is only a hint.")
    if words < FEWEST_WORDS:
        own.append("So few words earn no level yet, though nothing may be wrong with them: every level is the first.")
    if too_long(measured.essay):
        own.append("The text is longer than any essay of these forms, so the parts of an essay were not looked for.")
    return (*own, *measured.structure.notes[:1], *ALWAYS) if _form_is_off(measured, rubric) else (*own, *ALWAYS)


def _form_is_off(measured: Measures, rubric: Rubric) -> bool:
    fewest, most = rubric.paragraphs
    return not fewest <= len(measured.essay.paragraphs) <= most
