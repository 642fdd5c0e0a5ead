"""The parts of small essays whose parts are plain; and of texts that are no such essay: no crash, no nonsense."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric_kit.errors import RubricKitError
from rubric_kit.measures.catalogue import run
from rubric_kit.measures.found import Found
from rubric_kit.measures.parse import parse
from rubric_kit.measures.structure.counts import STEPS, STRUCTURE, structure_counts
from rubric_kit.measures.structure.find import structure
from rubric_kit.measures.structure.length import MOST_SENTENCES, MOST_WORDS
from rubric_kit.measures.structure.notes import notes
from rubric_kit.measures.structure.parts import Structure
from rubric_kit.reading import Essay, read, read_text

SAMPLES = Path(__file__).parents[2] / "sample_essays"
HOOK = "Have you ever seen a bat fly past your window?"
BRIDGE = "Most people are afraid of bats."
THESIS = "I think that people should protect bats because bats eat insects, plant trees, and help farmers."
BODIES = (
    "First, bats eat a great many insects. One brown bat can eat 600 mosquitoes in an hour. That means fewer bites.",
    "Second, bats plant new trees. Fruit bats drop seeds while they fly over bare ground. For example, most new trees "
    "in some forests came from seeds that bats dropped.",
    "Last, bats help farmers. The farmers in our county spend less on poison because bats eat the beetles. This shows "
    "that bats save money.",
)
RESTATED = "In conclusion, bats should be protected because they eat insects, plant trees, and help farmers."
CLOSING = "The next time you see one, be glad."
END = f"{RESTATED} {CLOSING}"
THESIS_LAST = (f"{HOOK} {BRIDGE} {THESIS}", *BODIES, END)
THESIS_FIRST = (f"{THESIS} {BRIDGE} They scream when one flies by.", *BODIES, END)
NO_THESIS = ("It was getting dark. A bat flew past the window. My sister screamed and ran inside.", *BODIES)
STORY = (
    "Last summer my brother and I found an old boat behind the barn. We dragged it down to the pond and climbed in. "
    "The wind began to blow, and soon we were far from the shore. I held the rope as hard as I could.",
    "Suddenly a wave came over the side. I fell into the water and lost my shoe. “Grab the rope!” my brother yelled, "
    "but I could not reach it. I kicked and swallowed water and was very scared.",
    "Then he jumped in and swam to me. He grabbed my shirt and pulled me to the boat. We climbed in and lay there "
    "until we stopped shaking. After a while we rowed home with one paddle.",
    "Mom ran out with towels and cocoa. “What happened to you two?” she asked. That night I lay awake and listened to "
    "the rain.",
)
FORMS = tuple(STEPS)


def essay_of(*paragraphs: str) -> Essay:
    return read_text("\n\n".join(paragraphs))


def found_in(*paragraphs: str, form: str = "five-paragraph") -> Structure:
    essay = essay_of(*paragraphs)
    return structure(essay, parse(essay), form)


def every(found: Structure) -> Iterator[Found]:
    for field in fields(found):
        value = getattr(found, field.name)
        for item in value if isinstance(value, tuple) else (value,):
            if isinstance(item, Found):
                yield item
    yield from (p.topic_sentence for p in found.paragraphs if p.topic_sentence)


def text(found: Found | None) -> str | None:
    return found.text if found else None


def roles(found: Structure) -> list[str]:
    return [p.role for p in found.paragraphs]


def check(essay: Essay, found: Structure) -> None:
    """Every span is the child's very words within its paragraph, and every paragraph has its part."""
    assert [(p.number, p.start, p.end) for p in found.paragraphs] == [
        (n, p.start, p.end) for n, p in enumerate(essay.paragraphs, 1)
    ]
    for item in every(found):
        assert essay.text[item.start : item.end] == item.text != ""
        paragraph = essay.paragraphs[item.paragraph - 1]
        assert paragraph.start <= item.start < item.end <= paragraph.end
        assert 0 <= item.sure <= 1
        assert item.why
    for part in found.paragraphs:
        assert part.role in ("introduction", "body", "conclusion", "other")
        assert part.evidence + part.explanation <= part.sentences
        assert 0 <= part.near_thesis <= 1.0001


@pytest.fixture(scope="module")
def last() -> Structure:
    return found_in(*THESIS_LAST)


def test_a_plain_five_paragraph_essay_has_its_five_parts(last: Structure) -> None:
    assert roles(last) == ["introduction", "body", "body", "body", "conclusion"]
    assert last.notes == ()


def test_the_introduction_has_its_hook_bridge_and_thesis(last: Structure) -> None:
    assert (text(last.hook), text(last.thesis)) == (HOOK, THESIS)
    assert [b.text for b in last.bridge] == [BRIDGE]
    assert len(last.forecast) >= 2
    assert all(point.text in THESIS for point in last.forecast)


