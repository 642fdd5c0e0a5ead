"""Spelling: who is accused, who is let alone, and what is suggested."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric_kit.measures.found import Found
from rubric_kit.measures.frequency import zipf_of_words
from rubric_kit.measures.parse import parse
from rubric_kit.measures.spelling import spelling, suggest
from rubric_kit.measures.spelling.words import is_common, is_listed_name, is_rare
from rubric_kit.reading.layout import essay_from_text


def found(text: str) -> tuple[Found, ...]:
    return spelling(essay_from_text(text, "test"))


def accused(text: str) -> list[str]:
    return [item.text for item in found(text)]


BY_EAR = """becuz because; sed said; enuf enough; wuz was; skool school; nite night; offen often; peple people
diffrent different; probly probably; kwiet quiet; elefant elephant; jurny journey; langwage language; mashine machine
fasinating fascinating; nessasary necessary; sichuation situation; atenshun attention; qwestion question"""
BY_RULE = """tryed tried; stoped stopped; makeing making; babys babies; catched caught; beutiful beautiful
tommorow tomorrow; definately definitely; freind friend; recieve receive; dont don't; didnt didn't; Ive I've
did'nt didn't; dosen't doesn't; alot a lot; infact in fact; Wensday Wednesday; Febuary February; Becuase Because
elefant's elephant's; old-fasioned old-fashioned"""


def listed(pairs: str) -> list[list[str]]:
    return [pair.split(maxsplit=1) for pair in pairs.replace("\n", "; ").split("; ")]


@pytest.mark.parametrize(("written", "meant"), listed(BY_EAR))
def test_words_spelt_by_ear_are_understood(written: str, meant: str) -> None:
    assert suggest(written)[0] == meant


@pytest.mark.parametrize(("written", "meant"), listed(BY_RULE))
def test_the_usual_slips_get_the_right_word_first(written: str, meant: str) -> None:
    assert suggest(written)[0] == meant


def test_the_word_after_tells_which_was_meant() -> None:
    assert (suggest("ther")[0], suggest("ther", "", "is")[0]) == ("their", "there")
    assert (suggest("rite")[0], suggest("rite", "", "of")[0]) == ("write", "right")


def test_suggestions_take_the_capitals_of_the_word() -> None:
    assert suggest("Peple")[0] == "People"
    assert suggest("PEPLE")[0] == "PEOPLE"


def test_there_are_at_most_five_suggestions_and_none_twice() -> None:
    for word in ("hapy", "whent", "thier", "qwertyuiop"):
        assert len(set(suggest(word))) == len(suggest(word)) <= 5


def test_no_vulgar_word_is_suggested_to_a_child() -> None:
    vulgar = {"shit", "crap", "ass", "bitch", "damn", "fuck"}
    assert not vulgar & {
        other for word in ("shitt", "crapp", "asss", "bich", "dam", "fuk", "shet") for other in suggest(word)
    }


def test_a_found_item_points_at_the_childs_own_letters() -> None:
    text = "The fox ran.\n\nIt wuz hungry and it cudnt find food."
    items = found(text)
    assert [(item.text, item.paragraph, item.suggestions[0]) for item in items] == [
        ("wuz", 2, "was"),
        ("cudnt", 2, "couldn't"),
    ]
    assert all(text[item.start : item.end] == item.text for item in items)
    assert {item.kind for item in items} == {"spelling"}


@pytest.mark.parametrize(
    "text",
    [
        "Her dog Zephyra barked, and Zephyra ran away.",  # a name inside sentences
        "Quimbleton is a town. We live in Quimbleton.",
        "I read about Huckleberry Finn and Queequeg and Rikki-tikki-tavi.",
        "Whoa! Aaaah, that was sooo loud. Shhh, said Mom. Hmm, brr, ugh, hahaha!",
        "The colour of my neighbour's grey jewellery is different from the color of his gray jewelry.",
        "We travelled to the theatre and organised a programme. We traveled to the theater and organized a program.",
        "The well-being of the twenty-one-year-old ex-president was re-examined.",
        "He wore a castlelike, greenish hat with great cleverness, unafraid and overexcited.",
        "In 1812 NASA, the FBI and Dr. Smith met at 3:30 p.m. on the 21st, e.g. by TV.",
        "The dogs' bowls and the children's toys are James's and the Joneses'.",
        "I was goin' to tell 'em 'twas nothin' at all.",
        "My eReader and my eBook are at www.example.org.",
        "The tech app on my phone has wifi, and we pay ten dollars per annum.",
        "I'm gonna eat, kinda late, 'cause I wanna.",
        "The café sells crème brûlée.",
        "He said t'morrow is fine and they play'd all day in the hous'e.",  # as dialect is written
        "With hopings and leapings the moon-silver water fell.",
        "I can't, won't, shouldn't've, and y'all could've told the boys that it's o'clock.",
    ],
)
def test_what_is_no_mistake_is_not_accused(text: str) -> None:
    assert accused(text) == []


def test_a_misspelling_with_a_capital_at_the_start_of_a_sentence_is_found() -> None:
    assert accused("Becuase it rained, we stayed. Peple were sad.") == ["Becuase", "Peple"]


def test_misspelled_days_months_and_countries_are_found_inside_a_sentence() -> None:
    items = found("On Wensday in Febuary the Amercan team won.")
    assert [item.suggestions[0] for item in items] == ["Wednesday", "February", "American"]


def test_a_lost_apostrophe_is_explained() -> None:
    (item,) = found("They didnt go home.")
    assert item.suggestions[0] == "didn't"
    assert "apostrophe" in item.why


def test_im_and_ive_are_contractions_wherever_they_stand() -> None:
    items = found("im happy and ive got a dog.")
    assert [(item.text, item.suggestions[0]) for item in items] == [("im", "I'm"), ("ive", "I've")]
    assert items[0].why == "“I'm” is short for two words, so it has an apostrophe where letters are left out."


def test_two_words_in_one_are_explained() -> None:
    (item,) = found("We ate alot of soup.")
    assert item.suggestions[0] == "a lot"
    assert "two words" in item.why


@pytest.mark.parametrize(
    ("text", "written", "meant"),
    [
        ("He is my best fiend at school.", "fiend", "friend"),
        ("I cold not see the road.", "cold", "could"),
        ("We ate and an then we slept.", "an", "and"),
        ("It was a grate day but it was grate fun.", "grate", "great"),
        ("Wile he slept, the cat ran.", "Wile", "While"),
        ("She came home this mourning.", "mourning", "morning"),
    ],
)
def test_a_real_word_for_another_is_found_beside_certain_words(text: str, written: str, meant: str) -> None:
    assert (written, (meant,)) in [(item.text, item.suggestions) for item in found(text)]


@pytest.mark.parametrize(
    "text",
    [
        "The cold wind was not warm, and the mourning widow walked to and fro.",
        "The grate of the fireplace was hot.",
        "A boxing bout was won by dint of work.",
        "He learned the poem by rote, and the herd of cows was well bred.",
    ],
)
def test_the_same_words_in_their_own_places_are_let_alone(text: str) -> None:
    assert accused(text) == []


def test_a_name_that_owns_something_needs_its_apostrophe() -> None:
    essay = essay_from_text("I like Captain Hook. Smee rowed to Hooks ship and hid.", "test")
    assert [(item.text, item.suggestions) for item in spelling(essay, parse(essay))] == [("Hooks", ("Hook's",))]


def test_many_of_a_name_own_nothing() -> None:
    essay = essay_from_text("Hook was mad. The many Hooks ships sank with Hook.", "test")
    assert spelling(essay, parse(essay)) == ()


def test_a_word_that_the_child_writes_as_a_name_is_a_name_in_small_letters_too() -> None:
    assert accused("I saw Frindle and Frindle saw me. My dog frindle is old.") == []


def test_an_empty_essay_has_no_misspellings() -> None:
    assert found("") == ()


@settings(deadline=None)  # the first example reads the lists
@given(st.text(max_size=80))
def test_no_text_makes_it_fail(text: str) -> None:
    suggest(text)


@settings(deadline=None)
@given(st.text(alphabet="abcdefghi'-’ABC. \n", max_size=80))
def test_accusations_lie_inside_the_text_and_in_order(text: str) -> None:
    essay = essay_from_text(f"Start {text} end.", "test")
    items = spelling(essay)
    assert all(essay.text[item.start : item.end] == item.text and item.suggestions for item in items)
    assert [item.start for item in items] == sorted(item.start for item in items)


def test_the_commonest_words_can_be_suggested() -> None:
    commonest = sorted(zipf_of_words().items(), key=lambda item: item[1], reverse=True)[:300]
    words = {word for word, _ in commonest if word.isascii() and word.isalpha() and len(word) > 1}
    left_out = {word for word in words if not (is_common(word) or is_listed_name(word))}
    assert left_out <= {"shit"}


def test_a_word_that_is_a_name_too_is_suggested_once() -> None:
    assert [word.lower() for word in suggest("luve")].count("love") == 1


@pytest.mark.parametrize("word", ["aardwolves", "zymotic", "zurich", "schwarzenegger", "nasa"])
def test_rare_words_and_names_are_looked_up_in_their_unsplit_lists(word: str) -> None:
    assert is_rare(word) or is_listed_name(word)
    assert not is_rare(word + "q")
    assert not is_listed_name(word + "q")


def test_old_and_rare_words_in_quotation_marks_are_let_alone_but_sure_misspellings_are_not() -> None:
    assert accused('Brutus says, "Let us be sacrificers, but not butchers, and profit on\'t."') == []
    assert accused('"I am so hapy becuase you came," said Ann.') == ["hapy", "becuase"]


def test_a_forgotten_quotation_mark_quotes_nothing() -> None:
    assert accused('He said, "Go home. Then I wuz sad and hungrey.') == ["wuz", "hungrey"]


def test_verbs_of_thou_are_let_alone() -> None:
    assert accused("Thou knowest that thou speakest well.") == []


@pytest.mark.parametrize(
    ("before", "after", "meant"), [("best", "ever", "friend"), ("not", "it", "find"), ("hot", "pan", "fried")]
)
def test_neighbours_tell_which_word_was_meant(before: str, after: str, meant: str) -> None:
    assert suggest("frind" if meant != "fried" else "frid", before, after)[0] == meant
