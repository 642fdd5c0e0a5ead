from importlib.util import find_spec

import pytest
import wordfreq

from rubric_kit.measures.frequency import ZIPF_OF_THE_RAREST, zipf, zipf_of_words
from rubric_kit.measures.pronunciation import package_file


@pytest.mark.parametrize("word", ["the", "happy", "stubborn", "photosynthesis", "don't", "ran", "ancient", "colour"])
def test_values_are_those_of_wordfreq(word: str) -> None:
    assert zipf(word) == pytest.approx(wordfreq.zipf_frequency(word, "en", wordlist="small"), abs=0.006)


def test_the_whole_list_is_that_of_wordfreq() -> None:
    theirs = wordfreq.get_frequency_dict("en", "small")
    assert zipf_of_words().keys() == theirs.keys()
    assert min(zipf_of_words().values()) >= ZIPF_OF_THE_RAREST


def test_a_hyphenated_word_is_as_rare_as_its_rarest_part() -> None:
    assert zipf("well-known") == zipf("known")


def test_apostrophes_of_either_shape_are_one_word() -> None:
    assert zipf("don\u2019t") == zipf("don't") is not None


@pytest.mark.parametrize("word", ["", "-", "qwzzk", "well-qwzzk"])
def test_a_word_outside_the_list_has_no_value(word: str) -> None:
    assert zipf(word) is None


def test_a_missing_package_is_named_with_the_command_that_installs_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None if name == "wordfreq" else find_spec(name))
    with pytest.raises(ImportError, match=r"^wordfreq is not installed; run: pip install 'wordfreq>=3.1,<4'$"):
        zipf_of_words.__wrapped__()
    with pytest.raises(ImportError, match=r"^the package no_such_package is not installed; run: pip install no_such"):
        package_file("no_such_package", "words.txt")
