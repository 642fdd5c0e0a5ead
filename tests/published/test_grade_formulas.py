"""Fog, SMOG, Coleman-Liau, ARI, Linsear Write, FORCAST, LIX and RIX against published figures."""

import pytest

from rubric_kit.measures.counts import Counts
from rubric_kit.measures.readability import (
    automated_readability,
    coleman_liau,
    flesch_kincaid_grade,
    flesch_reading_ease,
    forcast,
    gunning_fog,
    linsear_write,
    lix,
    rix,
    smog,
    smog_quick,
)


def test_fog_of_rock_a_bye_baby_is_3_1_when_hyphens_split_words():
    # odlt.org, "Gunning Fog Index"; 31 words and no complex one, counted by hand
    assert gunning_fog(Counts(words=31, sentences=4)) == pytest.approx(3.1, abs=0.05)


def test_fog_of_the_gettysburg_address_is_13_4():
    # vergil66 2007; that it has 17 complex words follows from the published index
    assert gunning_fog(Counts(words=272, sentences=10, complex_words=17)) == pytest.approx(13.4, abs=0.05)


@pytest.mark.parametrize(("polysyllables", "grade"), [(4, 14.554593), (0, 3.1291)])
def test_smog_of_one_sentence(polysyllables, grade):
    # test file of a JavaScript SMOG library
    assert smog(Counts(sentences=1, words=13, polysyllables=polysyllables)) == pytest.approx(grade, abs=1e-6)


@pytest.mark.parametrize(("polysyllables", "grade"), [(4, 5), (9, 6), (16, 7), (25, 8), (36, 9), (49, 10), (64, 11)])
def test_quick_smog_of_30_sentences(polysyllables, grade):
    # strainindex.wordpress.com, April 2010
    assert smog_quick(Counts(sentences=30, words=400, polysyllables=polysyllables)) == pytest.approx(grade)


@pytest.mark.parametrize(
    ("per_sentence", "grade"),
    [(1, 8.477), (2, 10.74), (2.6, 11.83), (3, 12.48), (4, 13.95), (5, 15.24), (5.3, 15.6), (6, 16.41), (7, 17.49)],
)
def test_quick_smog_by_polysyllables_to_a_sentence(per_sentence, grade):
    # strainindex.wordpress.com, June 2011 (the first is printed cut off, 8.47)
    counts = Counts(sentences=10, words=200, polysyllables=round(per_sentence * 10))
    assert smog_quick(counts) == pytest.approx(grade, abs=0.011)


# McLaughlin's conversion table (copies: Hunter College CUNY; SlideShare, "SMOG Reading Analysis"): last count, grade
SMOG_TABLE = [(6, 5), (12, 6), (20, 7), (30, 8), (42, 9), (56, 10), (72, 11), (90, 12), (110, 13), (132, 14)]
SMOG_TABLE += [(156, 15), (182, 16), (210, 17), (240, 18)]


def test_quick_smog_rounds_to_the_published_table_at_every_count():
    for count in range(3, 241):
        grade = next(grade for last, grade in SMOG_TABLE if count <= last)
        assert round(smog_quick(Counts(sentences=30, words=500, polysyllables=count))) == grade, count


def test_smog_of_fewer_than_30_sentences_is_that_of_30_with_the_average_added():
    # Hunter College CUNY: add the average per sentence for each sentence short of 30
    ten = Counts(sentences=10, words=150, polysyllables=12)
    thirty = Counts(sentences=30, words=450, polysyllables=12 + 20 * 12 // 10)
    assert smog(ten) == pytest.approx(smog(thirty))


@pytest.mark.parametrize(
    ("words", "sentences", "letters", "grade", "tolerance"),
    [
        (119, 5, 639, 14.5, 0.05),  # the abstract of Coleman & Liau 1975, encyclopedia article
        (14, 4, 65, 3, 0.5),  # a programming course, example A: "Grade 3"
        (56, 4, 214, 5, 0.5),  # the same course, example B: "Grade 5"
    ],
)
def test_coleman_liau_from_published_counts(words, sentences, letters, grade, tolerance):
    counts = Counts(words=words, sentences=sentences, characters=letters)
    assert coleman_liau(counts) == pytest.approx(grade, abs=tolerance)


def test_coleman_liau_in_one_step_is_its_two_published_steps():
    # cloze = 141.8401 - 0.214590 L + 1.079812 S; grade = -27.4004 cloze/100 + 23.06395 (quanteda documentation)
    cloze = 141.8401 - 0.214590 * (63900 / 119) + 1.079812 * (500 / 119)
    two_steps = -27.4004 * cloze / 100 + 23.06395
    assert coleman_liau(Counts(words=119, sentences=5, characters=639)) == pytest.approx(two_steps, abs=0.01)


def test_automated_readability_of_the_gettysburg_address_is_12_1():
    # vergil66 2007: 1149 characters, 272 words; everything2: ten sentences
    counts = Counts(words=272, sentences=10, characters=1149)
    assert automated_readability(counts) == pytest.approx(12.1, abs=0.05)


@pytest.mark.parametrize(
    ("hard", "sentences", "grade"),
    [
        (10, 5, 12),  # 90 easy + 3 * 10 hard = 120 points, 24 a sentence, halved
        (0, 5, 9),  # 20 a sentence: subtract 2, then halve
        (0, 10, 4),  # 10 a sentence: subtract 2, then halve
    ],
)
def test_linsear_write_of_a_hundred_words_by_its_rule(hard, sentences, grade):
    # encyclopedia article, old revisions 511518495 and 819368348 (rule; the examples follow from it)
    assert linsear_write(Counts(words=100, hard_words=hard, sentences=sentences)) == pytest.approx(grade)


ARMY_PASSAGE = Counts(words=150, sentences=7, syllables=291, monosyllables=79)  # counted by hand in DuBay 2004, p. 49


def test_forcast_of_the_army_passage_is_12_1():
    # DuBay 2004, The Principles of Readability, p. 49, passage 15
    assert forcast(ARMY_PASSAGE) == pytest.approx(12.1, abs=0.05)


def test_the_other_form_of_forcast_would_miss_the_published_12_1():
    assert 20.43 - 0.11 * ARMY_PASSAGE.monosyllables != pytest.approx(12.1, abs=0.05)


def test_flesch_of_the_army_passage_does_not_reproduce_the_printed_college_level():
    # DuBay prints "Flesch 13-16", a score of 30 to 50; the counts give 21.0, and grade 15.7
    assert flesch_reading_ease(ARMY_PASSAGE) == pytest.approx(21.0, abs=0.05)
    assert flesch_kincaid_grade(ARMY_PASSAGE) == pytest.approx(15.7, abs=0.05)


def test_lix_of_the_gettysburg_address_is_40_8():
    # vergil66 2007; 37 long words of 272 follow from the published value
    assert lix(Counts(words=272, sentences=10, long_words=37)) == pytest.approx(40.8, abs=0.05)


def test_rix_is_long_words_to_a_sentence():
    # Anderson 1983
    assert rix(Counts(words=272, sentences=10, long_words=37)) == pytest.approx(3.7)
