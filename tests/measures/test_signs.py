"""Signs that readers' scores follow: slips one by one, expected phrasing, range of words, everyday words."""

import math

import pytest

from rubric_kit.measures.measured import FAMILIES, measure
from rubric_kit.measures.parse import parse
from rubric_kit.measures.signs import SIGNS, signs
from rubric_kit.measures.signs.certainty import doubts
from rubric_kit.measures.signs.choices import all_choices, chances
from rubric_kit.measures.signs.everyday import everyday_words
from rubric_kit.measures.signs.sequences import Model
from rubric_kit.measures.signs.word_range import first_share, root_ratio, segment_types
from rubric_kit.reading import read_text

PLAIN = "The fox ran home. It was tired. My sister saw it near the barn and gave it some water."


def values(text: str) -> dict[str, float | None]:
    return {name: result.value for name, result in signs(measure(read_text(text), "paragraph")).items()}


def test_no_sign_has_the_name_of_a_measure_or_of_another_sign():
    names = [name for table in (*FAMILIES.values(), *SIGNS.values()) for name in table]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("text", ["Hi.", "I", "日本語 テスト", "word " * 300, "a\n\nb\n\nc", "'s n't 've"])
def test_odd_texts_give_a_number_or_a_reason(text):
    for name, result in signs(measure(read_text(text), "paragraph")).items():
        assert result.why_not or math.isfinite(result.value), name


def test_a_text_without_slips_is_one_clean_run():
    found = values(PLAIN)
    assert found["slips_of_all_kinds_per_100_words"] == 0
    assert found["clean_share"] == 1
    assert found["longest_clean_run"] == found["mean_clean_run"] == found["clean_words"] == 19


def test_one_misspelling_spoils_its_sentence_and_parts_the_run():
    found = values(PLAIN.replace("tired", "tierd"))
    assert found["clean_words"] == 16
    assert found["clean_share"] == pytest.approx(2 / 3)
    assert found["different_wrong_words"] == 1
    assert found["longest_clean_run"] == 12  # after "tierd"


def test_marks_and_small_letters_are_counted_by_the_hundred_words():
    found = values("i think so,but i dont know . he left")
    assert found["small_i_per_100_words"] == pytest.approx(100 * 2 / 9)
    assert found["no_space_per_100_words"] == pytest.approx(100 / 9)
    assert found["space_before_per_100_words"] == pytest.approx(100 / 9)
    assert found["bare_contraction_per_100_words"] == pytest.approx(100 / 9)
    assert found["small_start_share"] == 1


def test_everyday_words_are_counted_in_any_case_and_in_contractions():
    found = values("The dog and the cat. It's warm, and they're glad.")
    assert found["uses_of_the"] == pytest.approx(20)
    assert found["uses_of_it"] == found["uses_of_they"] == pytest.approx(10)
    assert len(everyday_words()) == len(set(everyday_words()))


def chance_of(text: str, kind: str, chosen: str) -> float:
    essay = read_text(text)
    choice = next(c for c in all_choices(parse(essay).sentences) if c.kind == kind and c.chosen == chosen)
    return chances(choice)[chosen]


@pytest.mark.parametrize(
    ("kind", "right", "wrong"),
    [
        ("verb_form", ("He walks to school every day.", "VBZ"), ("He walk to school every day.", "VBP")),
        ("verb_form", ("They have finished their work.", "VBN"), ("They have finish their work.", "VB")),
        ("number", ("There are many books in the room.", "NNS"), ("There are many book in the room.", "NN")),
        ("article", ("She wanted to be a doctor.", "a"), ("She wanted to be doctor.", "none")),
        ("preposition", ("We depend on our friends.", "on"), ("We depend of our friends.", "of")),
    ],
)
def test_what_edited_prose_writes_is_likelier_than_a_learners_slip(kind, right, wrong):
    assert chance_of(right[0], kind, right[1]) > 4 * chance_of(wrong[0], kind, wrong[1])


def test_the_chances_of_all_options_add_up_to_one():
    for choice in all_choices(parse(read_text(PLAIN)).sentences):
        assert sum(chances(choice).values()) == pytest.approx(1, abs=0.01)


def test_a_learners_phrasing_is_more_surprising_than_the_same_thought_in_plain_english():
    learner = values("When person go in the school is need to make the homework for can to have good grade in future.")
    plain = values("When a person goes to school, he needs to do his homework so that he can have good grades later.")
    assert learner["sequence_excess"] > plain["sequence_excess"]
    assert learner["unexpected_share"] > plain["unexpected_share"]


def test_sequences_are_weighed_by_the_formula_of_witten_and_bell():
    # After a: b twice, c once (3 in all, 2 kinds). Alone: a 3, b 2, c 1 (6 in all, 3 kinds), 1/4 each if never seen.
    rows = [((), "a", 3), ((), "b", 2), ((), "c", 1), (("a",), "b", 2), (("a",), "c", 1)]
    model = Model(rows)
    alone = {shape: (n + 3 / 4) / 9 for shape, n in (("a", 3), ("b", 2), ("c", 1), ("</s>", 0))}
    after_a = (2 + 2 * alone["b"]) / 5
    assert list(model.excess(["a", "b"])) == pytest.approx([0, math.log2(alone["b"] / after_a), 0])


def test_the_tagger_is_in_more_doubt_about_jumbled_words_than_about_the_same_in_order():
    found = {text: doubts(parse(read_text(text))) for text in (PLAIN, " ".join(sorted(PLAIN.split())))}
    for of_words in found.values():
        assert len(of_words) == 19
        assert all(0 < doubt.chance <= 1 and doubt.entropy >= 0 for doubt in of_words)
    plain, jumbled = (sum(doubt.entropy for doubt in of_words) for of_words in found.values())
    assert jumbled > 2 * plain


def test_the_variety_of_a_part_of_speech_is_its_different_words_by_the_root_of_twice_its_words():
    found = values("The dog saw the cat. The cat saw a bird and the dog.")
    assert (found["different_nouns"], found["different_verbs"]) == (3, 1)
    assert found["variety_of_nouns"] == pytest.approx(3 / math.sqrt(2 * 5 + 1))


def test_a_curly_apostrophe_counts_as_a_straight_one():
    text = "We didn't go and they didn't stay, but it isn't late and we don't mind."
    assert values(text.replace("'", "\u2019")) == values(text)


def test_word_range_formulas():
    assert root_ratio(["sun", "moon", "sun"]) == pytest.approx(2 / math.sqrt(7))
    assert first_share(["a", "b"] * 75 + ["c"] * 50) == pytest.approx(2 / 150)
    assert segment_types(["a"] * 100 + ["b"] * 25) == pytest.approx(1.5)


def test_misspelled_words_and_names_are_no_rare_words():
    with_slips = values("Marigold Featherstone rode her bisicle to the libary to read about glaciers.")
    assert with_slips["words_rarer_than_4"] == 1  # glacier
