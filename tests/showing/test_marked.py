import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric_kit.measures.found import Found
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.inert import inert, short
from rubric_kit.showing.labels import labels
from rubric_kit.showing.marked import Mark, marked_essay, marks_of, pieces

TEXT = "Owls hunt at night. They hear a mouse under the snow."
NAMES = [("structure", name) for name in labels("structure")] + [("mechanics", name) for name in labels("mechanics")]


def mark(start: int, end: int, part: str, name: str) -> Mark:
    return Mark(Found(TEXT[start:end], start, end, "kind", "", 1), labels(part)[name])


@given(
    st.lists(
        st.tuples(st.integers(0, len(TEXT)), st.integers(0, len(TEXT)), st.sampled_from(NAMES)).map(
            lambda m: mark(min(m[:2]), max(m[:2]), *m[2])
        )
    )
)
def test_pieces_put_together_are_the_text_however_marks_overlap(marks: list[Mark]) -> None:
    cut = list(pieces(TEXT, 0, len(TEXT), marks))
    assert "".join(p.text for p in cut) == TEXT
    for m in marks:
        inside = [p for p in cut if (p.whole if m.label.whole else p.phrase)]
        assert m.found.start == m.found.end or inside


@given(
    st.lists(
        st.tuples(st.integers(0, 20), st.integers(1, 20), st.sampled_from(NAMES)).map(
            lambda m: mark(m[0], m[0] + m[1], *m[2])
        )
    )
)
def test_every_mark_is_named_once_at_its_own_place(marks: list[Mark]) -> None:
    place = 0
    for piece in pieces(TEXT, 0, len(TEXT), marks):
        starting = {m.label.words(m.found) for m in marks if m.label.whole and m.found.start == place}
        assert {t.words for t in piece.before} == starting
        place += len(piece.text)
        ending = {m.label.words(m.found) for m in marks if not m.label.whole and m.found.end == place}
        assert {t.words for t in piece.after} == ending


def test_a_missing_end_mark_is_named_where_it_is_missing() -> None:
    missing = mark(len(TEXT), len(TEXT), "mechanics", "end_marks")
    *_, last = pieces(TEXT, 0, len(TEXT), [missing])
    assert [t.words for t in last.after] == ["end mark"]


def test_a_slip_inside_a_thesis_is_drawn_as_both() -> None:
    cut = list(pieces(TEXT, 0, 19, [mark(0, 19, "structure", "thesis"), mark(5, 9, "mechanics", "spelling")]))
    assert [(p.text, p.whole, p.phrase) for p in cut] == [
        ("Owls ", "point", ""),
        ("hunt", "point", "slip"),
        (" at night.", "point", ""),
    ]


def test_the_whole_text_is_shown_with_heading_and_title_in_their_places(owls: ScoreSheet) -> None:
    essay = owls.measures.essay
    blocks = marked_essay(essay, marks_of(owls.measures))
    shown = "".join(p.text for b in blocks for line in b.lines for p in line.pieces)
    assert "".join(shown.split()) == "".join(essay.text.split())
    assert [b.kind for b in blocks[:3]] == ["heading", "title", "paragraph"]
    assert [b.number for b in blocks] == [0, 0, 1, 2, 3, 4]


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a\x1b[31mb", "a\u241b[31mb"),
        ("a\u202eb\u2066", "a\ufffdb\ufffd"),
        ("a\x07\x00\x7f\x9b", "a\u2407\u2400\u2421\ufffd"),
        ("a\u200b\u200eb", "ab"),
        ("a\tb\r\nc", "a b  c"),
        ("\udcff", "\ufffd"),
        ("café 漢字 \U0001f468\u200d\U0001f469 e\u0301", "café 漢字 \U0001f468\u200d\U0001f469 e\u0301"),
    ],
)
def test_what_could_steer_a_reader_is_shown_as_a_sign(text: str, shown: str) -> None:
    assert inert(text) == shown


@given(st.text(), st.integers(2, 40))
def test_a_shortened_text_fits(text: str, width: int) -> None:
    assert len(short(text, width)) <= width
