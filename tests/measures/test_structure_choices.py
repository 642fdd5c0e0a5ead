"""Which of several sentences is the thesis, and which texts are no essays: mistakes once made stay mended."""

from __future__ import annotations

import pytest

from rubric_kit.measures.parse import parse
from rubric_kit.measures.structure.cues import cues
from rubric_kit.measures.structure.find import structure
from rubric_kit.measures.structure.parts import Structure
from rubric_kit.reading import read_text

BODIES = (
    "Mole goes into the Wild Wood alone. The snow was deep and he could hear whistling behind every tree. He kept on "
    "walking until he found the door scraper.",
    "Mole also goes to fight the weasels. There were hundreds of them in Toad Hall. He put on the washerwoman's dress "
    "and told them that a hundred badgers were coming.",
    "Mole is brave when he is homesick too. He smelled his old home and he still went with Rat because Rat needed him.",
)
END = "Mole is small but nobody in the book is as brave as he is. I want to be like him."
BOAT = (
    "Last summer my brother and I found an old boat behind the barn. We dragged it down to the pond and climbed in. "
    "The wind began to blow, and soon we were far from the shore. I held the rope as hard as I could.",
    "Suddenly a wave came over the side. I fell into the water and lost my shoe. My brother threw me the rope, but I "
    "could not reach it. I kicked and swallowed water and was very scared.",
    "Then he jumped in and swam to me. He grabbed my shirt and pulled me to the boat. We climbed in and lay there "
    "until we stopped shaking. After a while we rowed home with one paddle.",
    "Mom ran out with towels and cocoa. That night I lay awake and listened to the rain.",
)
CALF = (
    "My family went to Grandma's farm in June. My cousin and I slept in the loft. The cow got out the first night and "
    "we had to find her.",
    "We took the flashlight and walked down to the creek. My cousin was afraid of the dark, but I was not. We heard a "
    "splash and saw two eyes.",
    "It was the cow. She stood in the water with a new calf beside her. We called Grandpa and he carried it home.",
    "In the morning Grandma made pancakes and I named the calf June.",
)


def _found(*paragraphs: str, form: str = "five-paragraph") -> Structure:
    essay = read_text("\n\n".join(paragraphs))
    return structure(essay, parse(essay), form)


def test_praise_of_the_book_at_the_end_of_the_introduction_is_no_thesis() -> None:
    opening = "We read The Wind in the Willows this year. It is about four animals who live by a river."
    thesis = "I think Mole is braver than anybody."
    found = _found(f"{opening} {thesis} This is the best book we have read all year.", *BODIES, END)
    assert found.thesis is not None
    assert found.thesis.text == thesis


@pytest.mark.parametrize(
    "announced", ["I will tell about him and if you can trust him.", "I will tell how Mole changed."]
)
def test_an_announced_topic_is_no_thesis(announced: str) -> None:
    found = _found(f"The Wind in the Willows is about four animals who live by a river. {announced}", *BODIES, END)
    assert found.thesis is None or found.thesis.text != announced


def test_a_thesis_may_name_the_book_and_comes_before_what_is_announced() -> None:
    thesis = "I think Mole is braver than anybody in the book."
    found = _found(f"It is about four animals. {thesis} I will tell about him and if you can trust him.", *BODIES, END)
    assert found.thesis is not None
    assert found.thesis.text == thesis


def test_what_others_think_is_no_thesis() -> None:
    found = _found(
        "Most people think a zipper is magic. It is only two rows of hooks and a clever wedge.",
        "The hooks sit on two strips of tape. Each hook has a bump on the top and a hollow on the bottom.",
        "The wedge is inside the slider. It pushes the hooks together so that each bump falls into a hollow.",
        "So a zipper is no magic. It is hooks and a wedge.",
    )
    assert found.thesis is not None
    assert found.thesis.text == "It is only two rows of hooks and a clever wedge."


@pytest.mark.parametrize("story", [BOAT, CALF])
def test_a_story_without_a_word_of_speech_is_no_essay(story: tuple[str, ...]) -> None:
    found = _found(*story)
    assert {p.role for p in found.paragraphs} == {"other"}
    assert found.thesis is None


def test_a_paragraph_that_tells_what_happened_is_still_a_paragraph() -> None:
    assert [p.role for p in _found(BOAT[0], form="paragraph").paragraphs] == ["body"]


def test_a_subject_and_its_verb_make_a_cue_with_one_word_between_them() -> None:
    assert cues("most people really think so")["others"]
    assert not cues("people in my town often think so")["others"]
