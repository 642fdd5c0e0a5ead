"""Parts of speech and lemmas are those of spaCy's own attribute ruler and lemmatizer."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from spacy.language import Language

from rubric_kit.measures import attributes as module
from rubric_kit.measures.attributes import LEMMATIZER, RULER, Attributes
from rubric_kit.measures.pipeline import pipeline

TUNE = Path(__file__).parents[1] / "labelled" / "tune"
WHAT: list[int | str] = ["ORTH", "TAG", "DEP", "HEAD", "POS", "MORPH", "LEMMA", "SENT_START"]
SAMPLES = [
    "",
    " ",
    "\n\n  a",
    "Let's go, and let us not say there's nothing. There were dogs; they're ours!",
    "I ain't gonna go, y'all gotta c'mon. It ain't. Let's",
    "LET'S GO. AIN'T I HIS? But me, her and hers did have had it.",
    "there is",
]


def same(nlp: Language, attributes: Attributes, texts: list[str]) -> Iterator[bool]:
    ours = pipeline().pipe(texts, disable=[RULER, LEMMATIZER])
    for expected, doc in zip(nlp.pipe(texts), ours, strict=True):
        attributes.fill_in(doc)
        yield np.array_equal(doc.to_array(WHAT), expected.to_array(WHAT))


def test_rules_of_one_token_and_of_several_give_what_spacy_gives(untouched: Language) -> None:
    assert all(same(untouched, Attributes(pipeline()), SAMPLES * 2))


@pytest.mark.slow
def test_childrens_essays_get_what_spacy_gives(untouched: Language) -> None:
    texts = [tomllib.loads(path.read_text("utf-8"))["text"] for path in sorted(TUNE.glob("*.toml"))]
    assert all(same(untouched, Attributes(pipeline()), texts))


def test_what_is_remembered_is_bounded(untouched: Language, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "REMEMBERED", 10)
    assert all(same(untouched, Attributes(pipeline()), SAMPLES * 3))
