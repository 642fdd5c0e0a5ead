"""Prompts from a parent's own question: nothing is added to it but the book and how to write."""

import pytest

from rubric_kit.records.prompts import instructions_for, prompt_from
from rubric_kit.records.rows import Book
from rubric_kit.scoring.rubric_file import FORMS

QUESTION = "Is Silver {all} bad? 100% “sure”?"
BOOK = Book(1, "Treasure {Island}", "R. L. Stevenson", "", None, None)


@pytest.mark.parametrize(
    ("book", "prompt"),
    [
        (None, QUESTION),
        (BOOK, f"About “Treasure {{Island}}” by R. L. Stevenson:\n\n{QUESTION}"),
        (Book(1, "Poems", "", "", None, None), f"About “Poems”:\n\n{QUESTION}"),
    ],
)
def test_the_question_stands_word_for_word_under_the_book(book, prompt):
    assert prompt_from(f" {QUESTION} ", book) == prompt


@pytest.mark.parametrize("form", FORMS)
def test_every_form_is_explained_to_the_child_without_the_terms_of_the_trade(form):
    told = instructions_for(form)
    assert told.startswith("Write")
    assert not [term for term in ("thesis", "topic sentence", "evidence", "conclusion", "{", "\n") if term in told]


def test_a_story_is_not_said_to_answer_a_question_where_none_may_have_been_asked():
    assert "question" not in instructions_for("narrative")


def test_a_form_without_a_rubric_is_a_key_error():
    with pytest.raises(KeyError):
        instructions_for("sonnet")
