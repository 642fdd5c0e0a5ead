"""How a sentence stands to the rest of its essay: shares of meaning between 0 and 1."""

from __future__ import annotations

import pytest

from rubric_kit.measures.meaning import terms
from rubric_kit.measures.parse import parse
from rubric_kit.measures.structure.facts import Facts, facts_of
from rubric_kit.measures.structure.relations import alike, merged, relations
from rubric_kit.reading import Essay, read_text

TEXT = """The Bat and the Farmer

Bats help farmers and forests. My sister likes soup.

Bats eat the beetles that hurt farmers.

Forests grow from seeds that bats drop.
"""
Paragraphs = tuple[tuple[Facts, ...], ...]


@pytest.fixture(scope="module")
def essay() -> Essay:
    return read_text(TEXT)


@pytest.fixture(scope="module")
def paragraphs(essay: Essay) -> Paragraphs:
    return facts_of(essay, parse(essay))


@pytest.fixture(scope="module")
def title(essay: Essay) -> dict[str, float]:
    return terms(parse(essay).title)


def test_every_share_lies_between_0_and_1(paragraphs: Paragraphs, title: dict[str, float]) -> None:
    for row in relations(paragraphs, title).values():
        assert all(0 <= value <= 1.0001 for value in row.values()), row


def test_a_sentence_that_states_the_whole_point_touches_every_paragraph(
    paragraphs: Paragraphs, title: dict[str, float]
) -> None:
    related = relations(paragraphs, title)
    thesis, aside = (related[f.sentence.start] for f in paragraphs[0])
    for share in ("spread", "central", "leads", "title", "opposite"):
        assert thesis[share] > aside[share], share
    assert aside["spread"] == 0


def test_what_was_said_before_is_not_new(paragraphs: Paragraphs, title: dict[str, float]) -> None:
    related = relations(paragraphs, title)
    first, aside = (related[f.sentence.start]["new"] for f in paragraphs[0])
    assert (first, aside) == (1, 1)
    assert related[paragraphs[1][0].sentence.start]["new"] < 1


def test_likeness_is_the_same_both_ways_and_whole_with_itself(paragraphs: Paragraphs) -> None:
    one, other = paragraphs[0][0], paragraphs[1][0]
    assert alike(one, other) == pytest.approx(alike(other, one))
    assert alike(one, one) == pytest.approx(1)


def test_one_lone_sentence_has_no_relations() -> None:
    alone = read_text("Bats help farmers.")
    (row,) = relations(facts_of(alone, parse(alone)), {}).values()
    assert row["spread"] == row["central"] == row["paragraph"] == row["leads"] == row["opposite"] == 0


def test_sentences_are_merged_lemma_by_lemma(paragraphs: Paragraphs) -> None:
    assert set(merged(paragraphs[0])) == {"bat", "help", "farmer", "forest", "sister", "like", "soup"}
