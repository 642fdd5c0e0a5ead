"""What is remembered of words is worked out once, and does not grow without end."""

from __future__ import annotations

from rubric_kit.measures.remembered import Remembered


def test_each_word_is_worked_out_once() -> None:
    asked: list[str] = []

    def length(word: str) -> int:
        asked.append(word)
        return len(word)

    lengths = Remembered(length)
    assert [lengths["dog"], lengths["a"], lengths["dog"]] == [3, 1, 3]
    assert asked == ["dog", "a"]


def test_no_more_words_are_kept_than_asked_for() -> None:
    lengths = Remembered(len, most=10)
    assert [lengths["x" * n] for n in range(35)] == list(range(35))
    assert len(lengths) <= 10


def test_a_word_that_cannot_be_worked_out_is_not_kept() -> None:
    numbers = Remembered(int)
    for _ in range(2):
        try:
            numbers["one"]
        except ValueError:
            continue
        raise AssertionError
    assert not numbers
