"""The vectors of words are those of the pipeline as it is loaded, to the last bit."""

from __future__ import annotations

import numpy as np
import pytest
import spacy
from spacy.language import Language

from rubric_kit.measures.embedding import embed_each_word_once, first_of_each, multipliers
from rubric_kit.measures.pipeline import NOT_USED, installed, pipeline

TEXTS = [
    "",
    " ",
    "Hi",
    "a a a a",
    "The dog ran. The dogs ran; the Dog, running, RAN!\n\nIt ran 3 times - and I ran.",
    "🦉 é",
]


@pytest.mark.parametrize("together", [1, 2, len(TEXTS)])
def test_vectors_are_the_same_in_batches_of_any_size(untouched: Language, together: int) -> None:
    for start in range(0, len(TEXTS), together):
        texts = TEXTS[start : start + together]
        for ours, theirs in zip(pipeline().pipe(texts), untouched.pipe(texts), strict=True):
            assert np.array_equal(ours.tensor, theirs.tensor)


def test_the_model_that_is_used_has_the_layers_that_are_asked_once() -> None:
    layers = pipeline().get_pipe("tok2vec").model.layers[0].layers  # type: ignore[attr-defined]  # no stub
    assert [layer.name for layer in layers] == ["extract_features", "list2ragged", "once", "ragged2list"]


def test_a_model_of_another_making_is_left_as_it_is() -> None:
    nlp = spacy.load(installed(), exclude=list(NOT_USED))
    embedding = nlp.get_pipe("tok2vec").model.layers[0]  # type: ignore[attr-defined]  # no stub
    embedding.layers[3].name = "another way to mix"
    before = list(embedding.walk())
    embed_each_word_once(nlp)
    assert list(embedding.walk()) == before


def test_every_row_is_told_which_different_row_it_is_like() -> None:
    rows = np.array([[3, 1], [2, 1], [3, 1], [1, 3], [2, 1]], dtype=np.uint64)
    first, which = first_of_each(rows)
    assert sorted(first.tolist()) == [0, 1, 3]
    assert np.array_equal(rows[first][which], rows)


def test_two_rows_with_one_number_are_still_told_apart() -> None:
    one, other = multipliers(2).tolist()
    rows = np.array([[other, 0], [0, one], [other, 0]], dtype=np.uint64)
    first, which = first_of_each(rows)
    assert np.array_equal(rows[first][which], rows)