def test_each_body_paragraph_has_its_topic_sentence_and_the_point_it_answers_to(last: Structure) -> None:
    bodies = last.with_role("body")
    assert [text(p.topic_sentence) for p in bodies] == [b.split(". ")[0] + "." for b in BODIES]
    assert "insect" in bodies[0].answers
    assert "tree" in bodies[1].answers
    assert "farmer" in bodies[2].answers


def test_evidence_has_its_kind_and_is_no_explanation(last: Structure) -> None:
    kinds = {e.text[:12]: e.kind for e in last.evidence}
    assert kinds["One brown ba"] == "number"
    assert kinds["For example,"] == "example"
    assert any(e.text.startswith("This shows") for e in last.explanation)
    assert not {e.start for e in last.evidence} & {e.start for e in last.explanation}


def test_the_conclusion_has_its_restated_thesis_and_its_closing_thought(last: Structure) -> None:
    assert (text(last.restated_thesis), text(last.closing_thought)) == (RESTATED, CLOSING)
    assert last.new_claims == ()


def test_a_thesis_that_comes_first_is_found_there() -> None:
    found = found_in(*THESIS_FIRST)
    assert text(found.thesis) == THESIS
    assert (found.hook, found.bridge) == (None, ())


def test_a_missing_thesis_is_none_and_is_said_and_nothing_hangs_on_it() -> None:
    found = found_in(*NO_THESIS, "The next morning the bat was gone.")
    assert (found.thesis, found.forecast, found.restated_thesis) == (None, (), None)
    assert any("No sentence was found that states the point" in note for note in found.notes)
    assert not any("takes up no word of the thesis" in note for note in found.notes)
    assert all(p.answers == () for p in found.paragraphs)


def test_one_unbroken_block_is_said_to_be_one_and_has_no_made_up_parts() -> None:
    found = found_in(" ".join(THESIS_LAST))
    assert roles(found) == ["other"]
    assert found.notes[0] == "The text is one unbroken block; the form asks for five paragraphs."
    assert (found.hook, found.bridge, found.new_claims) == (None, (), ())
    assert text(found.thesis) in (THESIS, RESTATED)


@pytest.mark.parametrize("form", FORMS)
def test_a_story_has_no_parts_of_an_essay_whatever_the_form(form: str) -> None:
    found = found_in(*STORY, form=form)
    assert set(roles(found)) == {"other"}
    assert (found.hook, found.evidence, found.restated_thesis, found.new_claims) == (None, (), None, ())
    assert any("reads like a story" in note for note in found.notes) == (form != "narrative")


def test_the_lesson_that_a_story_says_outright_is_its_thesis() -> None:
    lesson = "That night I learned that you should always wear a life jacket."
    assert text(found_in(*STORY[:3], lesson, form="narrative").thesis) == lesson
    assert found_in(*STORY, form="narrative").thesis is None


def test_two_paragraphs_are_an_introduction_and_what_follows() -> None:
    found = found_in(f"{HOOK} {THESIS}", " ".join(BODIES[:2]))
    assert roles(found)[0] == "introduction"
    assert found.notes[0] == "The form asks for five paragraphs; this has 2."
    assert any("No conclusion was found" in note for note in found.notes)


def test_three_paragraphs_are_whole_where_three_are_asked_for() -> None:
    found = found_in(f"{HOOK} {THESIS}", " ".join(BODIES), END, form="three-paragraph")
    assert roles(found) == ["introduction", "body", "conclusion"]
    assert not any("form asks" in note for note in found.notes)


def test_a_paragraph_is_a_body_of_its_own_without_a_conclusion_or_new_claims() -> None:
    one = (
        "My dog Rex is the best dog in the world. He waits for me at the gate every day. For example, last Friday he "
        "sat there for two hours in the rain. He also sleeps next to my bed. That is why Rex is the best dog of all."
    )
    found = found_in(one, form="paragraph")
    assert roles(found) == ["body"]
    assert text(found.paragraphs[0].topic_sentence) == "My dog Rex is the best dog in the world."
    assert found.new_claims == ()
    assert not any("introduction" in note for note in found.notes)


def test_one_word_is_a_hook_where_it_is_called_out() -> None:
    assert text(found_in(f"Splash! {BRIDGE} {THESIS}", *BODIES, END).hook) == "Splash!"
    assert found_in(f"Splash. {BRIDGE} {THESIS}", *BODIES, END).hook is None


def test_a_thesis_in_the_wrong_place_is_said_to_be_there() -> None:
    found = found_in(*THESIS_LAST)
    assert found.thesis is not None
    moved = replace(found, thesis=replace(found.thesis, paragraph=2))
    said = "The thesis was found in paragraph 2, not in the introduction."
    assert said in notes(moved, "five-paragraph").notes
    assert said not in notes(moved, "narrative").notes
    assert said not in notes(found, "five-paragraph").notes


