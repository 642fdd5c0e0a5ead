"""Hunt, K. W. (1965). Grammatical Structures Written at Three Grade Levels, NCTE Research Report 3, pp. 20-21.

A fourth grader's theme, written as one sentence of 68 words, which Hunt divides into six T-units. (The passage and the
division from memory; the sentences agree with a public copy.)
"""

import pytest

from rubric_kit.measures.catalogue import run
from rubric_kit.measures.parse import parse
from rubric_kit.measures.syntax import SYNTAX, SyntaxCounts, syntax_counts
from rubric_kit.reading.layout import essay_from_text

AS_WRITTEN = (
    "I like the movie we saw about Moby Dick the white whale the captain said if you can kill the white whale Moby "
    "Dick I will give this gold to the one that can do it and it is worth sixteen dollars they tried and tried but "
    "while they were trying they killed a whale and used the oil for the lamps they almost caught the white whale"
)
AS_DIVIDED = (
    "I like the movie we saw about Moby Dick, the white whale. The captain said if you can kill the white whale, Moby "
    "Dick, I will give this gold to the one that can do it. And it is worth sixteen dollars. They tried and tried. But "
    "while they were trying they killed a whale and used the oil for the lamps. They almost caught the white whale."
)


def counts_of(text: str) -> SyntaxCounts:
    essay = essay_from_text(text, "Hunt 1965")
    return syntax_counts(essay, parse(essay))


def test_hunts_theme_has_68_words_in_six_t_units() -> None:
    counts = counts_of(AS_DIVIDED)
    assert counts.words == 68
    assert [unit.words for unit in counts.units] == [12, 24, 6, 4, 16, 6]
    assert run(SYNTAX["words_per_t_unit"], counts).value == pytest.approx(68 / 6)


def test_hunts_theme_as_the_child_wrote_it_has_the_same_words_and_clauses() -> None:
    written, divided = counts_of(AS_WRITTEN), counts_of(AS_DIVIDED)
    assert (written.words, written.clauses) == (divided.words, divided.clauses) == (68, 11)


@pytest.mark.xfail(
    reason="68 words with no mark at all: the parser ties two T-units to what stands before", strict=True
)
def test_hunts_theme_as_the_child_wrote_it_is_divided_alike() -> None:
    assert counts_of(AS_WRITTEN).t_units == 6
