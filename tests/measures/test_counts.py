"""What is counted, rule by rule."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric_kit.measures.counts import Counts, count, is_abbreviation, names_in
from rubric_kit.reading.layout import essay_from_text


def counted(text: str) -> Counts:
    return count(essay_from_text(text, "text"))


def test_a_plain_sentence_is_counted_in_every_column():
    assert counted("The animal sat on a yellow carpet.") == Counts(
        paragraphs=1,
        sentences=1,
        words=7,
        syllables=11,
        letters=27,
        characters=27,
        monosyllables=4,
        polysyllables=1,
        complex_words=1,
        hard_words=1,
        long_words=0,
        unfamiliar=0,
        spache_unfamiliar=1,
    )


def test_counts_from_given_numbers_are_zero_where_nothing_is_given():
    assert Counts(words=13).sentences == 0


def test_characters_are_letters_and_digits_and_letters_are_letters():
    counts = counted("He's 12 and well-fed, OK?")
    assert (counts.letters, counts.characters) == (15, 17)


def test_long_words_have_more_than_six_letters_whatever_stands_between_them():
    assert counted("She isn't well-fed but a careful kitten.").long_words == 2  # well-fed, careful


def test_figures_and_abbreviations_are_one_syllable_for_flesch_and_read_aloud_for_smog():
    counts = counted("In 1,492 towns TV and the U.S. post cost $15.")
    assert counts.syllables == 10
    assert counts.polysyllables == 2  # 1,492 and $15


def test_figures_and_names_are_not_hard_words():
    assert counted("We told Isabella about 1,492 animals.").hard_words == 1


def test_an_abbreviation_inside_a_sentence_goes_by_its_full_stop():
    assert counted("We met Prof. Lee there.").syllables == 5
    assert counted("He always said no.").syllables == 5


@pytest.mark.parametrize("word", ["Mr.", "Mr", "TV", "USA", "U.S.", "a.m.", "Prof."])
def test_abbreviations(word: str):
    assert is_abbreviation(word)


@pytest.mark.parametrize("word", ["A", "I", "NASA", "STOP", "no", "Prof", "IDEA", ""])
def test_words_that_are_not_abbreviations(word: str):
    assert not is_abbreviation(word)


@pytest.mark.parametrize(
    ("word", "is_complex"),
    [
        ("animal", True),
        ("beautiful", True),
        ("remembering", True),
        ("created", False),  # Gunning's own examples
        ("trespasses", False),
        ("grandmother", False),
        ("everything", False),
        ("old-fashioned", False),
        ("another", True),
        ("dedicated", True),  # four syllables
        ("wanted", False),
    ],
)
def test_complex_words_leave_out_compounds_of_easy_words_and_verbs_in_ed_and_es(word: str, is_complex: bool):
    assert counted(f"We saw {word} here.").complex_words == is_complex


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("We met Isabella there.", {"Isabella"}),
        ("Isabella ran. We saw Isabella.", {"Isabella"}),
        ("Everybody ran. Then everybody sat.", set()),
        ("Everybody ran.", set()),
        ('He said, "Everybody out!"', set()),
        ("STOP IT NOW. I SAID SO.", set()),
        ("I am here and I see Isabella's dog.", {"Isabella's"}),
        ("We love our Grandfather. My grandfather is old.", set()),
    ],
)
def test_names_are_words_with_capitals_where_none_are_due(text: str, names: set[str]):
    essay = essay_from_text(text, "text")
    assert names_in(essay) == names


def test_names_and_inflections_are_familiar():
    counts = counted("We saw Dorothy walking to the tables.")
    assert (counts.unfamiliar, counts.spache_unfamiliar) == (0, 0)


def test_spache_counts_an_unfamiliar_word_once_in_each_hundred_words():
    assert counted("The hybrid sat by the hybrid.").spache_unfamiliar == 1
    assert counted("The hybrid sat there by the tree. " * 30).spache_unfamiliar == 3  # 210 words


@pytest.mark.parametrize("text", ["", " ", "\n\n", "...", "!?", "\u200b"])
def test_a_text_without_words_counts_nothing(text: str):
    counts = counted(text)
    assert (counts.words, counts.syllables, counts.letters) == (0, 0, 0)


@settings(deadline=None)  # the first example loads the dictionary
@given(st.text(max_size=300))
def test_any_text_is_counted_without_an_error_and_the_parts_never_exceed_the_whole(text: str):
    counts = counted(text)
    assert counts.sentences <= counts.words
    for part in ("monosyllables", "polysyllables", "complex_words", "hard_words", "long_words", "unfamiliar"):
        assert 0 <= getattr(counts, part) <= counts.words
    assert counts.complex_words <= counts.polysyllables
    assert counts.words <= counts.syllables
    assert counts.letters <= counts.characters
