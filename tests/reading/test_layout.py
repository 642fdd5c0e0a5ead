"""Heading, title and paragraphs as children lay them out; every part is a slice of the child's own text."""

from __future__ import annotations

import textwrap

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from rubric_kit.reading import Essay, read_text
from rubric_kit.reading.layout import essay_from_text

OWLS = "Owls hunt at night because their eyes are made for the dark. They hear a mouse under deep snow."
NEST = "A barn owl does not build a nest. It lays its eggs on a beam or in a hollow tree, and it comes back each year."
END = (
    "That is why the owl is my favorite bird of all. I hope that we never cut down the old barn on the hill, since it "
    "would lose its home."
)
THREE = (OWLS, NEST, END)


def read(text: str) -> Essay:
    return essay_from_text(text, "test")


def paragraphs(text: str) -> list[str]:
    essay = read(text)
    return [" ".join(essay.text[p.start : p.end].split()) for p in essay.paragraphs]


def wrapped(text: str, width: int = 60, indent: str = "") -> str:
    return textwrap.fill(text, width, initial_indent=indent)


def hand_wrapped(text: str) -> str:
    """Lines of very different lengths, as a child breaks them who copies from paper."""
    words = text.split()
    lines: list[str] = []
    while words:
        count = (9, 11, 8, 10, 12)[len(lines) % 5]
        lines.append(" ".join(words[:count]))
        words = words[count:]
    return "\n".join(lines)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("\n\n".join(THREE), id="blank lines"),
        pytest.param("\r\n\r\n".join(THREE), id="blank lines, Windows"),
        pytest.param("\r\r".join(THREE), id="blank lines, old Mac"),
        pytest.param("\n \t\n".join(THREE), id="blank lines with spaces"),
        pytest.param("\n\u00a0\n".join(THREE), id="blank lines with a non-breaking space"),
        pytest.param("\n".join(THREE), id="new lines"),
        pytest.param("\r\n".join(THREE), id="new lines, Windows"),
        pytest.param("\u2029".join(THREE), id="paragraph separators"),
        pytest.param("\n".join("    " + p for p in THREE), id="indents of spaces"),
        pytest.param("\n".join("\t" + p for p in THREE), id="tabs"),
        pytest.param("\n".join("\u00a0\u00a0\u00a0" + p for p in THREE), id="indents of non-breaking spaces"),
        pytest.param("\n".join("\u3000" + p for p in THREE), id="indents of ideographic spaces"),
        pytest.param("\n\n".join(map(wrapped, THREE)), id="hard-wrapped, blank lines"),
        pytest.param("\n".join(wrapped(p, indent="   ") for p in THREE), id="hard-wrapped, indents"),
        pytest.param("\n\n".join(map(hand_wrapped, THREE)), id="wrapped by hand"),
        pytest.param("\n".join(wrapped(p, 66) for p in THREE), id="hard-wrapped, short last lines only"),
        pytest.param("\n\f\n".join(THREE), id="a page each"),
        pytest.param("\n* * *\n".join(THREE), id="ornaments between"),
        pytest.param("\n_______\n".join(THREE), id="rules between"),
        pytest.param("Introduction\n{}\n\nBody 1:\n{}\n\nConclusion\n{}".format(*THREE), id="labelled parts"),
        pytest.param("\n\n".join(THREE) + "\n\nThe End", id="the end"),
        pytest.param("\n\n".join(THREE) + "\n\nWorks Cited\nField, Ann. Birds of Farms. 2001.", id="a list of sources"),
        pytest.param("\v\v".join(THREE), id="two soft breaks"),
    ],
)
def test_three_paragraphs_are_found_in_every_layout(text: str) -> None:
    assert paragraphs(text) == list(THREE)


@pytest.mark.parametrize("text", [" ".join(THREE), wrapped(" ".join(THREE)), "\v".join(THREE), "\u2028".join(THREE)])
def test_one_block_is_one_paragraph(text: str) -> None:
    assert paragraphs(text) == [" ".join(THREE)]


def test_a_double_spaced_page_is_no_string_of_paragraphs() -> None:
    assert paragraphs(wrapped(" ".join(THREE)).replace("\n", "\n\n")) == [" ".join(THREE)]


def test_dialogue_on_new_lines_is_paragraphs() -> None:
    lines = ['"Who is there?" asked Ben.', '"It is only me," said the owl.', "Ben laughed."]
    assert paragraphs("\n".join(lines)) == lines
    assert paragraphs("\n".join("   " + line for line in lines)) == lines


def test_lines_broken_in_mid_sentence_are_one_paragraph() -> None:
    assert len(paragraphs("i love my dog\nhe is big and i play with him\nand we run")) == 1


