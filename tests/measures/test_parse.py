"""The parse of an essay: in batches, and of a book in pieces."""

from __future__ import annotations

import pytest

from rubric_kit.measures.parse import parse, parse_many
from rubric_kit.reading import read_text

TEXT = """Why Dogs Help

My dog "Rex" helps me.  He wakes me up, and he can't wait! Then we run.

Cats sleep all day. They don't help at all; they only eat.

So I want a dog like Rex. Do you?
"""


def test_a_book_is_parsed_in_pieces_with_every_token_and_sentence_in_its_place(monkeypatch: pytest.MonkeyPatch) -> None:
    essay = read_text(TEXT)
    whole = parse(essay)
    monkeypatch.setattr("rubric_kit.measures.parse.BATCH", 60)
    pieced = parse(essay)
    assert pieced.doc.text == whole.doc.text
    assert pieced.tree.starts == whole.tree.starts
    assert [span.text for span in pieced.sentences] == [span.text for span in whole.sentences]


def test_essays_of_one_batch_keep_their_order_and_titles() -> None:
    essays = [read_text(TEXT), read_text("No title here. It is short."), read_text(TEXT.replace("Rex", "Bo"))]
    parses = list(parse_many(essays))
    assert [parsed.title.text for parsed in parses] == ["why dogs help", "", "why dogs help"]
    assert ["Bo" in parsed.doc.text for parsed in parses] == [False, False, True]
