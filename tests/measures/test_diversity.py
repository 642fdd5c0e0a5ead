"""Lexical diversity against the lexicalrichness package (Shen 2022), on the same tokens."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric_kit.measures.diversity import hdd, mattr, mtld, type_token_ratio


def made_text(words: int, seed: int) -> list[str]:
    """Words with the long tail of real text: the k-th word k times as rare."""
    vocabulary = [f"w{k}" for k in range(1, 400)]
    return random.Random(seed).choices(vocabulary, [1 / k for k in range(1, 400)], k=words)


@pytest.mark.parametrize("words", [50, 75, 100, 430, 2000])
def test_diversity_equals_lexicalrichness(words: int) -> None:
    richness = pytest.importorskip("lexicalrichness", reason="the second opinion is not installed")
    for seed in range(5):
        tokens = made_text(words, seed)
        theirs = richness.LexicalRichness(tokens, preprocessor=None, tokenizer=None)
        assert type_token_ratio(tokens) == pytest.approx(theirs.ttr, abs=1e-6)
        assert mattr(tokens) == pytest.approx(theirs.mattr(window_size=50), abs=1e-6)
        assert mtld(tokens) == pytest.approx(theirs.mtld(threshold=0.72), abs=1e-6)
        assert hdd(tokens) == pytest.approx(theirs.hdd(draws=42), abs=1e-6)


def test_where_no_word_stands_twice_lexicalrichness_gives_the_length_and_we_give_no_mtld() -> None:
    richness = pytest.importorskip("lexicalrichness", reason="the second opinion is not installed")
    tokens = ["one", "two", "three"]
    assert richness.LexicalRichness(tokens, preprocessor=None, tokenizer=None).mtld() == 3
    with pytest.raises(ZeroDivisionError):
        mtld(tokens)


@given(st.lists(st.sampled_from("abcdefghij"), min_size=50, max_size=120))
def test_diversity_lies_within_its_bounds(tokens: list[str]) -> None:
    for value in (mattr(tokens), hdd(tokens), type_token_ratio(tokens)):
        assert 0 < value <= 1
    assert 0 < mtld(tokens) <= len(tokens) / 0.5
