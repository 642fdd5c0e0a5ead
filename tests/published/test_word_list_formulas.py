"""Dale-Chall and Spache: the published equations, and the rules for familiar words."""

import pytest

from rubric_kit.measures.counts import Counts
from rubric_kit.measures.familiar import dale_chall_words, is_familiar, spache_words
from rubric_kit.measures.readability import dale_chall, new_dale_chall, spache, spache_1953


@pytest.mark.parametrize(
    ("unfamiliar", "words", "sentences", "score"),
    [
        (4, 100, 10, 4.7641),  # with the constant, below 5 percent too: DuBay 2004, p. 24
        (10, 100, 5, 6.2075),
        (0, 100, 10, 4.1325),
    ],
)
def test_dale_chall_1948_always_adds_its_constant(unfamiliar, words, sentences, score):
    # 0.1579 percent + 0.0496 words a sentence + 3.6365 (equation from DuBay 2004; values from the equation)
    assert dale_chall(Counts(words=words, sentences=sentences, unfamiliar=unfamiliar)) == pytest.approx(score)


def test_new_dale_chall_gives_the_cloze_score_of_1995():
    # 64 - 0.95 percent - 0.69 words a sentence (equation from the documentation of quanteda; value from the equation)
    assert new_dale_chall(Counts(words=100, sentences=10, unfamiliar=10)) == pytest.approx(47.6)


def test_spache_revised_and_original():
    # equations from the encyclopedia article; 8 words a sentence and 10 percent unfamiliar, values from the equations
    counts = Counts(words=800, sentences=100, spache_unfamiliar=80)
    assert spache(counts) == pytest.approx(2.447, abs=0.0005)
    assert spache_1953(counts) == pytest.approx(2.827, abs=0.0005)


def test_the_lists_are_as_long_as_published():
    assert 2900 <= len(dale_chall_words()) <= 3000  # "about 3,000 words" (DuBay 2004)
    assert 1000 <= len(spache_words()) <= 1100  # about 1,040 (Spache 1974, from memory)


@pytest.mark.parametrize(
    "word",
    [
        "cat",
        "cats",
        "cat's",
        "boxes",
        "ladies",
        "walked",
        "hopped",
        "dog's",
        "dogs'",
        "hoped",
        "carried",
        "hopping",
        "baking",
        "bigger",
        "nicest",
        "happier",
        "quickly",
        "happily",
        "good-looking",
        "old-fashioned",
    ],
)
def test_list_words_stay_familiar_under_regular_endings(word):
    assert is_familiar(word, dale_chall_words())


@pytest.mark.parametrize("word", ["platypus", "hybrid", "consecrate", "well-intentioned", "proposition", ""])
def test_other_words_are_unfamiliar(word):
    assert not is_familiar(word, dale_chall_words())
