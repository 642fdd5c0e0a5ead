"""textstat as the second opinion: its formulas on its own counts equal ours, and where they don't, which publication
is departed from. (textstat 0.7, MIT licence.)
"""

from pathlib import Path

import pytest

from rubric_kit.measures.counts import Counts, count
from rubric_kit.measures.readability import READABILITY, linsear_write, readability, spache, spache_1953
from rubric_kit.measures.second_opinion import _nltk_format, second_opinion, textstat_offline
from rubric_kit.reading.layout import essay_from_text

PASSAGES = {path.stem: path.read_text("utf-8") for path in sorted((Path(__file__).parent / "passages").glob("*.txt"))}
# the example of textstat's own readme
PASSAGES["readme"] = (
    "Playing games has always been thought to be important to the development of well-balanced and creative children; "
    "however, what part, if any, they should play in the lives of adults has never been researched that deeply. I "
    "believe that playing games is every bit as important for adults as for children. Not only is taking time out to "
    "play games with our children and other adults valuable to building interpersonal relationships but is also a "
    "wonderful way to release built up tension."
)
PASSAGES["platypus"] = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."

every_passage = pytest.mark.parametrize("name", PASSAGES)


def textstat_counts(text: str) -> Counts:
    """textstat's own counts of a text, under our names."""
    t = textstat_offline()
    return Counts(
        sentences=t.sentence_count(text),
        words=t.lexicon_count(text),
        syllables=t.syllable_count(text),
        characters=t.letter_count(text),
        polysyllables=t.polysyllabcount(text),
        hard_words=t.polysyllabcount(text),
        complex_words=t.difficult_words(text, syllable_threshold=3, unique=False),
        unfamiliar=t.difficult_words(text, syllable_threshold=0, unique=False),
        spache_unfamiliar=t.difficult_words(text, syllable_threshold=2, unique=False),
        long_words=t.long_word_count(text),
    )


@every_passage
@pytest.mark.parametrize(
    "formula", ["flesch_reading_ease", "flesch_kincaid_grade", "gunning_fog", "smog", "lix", "rix"]
)
def test_on_textstat_s_own_counts_our_formula_gives_textstat_s_value(name: str, formula: str):
    ours = READABILITY[formula].function(textstat_counts(PASSAGES[name]))
    assert ours == pytest.approx(second_opinion(PASSAGES[name])[formula])


@every_passage
def test_automated_readability_is_the_same_but_that_textstat_counts_punctuation(name: str):
    t, text = textstat_offline(), PASSAGES[name]
    counts = textstat_counts(text)
    with_punctuation = Counts(words=counts.words, sentences=counts.sentences, characters=t.char_count(text))
    theirs = second_opinion(text)["automated_readability"]
    assert READABILITY["automated_readability"].function(with_punctuation) == pytest.approx(theirs)
    assert theirs > READABILITY["automated_readability"].function(counts)


@every_passage
def test_coleman_liau_is_the_same_but_that_textstat_has_0_058_for_0_0588(name: str):
    counts = textstat_counts(PASSAGES[name])
    missing = 0.0008 * 100 * counts.characters / counts.words
    theirs = second_opinion(PASSAGES[name])["coleman_liau"]
    assert READABILITY["coleman_liau"].function(counts) == pytest.approx(theirs + missing)


@every_passage
def test_dale_chall_is_the_same_but_that_textstat_adds_the_constant_only_above_5_percent(name: str):
    counts = textstat_counts(PASSAGES[name])
    left_out = 0 if counts.unfamiliar / counts.words > 0.05 else 3.6365
    theirs = second_opinion(PASSAGES[name])["dale_chall"]
    assert READABILITY["dale_chall"].function(counts) == pytest.approx(theirs + left_out)


@every_passage
def test_spache_in_textstat_is_the_equation_of_1953_with_the_list_of_dale_and_chall(name: str):
    counts = textstat_counts(PASSAGES[name])
    theirs = second_opinion(PASSAGES[name])["spache_1953"]
    assert spache_1953(counts) == pytest.approx(theirs)
    assert spache(counts) != pytest.approx(theirs, abs=0.1)


@pytest.mark.parametrize("name", [name for name, text in PASSAGES.items() if len(text.split()) <= 100])
def test_linsear_write_is_the_same_on_a_text_of_up_to_a_hundred_words(name: str):
    assert linsear_write(textstat_counts(PASSAGES[name])) == pytest.approx(
        second_opinion(PASSAGES[name])["linsear_write"]
    )


def test_linsear_write_in_textstat_looks_at_the_first_hundred_words_only():
    text = PASSAGES["gettysburg_address"]
    first = " ".join(text.split()[:100])
    assert second_opinion(text)["linsear_write"] == pytest.approx(second_opinion(first)["linsear_write"], abs=1)
    assert linsear_write(textstat_counts(text)) != pytest.approx(second_opinion(text)["linsear_write"], abs=1)


def test_textstat_s_fog_leaves_out_long_words_that_are_familiar():
    # Gunning 1952 counts words of three syllables or more, and "animal" and "beautiful" are such
    text = "The beautiful animal is an animal from Africa."
    assert second_opinion(text)["gunning_fog"] == pytest.approx(0.4 * (8 + 100 * 1 / 8))  # the name alone is counted
    assert count(essay_from_text(text, "passage")).complex_words == 3


def test_textstat_drops_sentences_of_one_or_two_words():
    text = "Stop! He ran. The dog barked at the old man. Nobody came."
    assert textstat_offline().sentence_count(text) == 1
    assert count(essay_from_text(text, "passage")).sentences == 4


def test_textstat_takes_the_first_pronunciation_where_flesch_takes_the_shorter():
    assert textstat_offline().syllable_count("every family") > 4
    assert count(essay_from_text("Every family came.", "passage")).syllables == 5


def test_textstat_counts_inflections_and_names_as_unfamiliar():
    # Dale and Chall 1948: regular endings and names are familiar
    text = "We saw Dorothy walking to the tables."
    assert textstat_offline().difficult_words(text, syllable_threshold=0) >= 3
    assert count(essay_from_text(text, "passage")).unfamiliar == 0


# Where sentences and words are counted alike, what is left between the two is syllables, punctuation and the slips
# shown above. (SMOG is not here: one word of three syllables more or less in three sentences is worth three grades.)
WITHIN = {
    "flesch_reading_ease": 6.0,
    "flesch_kincaid_grade": 1.0,
    "coleman_liau": 1.0,
    "automated_readability": 1.5,
    "lix": 3.0,
    "rix": 0.5,
}


@pytest.mark.parametrize("name", ["alice", "oz", "readme", "platypus"])
@pytest.mark.parametrize("formula", WITHIN)
def test_from_text_to_value_the_two_are_near_each_other(name: str, formula: str):
    ours = readability(count(essay_from_text(PASSAGES[name], "passage")))[formula].value
    assert ours == pytest.approx(second_opinion(PASSAGES[name])[formula], abs=WITHIN[formula])


def test_the_dictionary_is_given_to_textstat_as_its_reader_wants_it() -> None:
    assert _nltk_format("read R EH1 D\nread(2) R IY1 D # now\n") == "READ 1 R EH1 D\nREAD 2 R IY1 D\n"