def test_a_body_without_a_definite_fact_is_said_to_be_without() -> None:
    vague = "Second, bats are nice. They are good. I like them a lot. They are really nice."
    found = found_in(THESIS_LAST[0], BODIES[0], vague, BODIES[2], END)
    assert "In paragraph 3 no definite example, fact or quotation was found." in found.notes


def test_quoted_words_are_evidence_of_their_kind_with_exact_places() -> None:
    quoting = (
        "First, Mr. Lorry is loyal. He says, “I kiss your hand, miss,” and he never once forgets her. Dickens calls "
        "him “a man of business” (p. 12). This shows that he is loyal."
    )
    thesis = "In A Tale of Two Cities, Mr. Lorry is the most loyal man because he keeps every promise."
    essay = essay_of(thesis, quoting, "In the end, Mr. Lorry is loyal because he keeps his promises.")
    found = structure(essay, parse(essay), "three-paragraph")
    check(essay, found)
    assert [e.kind for e in found.evidence].count("quotation") == 2


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize(
    "words", ["Cat", "Cat.", "?! a", "“I”", "1 a", "Why?", "No no no no", "i", "A. B. C. D.", "I\n\nam\n\nhere"]
)
def test_next_to_nothing_has_roles_and_no_nonsense(words: str, form: str) -> None:
    essay = read_text(words)
    found = structure(essay, parse(essay), form)
    check(essay, found)
    assert (found.hook, found.bridge, found.forecast, found.new_claims) == (None, (), (), ())


def test_the_most_sentences_are_read_and_one_more_is_too_long_for_an_essay() -> None:
    essay = essay_of(*["The boat sank. It was cold."] * (MOST_SENTENCES // 2))
    found = structure(essay, parse(essay), "five-paragraph")
    check(essay, found)
    assert "longer than an essay" not in found.notes[0]
    longer = essay_of(*["The boat sank. It was cold."] * (MOST_SENTENCES // 2), "Then we went home.")
    found = structure(longer, parse(longer), "five-paragraph")
    check(longer, found)
    assert set(roles(found)) == {"other"}
    assert (found.thesis, found.evidence) == (None, ())
    assert found.transitions != ()
    assert found.notes == (
        "With 401 sentences and 1,204 words this is longer than an essay of any form (at most 400 and 6,000); its "
        "parts were not looked for.",
    )


def test_a_few_endless_sentences_are_too_long_as_well() -> None:
    essay = read_text("He ran and " * (MOST_WORDS // 6) + "fell. " + "She ran and " * (MOST_WORDS // 6) + "fell.")
    assert "its parts were not looked for" in structure(essay, parse(essay), "narrative").notes[0]


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("20*")), ids=lambda path: path.stem)
def test_spans_of_the_demo_year_are_exact_in_every_form(path: Path) -> None:
    essay = read(path)
    parsed = parse(essay)
    for form in FORMS:
        found = structure(essay, parsed, form)
        check(essay, found)
        for row in STRUCTURE.values():
            result = run(row, structure_counts(essay, found, form, parse(essay).tree))
            assert result.why_not or result.value is not None
            if row.unit == "share":
                assert result.value is None or 0 <= result.value <= 1.0001, row.name


PIECES = st.sampled_from(
    [
        HOOK,
        THESIS,
        *BODIES,
        END,
        *STORY,
        "Dogs.",
        "\n\n",
        "\n",
        " ",
        "“Stop!” he said. ",
        "In conclusion, ",
        "I ",
        "😀",
        ",",
    ]
)


@settings(deadline=None, max_examples=40)
@given(st.lists(PIECES, max_size=12), st.sampled_from(FORMS))
def test_any_mixture_of_pieces_has_exact_spans(pieces: list[str], form: str) -> None:
    try:
        essay = read_text("".join(pieces))
    except RubricKitError:
        return
    parsed = parse(essay)
    found = structure(essay, parsed, form)
    check(essay, found)
    structure_counts(essay, found, form, parsed.tree)


def test_the_first_paragraph_can_not_be_linked_to_one_before() -> None:
    essay = essay_of("First, dogs bark. They are loud.", "Next, cats meow. They are soft.", "Cows moo. They are big.")
    parsed = parse(essay)
    counts = structure_counts(essay, structure(essay, parsed, "three-paragraph"), "three-paragraph", parsed.tree)
    assert counts.linked == 1
    assert run(STRUCTURE["linked_share"], counts).value == 0.5


def test_joining_words_are_counted_once_each_within_sentences_and_between_them() -> None:
    essay = essay_of("Dogs bark because they hear us, but cats do not. However, cats purr when we come. But dogs bark.")
    parsed = parse(essay)
    counts = structure_counts(essay, structure(essay, parsed, "paragraph"), "paragraph", parsed.tree)
    assert counts.joining_words == len({"because", "but", "however", "when"})
