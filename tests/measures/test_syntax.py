import re
import tomllib
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric_kit.measures.catalogue import run
from rubric_kit.measures.parse import parse
from rubric_kit.measures.syntax import SYNTAX, Opening, SyntaxCounts, TUnit, syntax_counts
from rubric_kit.reading.layout import essay_from_text

CASES = tomllib.loads((Path(__file__).parent / "t_units.toml").read_text("utf-8"))["cases"]


def text_of(case: str) -> str:
    return re.sub(" +", " ", re.sub(r"[/\[~]", "", case)).strip()


def hand_count(case: str) -> tuple[int, int]:
    t_units = case.count("/") + 1 - case.count("~")
    return t_units, t_units + case.count("[")


def for_tuning(case: str) -> bool:
    return int(sha256(text_of(case).encode()).hexdigest()[-1], 16) % 2 == 0


def counts_of(text: str) -> SyntaxCounts:
    essay = essay_from_text(text, "test")
    return syntax_counts(essay, parse(essay))


def made(units: list[tuple[int, int]], sentences: list[int]) -> SyntaxCounts:
    openings = tuple(Opening("the", "subject") for _ in sentences)
    return SyntaxCounts(tuple(TUnit(0, w, c) for w, c in units), tuple(sentences), openings, 0, 0, 0)


@pytest.mark.parametrize("tuning", [True, False], ids=["tuned on", "reported"])
def test_t_units_and_clauses_agree_with_the_hand_count(tuning: bool) -> None:
    """Measured: T-units 54 of 56 and clauses 55 of 56 where tuned on; 52 of 55 and 52 of 55 where not."""
    cases = [case for case in CASES if for_tuning(case) is tuning]
    counted = [(counts_of(text_of(case)), hand_count(case)) for case in cases]
    assert len(cases) >= 40
    assert sum(c.t_units == by_hand[0] for c, by_hand in counted) / len(cases) >= 0.93
    assert sum(c.clauses == by_hand[1] for c, by_hand in counted) / len(cases) >= 0.93


@pytest.mark.parametrize(
    ("text", "words", "t_units", "clauses"),
    [
        ("The dog barked and the cat ran away because it was scared.", 12, 2, 3),
        ("I like dogs they are fun and I have two.", 10, 3, 3),
        ("My brother opened the door and ran outside.", 8, 1, 1),
    ],
)
def test_worked_counts_of_hunts_definitions(text: str, words: int, t_units: int, clauses: int) -> None:
    counts = counts_of(text)
    assert (counts.words, counts.t_units, counts.clauses) == (words, t_units, clauses)


@given(st.lists(st.tuples(st.integers(1, 60), st.integers(1, 6)), min_size=1, max_size=40))
def test_words_per_t_unit_is_clauses_per_t_unit_times_words_per_clause(units: list[tuple[int, int]]) -> None:
    counts = made(units, [words for words, _ in units])
    value = {name: run(SYNTAX[name], counts).value for name in SYNTAX}
    product = value["clauses_per_t_unit"] * value["words_per_clause"]
    assert value["words_per_t_unit"] == pytest.approx(product)


def test_every_word_belongs_to_one_t_unit() -> None:
    counts = counts_of("When we got there. The gate was locked. No luck. Dad called the owner, he came and let us in.")
    assert sum(unit.words for unit in counts.units) == counts.words == 20
    assert [unit.words for unit in counts.units] == [10, 4, 6]


def test_and_opens_the_t_unit_it_joins() -> None:
    counts = counts_of("He opened the box and there was a frog in it and he screamed.")
    assert [unit.words for unit in counts.units] == [4, 7, 3]
    assert counts.joined_units == 2


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("My old brown dog sleeps all day.", "subject"),
        ("Suddenly the lights went out.", "adverb"),
        ("In the morning we left.", "prepositional phrase"),
        ("When the bell rang, we left.", "clause"),
        ("Because it was raining.", "clause"),
        ("Running down the hill, he tripped.", "participle"),
        ("But nobody came.", "joining word"),
        ("Why did the owl leave?", "question word"),
        ("Close the door.", "verb"),
        ("Have you seen my hat?", "verb"),
        ("Was the dog found?", "verb"),
    ],
)
def test_openings_are_told_apart(text: str, kind: str) -> None:
    assert counts_of(text).openings[0].kind == kind


def test_opening_variety_is_the_chance_that_two_sentences_open_differently() -> None:
    """Three of four sentences open with "I": of the 12 ordered pairs 6 are alike."""
    counts = counts_of("I ran. I fell. We laughed. I got up.")
    assert run(SYNTAX["opening_variety"], counts).value == pytest.approx(0.5)
    assert run(SYNTAX["subject_opening_share"], counts).value == 1


def test_sentence_length_variety_is_spread_over_mean() -> None:
    counts = made([(4, 1), (8, 1)], [4, 8])
    assert run(SYNTAX["sentence_length_spread"], counts).value == pytest.approx(8**0.5)
    assert run(SYNTAX["sentence_length_variety"], counts).value == pytest.approx(8**0.5 / 6)


@pytest.mark.parametrize(
    ("text", "passive"),
    [
        ("The window was broken by a ball and nobody was punished.", 2),
        ("The barn had been painted red.", 1),
        ("He was running and had broken his toe.", 0),
    ],
)
def test_passive_clauses_are_counted(text: str, passive: int) -> None:
    assert counts_of(text).passive_clauses == passive


@pytest.mark.parametrize(
    "text", ["", "Wow!", "...", "1984", "asdf jkl qwer", "我喜歡狗。", "and and and and", "?! ?! ?!"]
)
def test_odd_text_gets_reasons_instead_of_numbers_or_a_crash(text: str) -> None:
    counts = counts_of(text)
    for measure in SYNTAX.values():
        result = run(measure, counts)
        assert result.value is not None or result.why_not


def test_one_sentence_has_no_variety_and_says_why() -> None:
    result = run(SYNTAX["sentence_length_variety"], counts_of("The dog barked."))
    assert result.value is None
    assert "2 sentences" in result.why_not