def test_list_items_belong_to_the_paragraph_that_they_follow() -> None:
    text = f"{OWLS} You need:\n- a lamp\n- a warm coat\n\n{END}"
    assert len(paragraphs(text)) == 2


HEADINGS = [
    "Name: Kit Farrow\nDate: May 3\nGrade 5",
    "Kit Farrow\nMrs. Alder\nEnglish 5\nMay 3, 2024",
    "May 3, 2024\nKit Farrow",
    "Kit Farrow\nLiterature, Grade 6\nOctober 14",
    "Kit Farrow          10/3/24",
    "by Kit Farrow",
    "Hannah Alder",
    "                                   Kit Farrow\n                                   Period 3",
    "3rd Grade\nMs. Alder's Class\nBook Report",
    "Kit Farrow, Grade 5, May 3",
    "Kit Farrow\nReading\nOctober 12",
    "Dear Mr. Alder,",
    "dear principal",
    "May 3\n\nTo whom it may concern:",
]
TITLES = [
    "The Night Bird",
    "Why Owls Matter",
    "Owls Rule!",
    "What Do Owls Eat?",
    "OWLS",
    "Night birds",
    "Owls of the barn",
]


@pytest.mark.parametrize("heading", HEADINGS)
@pytest.mark.parametrize("gap", ["\n", "\n\n"])
def test_heading_and_title_are_kept_out_of_the_counts(heading: str, gap: str) -> None:
    essay = read(f"{heading}\n\nThe Night Bird{gap}" + "\n\n".join(THREE))
    assert essay.heading is not None
    assert essay.heading.text == heading.strip()
    assert essay.title is not None
    assert essay.title.text == "The Night Bird"
    assert len(essay.paragraphs) == 3


@pytest.mark.parametrize("heading", HEADINGS)
def test_a_heading_without_a_title_is_no_title(heading: str) -> None:
    essay = read(f"{heading}\n\n" + "\n\n".join(THREE))
    assert essay.heading is not None
    assert essay.heading.text == heading.strip()
    assert essay.title is None


@pytest.mark.parametrize("title", TITLES)
def test_a_title_is_found_without_a_heading(title: str) -> None:
    essay = read(f"{title}\n\n" + "\n\n".join(THREE))
    assert essay.heading is None
    assert essay.title is not None
    assert essay.title.text == title


@pytest.mark.parametrize("line", ["# {}", '"{}"', "**{}**", "Title: {}", "“{}”", "              {}"])
def test_marks_and_label_around_a_title_are_no_part_of_it(line: str) -> None:
    title = read(line.format("Birds of the barn") + "\n\n" + OWLS).title
    assert title is not None
    assert title.text == "Birds of the barn"


def test_a_byline_below_the_title_is_the_heading() -> None:
    essay = read(f"The Night Bird\nby Kit Farrow\nGrade 5\n\n{OWLS}")
    assert (essay.title and essay.title.text, essay.heading and essay.heading.text) == (
        "The Night Bird",
        "by Kit Farrow\nGrade 5",
    )


@pytest.mark.parametrize(
    "text",
    [
        "I love my dog",
        "The Night Bird",
        "Dogs are fun.\nI love them.\nThey are nice.",
        "i love my dog\nhe is big\nhe plays with me",
        f"Have you ever heard an owl?\n\n{OWLS}",
        f"I love owls\n\n{OWLS}",
        f"Bang!\n\n{OWLS}",
        f"It was a dark night,\nand {OWLS}",
        f"Once there was an owl named Hoot\n\n{OWLS}",
        f'"Stop!"\n\n{OWLS}',
        f"O\n\n{OWLS.lower()}",
        f"Imagine\n\n, if you can, that {OWLS}",
        f"Hey, I'm Kit.\n\n{OWLS}",
    ],
)
def test_a_first_sentence_is_no_title(text: str) -> None:
    essay = read(text)
    assert essay.title is None
    assert essay.heading is None
    assert essay.paragraphs[0].start == 0


@pytest.mark.parametrize("text", ["", " \n\t", "...", "* * *", "\ufeff", "😀😀"])
def test_a_text_without_a_word_has_no_paragraph(text: str) -> None:
    assert read(text).paragraphs == ()


CHILDISH = st.text(
    alphabet=st.sampled_from("ab AI.!?\"'“”’(),;:-–…12&#*_\n\r\t\v\f\u00a0\u2028\u2029\u3000😀é中"), max_size=200
)


