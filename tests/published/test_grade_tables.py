"""Values read as school grades, by the published tables."""

import pytest

from rubric_kit.measures.school_grade import school_grade


@pytest.mark.parametrize(
    ("score", "low", "high"),
    [
        (116, 5, 5),
        (95, 5, 5),
        (90, 5, 5),
        (85, 6, 6),
        (75, 7, 7),
        (65, 8, 9),
        (60, 8, 9),
        (59.9, 10, 12),
        (55, 10, 12),
        (40, 13, 16),
        (30, 13, 16),
        (20, 17, 17),
        (-146.77, 17, 17),
        (-515.1, 17, 17),
    ],
)
def test_reading_ease(score, low, high):
    # "How to improve your writing readability" (levels); the two scores far below 0 are Wikisum's whale and Swann
    reading = school_grade("flesch_reading_ease", score)
    assert reading is not None
    assert (reading.low, reading.high) == (low, high)


@pytest.mark.parametrize(
    ("score", "grade"),
    [(1, 0), (1.2, 1), (2, 1), (5, 4), (6.5, 6), (8, 7), (10.1, 10), (10.6, 10), (12.066, 12), (13, 12)],
)
def test_automated_readability_is_rounded_up_and_then_looked_up(score, grade):
    # encyclopedia article: 10.1 and 10.6 are both 11, and 11 is tenth grade
    reading = school_grade("automated_readability", score)
    assert reading is not None
    assert reading.low == reading.high == grade


@pytest.mark.parametrize(
    ("score", "low", "high"),
    [
        (4.2, 4, 4),
        (4.9, 4, 4),
        (5.0, 5, 6),
        (5.9, 5, 6),
        (6.5, 7, 8),
        (7.5, 9, 10),
        (8.5, 11, 12),
        (9.5, 13, 15),
        (10, 16, 17),
        (12, 16, 17),
    ],
)
def test_dale_chall_corrected_grades(score, low, high):
    # DuBay 2004, p. 24, table 5
    reading = school_grade("dale_chall", score)
    assert reading is not None
    assert (reading.low, reading.high) == (low, high)


@pytest.mark.parametrize(
    ("name", "value", "grade"),
    [("lix", 40.8, 9), ("lix", 30, 6), ("lix", 9, 1), ("rix", 3.7, 9), ("rix", 0.1, 1), ("rix", 2.0, 6)],
)
def test_lix_and_rix_by_anderson_s_table(name, value, grade):
    # Anderson 1983, from memory; another table calls Gettysburg's 40.8 "school year 6", and the two can't be mixed
    reading = school_grade(name, value)
    assert reading is not None
    assert reading.low == reading.high == grade


def test_the_new_dale_chall_cloze_score_is_read_as_no_grade():
    assert school_grade("new_dale_chall", 47.6) is None


@pytest.mark.parametrize("name", ["flesch_kincaid_grade", "gunning_fog", "smog", "coleman_liau", "forcast", "spache"])
def test_a_grade_is_read_as_itself(name):
    reading = school_grade(name, 6.2)
    assert reading is not None
    assert (reading.low, reading.high, reading.words) == (6.2, 6.2, "grade 6")
