"""Items that a published quiz on curriculum-based measures of writing scores itself ("Writing CBM Review").

Its carets: ^Tom^likes^to^play bsbal. (4); ^She^sat^with bill. (3); My Terrable Day. (2 spelled correctly); I red the
book. (4 words written; 4 spelled correctly and 3 sequences by the same rules).
"""

import pytest

from rubric_kit.measures.curriculum import CurriculumCounts, curriculum_counts
from rubric_kit.measures.found import Found
from rubric_kit.reading.layout import essay_from_text


def score(text: str, misspelled: str = "", slip: str = "") -> CurriculumCounts:
    def found(word: str) -> list[Found]:
        start = text.find(word)
        return [Found(word, start, start + len(word), "", "", 1)] if word else []

    return curriculum_counts(essay_from_text(text, "quiz"), found(misspelled), found(slip))


@pytest.mark.parametrize(
    ("text", "misspelled", "slip", "published"),
    [("Tom likes to play bsbal.", "bsbal", "", 4), ("She sat with bill.", "", "bill", 3)],
)
def test_correct_writing_sequences(text: str, misspelled: str, slip: str, published: int) -> None:
    assert score(text, misspelled, slip).correct_writing_sequences == published


def test_a_misspelled_word_is_written_but_not_spelled_correctly() -> None:
    counts = score("My Terrable Day.", "Terrable")
    assert (counts.words_written, counts.words_spelled_correctly) == (3, 2)


def test_a_wrong_real_word_is_spelled_correctly_yet_in_no_sequence() -> None:
    counts = score("I red the book.", slip="red")
    assert (counts.words_written, counts.words_spelled_correctly, counts.correct_writing_sequences) == (4, 4, 3)
