import pytest

from rubric_kit.measures.catalogue import run
from rubric_kit.measures.found import Found
from rubric_kit.measures.parse import parse
from rubric_kit.measures.vocabulary import VOCABULARY, VocabularyCounts, vocabulary_counts
from rubric_kit.reading.layout import essay_from_text


def counts_of(text: str, *misspelled: str) -> VocabularyCounts:
    essay = essay_from_text(text, "test")
    found = [Found(word, text.index(word), text.index(word) + len(word), "", "", 1) for word in misspelled]
    return vocabulary_counts(essay, parse(essay), found)


def texts(words: tuple[object, ...]) -> list[str]:
    return [word.text for word in words]  # type: ignore[attr-defined]


def test_rare_words_are_less_common_and_everyday_words_are_not() -> None:
    counts = counts_of("The stubborn hermit gobbled his porridge while the happy people ate bread.")
    assert {"stubborn", "hermit", "gobbled", "porridge"} <= set(texts(counts.less_common))
    assert not {"happy", "people", "ate", "bread"} & set(texts(counts.less_common))


def test_an_inflected_form_is_as_common_as_its_lemma() -> None:
    assert texts(counts_of("The smaller boys were walking and talking.").less_common) == []


def test_misspelled_words_are_not_taken_for_rare_ones() -> None:
    text = "We saw a butiful sunset and a huge castle."
    assert "butiful" in texts(counts_of(text).less_common)
    counts = counts_of(text, "butiful")
    assert "butiful" not in texts(counts.less_common)
    assert counts.judged_words == counts.content_words - 1


def test_long_words_are_counted_once_by_lemma_and_only_where_spelled_right() -> None:
    counts = counts_of("The strange elephants and another elephant wandered into a butiful garden.", "butiful")
    assert counts.long == {"strange", "elephant", "wander"}


def test_names_are_not_judged() -> None:
    assert texts(counts_of("Later Zebulon met Rumpelstiltskin in Timbuktu.").less_common) == []


def test_abstract_nouns_are_told_by_their_ending_and_concrete_ones_left_out() -> None:
    counts = counts_of(
        "Kindness and friendship bring happiness to the whole city and to every apartment near the station."
    )
    assert [word.lower() for word in texts(counts.abstract)] == ["kindness", "friendship", "happiness"]


def test_a_content_word_that_stands_again_at_once_is_repeated() -> None:
    counts = counts_of("The castle was old. The castle had a wall. It was a very old place.")
    assert texts(counts.repeated) == ["castle", "old"]


def test_a_word_that_comes_back_much_later_is_not_repeated() -> None:
    between = "We ran up and down and in and out and over and under and through it all and then on to the"
    assert "castle" not in texts(counts_of(f"The castle fell. {between} castle.").repeated)


def test_letters_of_a_word_leave_out_apostrophes_and_hyphens() -> None:
    assert run(VOCABULARY["word_length"], counts_of("Don't go.")).value == pytest.approx(6 / 2)


def test_curly_and_straight_apostrophes_are_one_type() -> None:
    assert counts_of("I can't and you can\u2019t.").repeats == 1


@pytest.mark.parametrize(("name", "words"), [("mattr", 49), ("hdd", 41)])
def test_a_text_shorter_than_the_window_has_no_value_and_says_why(name: str, words: int) -> None:
    result = run(VOCABULARY[name], counts_of("We ran. " * (words // 2) + "Run." * (words % 2)))
    assert result.value is None
    assert f"has {words}" in result.why_not


def test_a_short_text_gets_a_warning() -> None:
    result = run(VOCABULARY["mattr"], counts_of("We ran to the old barn and hid. " * 8))
    assert result.value is not None
    assert "wants 100 words" in result.note


def test_mtld_of_a_text_with_no_word_twice_cannot_be_said() -> None:
    result = run(VOCABULARY["mtld"], counts_of("Every dog barked loudly."))
    assert result.value is None
    assert "repeats" in result.why_not


@pytest.mark.parametrize("text", ["", "Wow!", "...", "1984", "我喜歡狗。", "and and and and", "x" * 5000])
def test_odd_text_gets_reasons_instead_of_numbers_or_a_crash(text: str) -> None:
    counts = counts_of(text)
    for measure in VOCABULARY.values():
        result = run(measure, counts)
        assert result.value is not None or result.why_not