@settings(deadline=None, max_examples=300)
@given(st.one_of(st.text(), CHILDISH))
@example("0A:.0%0")
def test_parts_lie_inside_each_other_in_order_and_none_is_empty(text: str) -> None:
    essay = read(text)
    paragraph_end = 0
    for paragraph in essay.paragraphs:
        assert paragraph_end <= paragraph.start
        sentence_end = paragraph.start
        for sentence in paragraph.sentences:
            assert sentence_end <= sentence.start
            assert not text[sentence.start].isspace()
            assert not text[sentence.end - 1].isspace()
            word_end = sentence.start
            for word in sentence.words:
                assert word_end <= word.start
                assert text[word.start : word.end] == word.text
                word_end = word.end
            assert word_end <= sentence.end
            assert sentence.words
            sentence_end = sentence.end
        assert sentence_end <= paragraph.end
        assert paragraph.sentences
        paragraph_end = paragraph.end
    for block in (essay.title, essay.heading):
        assert block is None or text[block.start : block.end] == block.text


@settings(deadline=None)
@given(st.lists(st.sampled_from([*THREE, "we ran", "Dogs are fun!", '"Stop!" he said.']), min_size=1, max_size=5))
def test_a_new_paragraph_never_lowers_the_number_of_words(parts: list[str]) -> None:
    before = len(read("\n\n".join(parts)).words)
    assert len(read("\n\n".join([*parts, OWLS])).words) == before + len(read(OWLS).words)


def test_a_lone_word_above_the_date_is_the_writers_name_whatever_else_it_means():
    text = "Wren\nSeptember 22, 2025\nLiterature, Grade 4\nGinger\n     My favorite horse is Ginger. She bites.\n"
    essay = essay_from_text(text, "wren.txt")
    assert essay.title is not None
    assert essay.title.text == "Ginger"
    assert len(essay.paragraphs) == 1


@pytest.mark.parametrize(
    ("top", "title"),
    [
        ("Question: Why isn't Tom afraid any more?\n\n", None),
        ("Question 14. What is the most important thing that the girl learns at the farm in spring?\n\n", None),
        ("Ansel Brandt\nTutorial, Grade 8\nNovember 9\n\nA City Built to Burn\n\n", "A City Built to Burn"),
        ("Odile Farr\nLiterature 8\nThe blacksmith, last question\n\nThe Gentleman at the Forge\n\n", None),
        ("Caspar Lind\nLit and Comp\nMar. 4\n\nWho Is the Real Monster?\n\n", "Who Is the Real Monster?"),
        ("Devin M.\n\n", None),
        ("Oskar Farr\nReading group\nThe Moor\n\n", "The Moor"),
        ("Lachlan Lind\nNovel study\nAn Odd Pair\n", "An Odd Pair"),
        ("Julian Brandt\nOne paragraph: how or why\n\n", None),
        ("Overboard\nby Annika\n\n", "Overboard"),
    ],
)
def test_what_stands_above_the_essay_is_no_paragraph(top, title):
    body = "The boy went down to the sea every morning because he liked it. He never told his mother about it.\n"
    essay = essay_from_text(f"{top}{body}\nHe was happy there. He knew that it could not go on for ever.\n", "x.txt")
    assert [essay.text[p.start : p.end][:3] for p in essay.paragraphs] == ["The", "He "]
    assert title is None or (essay.title is not None and essay.title.text == title)


@pytest.mark.parametrize(
    "text",
    [
        "The old man said to Mr.\nBrown that he would come.",
        "They took it to (Capt.\nSmollett at the inn.",
        "“I will come at once,”\nsaid the boy.",
        '"It is late,"\nsaid the boy.',
    ],
)
def test_a_line_that_cannot_end_a_sentence_goes_on_in_the_next(text: str) -> None:
    assert len(read_text(text).paragraphs) == 1


def test_a_new_speaker_after_a_closed_quotation_is_a_new_paragraph() -> None:
    assert len(read_text("“I will come.”\n“So will I,” said the girl.").paragraphs) == 2


@pytest.mark.parametrize("name", ["Bo", "Al", "Ed", "Pip"])
@pytest.mark.parametrize("gap", ["\n", "\n\n"])
def test_a_name_of_two_letters_above_a_title_is_the_writers(name: str, gap: str) -> None:
    essay = read(f"{name}{gap}The Night Hunters\n\n" + "\n\n".join(THREE))
    assert essay.heading is not None
    assert essay.title is not None
    assert (essay.heading.text, essay.title.text) == (name, "The Night Hunters")
    assert len(essay.paragraphs) == len(THREE)


@pytest.mark.parametrize("word", ["My", "It", "We", "In"])
def test_a_small_word_broken_off_above_a_line_is_no_name(word: str) -> None:
    assert read(f"{word}\nThe Night Hunters\n\n{OWLS}").heading is None
