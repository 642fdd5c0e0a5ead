"""The phrase that McCarthy & Jarvis (2010, Behavior Research Methods 42(2)) use to explain MTLD, and sums by hand."""

import pytest

from rubric_kit.measures.diversity import hdd, mattr, mtld, type_token_ratio

PHRASE = ["of", "the", "people", "by", "the", "people", "for", "the", "people"]
SAT = ["the", "cat", "sat", "on", "the", "mat", "and", "the", "dog", "sat", "on", "the", "rug"]


def test_mtld_of_the_papers_phrase_is_9() -> None:
    """The ratio is .80 at the fifth word and .667 at the sixth, where the one factor is full; the rest adds none."""
    assert mtld(PHRASE) == pytest.approx(9.0)


def test_the_papers_partial_factor() -> None:
    """A leftover whose ratio is .887 adds (1 - .887) / .28 = .404 of a factor."""
    leftover = [f"w{i}" for i in range(47)] + [f"w{i}" for i in range(6)]  # 47 types in 53 words: .887
    assert len(leftover) / mtld(leftover) == pytest.approx(0.404, abs=0.0005)


def test_the_phrases_other_indices_by_hand() -> None:
    assert type_token_ratio(PHRASE) == pytest.approx(5 / 9)
    assert mattr(PHRASE, window=4) == pytest.approx(0.8333, abs=0.00005)
    assert mattr(PHRASE, window=5) == pytest.approx(0.72)
    assert hdd(PHRASE, sample=5) == pytest.approx(0.7143, abs=0.00005)


def test_a_second_sentence_by_hand() -> None:
    assert mattr(SAT, window=5) == pytest.approx(0.9111, abs=0.00005)
    assert mtld(SAT) == pytest.approx(13.0)
    assert hdd(SAT, sample=5) == pytest.approx(0.8214, abs=0.00005)
