"""What was done to each sentence between two drafts."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubric_kit.reading import Essay, read_text
from rubric_kit.scoring.changes import Change, Span, changes

sys.path.insert(0, str(Path(__file__).parent))
from labelled_revisions import HALVES, pairs

FIRST = "Dogs are loyal. My dog Biscuit waits at the gate. He barks at the mail. Cats sleep all day."


def done(first: str, second: str) -> tuple[Change, ...]:
    return changes(read_text(first), read_text(second))


def kinds(first: str, second: str) -> list[str]:
    return [change.kind for change in done(first, second)]


def whole(found: tuple[Change, ...], before: Essay, after: Essay) -> None:
    """Each sentence is in one change, each span is its own text, each edit lies in its change."""
    for essay, side in ((before, "before"), (after, "after")):
        spans: list[Span] = sorted((s for c in found for s in getattr(c, side)), key=lambda s: s.start)
        assert [(s.start, s.end) for s in spans] == [(s.start, s.end) for s in essay.sentences]
        for change in found:
            for span in (*getattr(change, side), *(getattr(edit, side) for edit in change.edits)):
                assert essay.text[span.start : span.end] == span.text
                part = essay.paragraphs[span.paragraph - 1]
                assert part.start <= span.start <= span.end
            for edit in change.edits:
                assert getattr(change, side)[0].start <= getattr(edit, side).start <= getattr(change, side)[-1].end


def test_the_same_draft_is_kept_word_for_word() -> None:
    assert set(kinds(FIRST, FIRST)) == {"kept"}


def test_spaces_and_curly_quotes_change_nothing() -> None:
    assert kinds('He said "stop" to me.', "He  said “stop” to me.") == ["kept"]


def test_a_sentence_put_in_is_added_and_one_left_out_is_cut_at_its_place() -> None:
    second = FIRST.replace("Cats sleep all day.", "").replace("He barks", "That is love. He barks")
    assert kinds(FIRST, second) == ["kept", "kept", "added", "kept", "cut"]


def test_changed_words_are_named_on_both_sides() -> None:
    (change,) = done("My dog waits at the gate.", "My old dog waits by the gate!")
    assert change.kind == "rewritten"
    assert [(e.before.text, e.after.text) for e in change.edits] == [("", "old"), ("at", "by"), (".", "!")]


def test_spelling_put_right_is_a_rewriting() -> None:
    (change,) = done("He chases it untill dark.", "He chases it until dark.")
    assert [(e.before.text, e.after.text) for e in change.edits] == [("untill", "until")]


def test_a_sentence_out_of_order_is_moved_and_the_longer_stretch_stays() -> None:
    second = "Cats sleep all day. Dogs are loyal. My dog Biscuit waits at the gate. He barks at the mail."
    assert kinds(FIRST, second) == ["moved", "kept", "kept", "kept"]


def test_a_paragraph_moved_as_a_whole_is_moved_sentence_by_sentence() -> None:
    one, two = "Bees make honey. They dance.", "Ants build large hills. They carry leaves. Each has its work."
    assert kinds(f"{one}\n\n{two}", f"{two}\n\n{one}") == ["kept", "kept", "kept", "moved", "moved"]


def test_a_new_paragraph_break_moves_nothing() -> None:
    assert kinds(FIRST, FIRST.replace(" He barks", "\n\nHe barks")) == ["kept"] * 4


def test_a_run_on_cut_in_two_is_split_and_short_sentences_made_one_are_joined() -> None:
    long, short = "We built a fort and then we threw snowballs.", "We built a fort. Then we threw snowballs."
    (split,) = done(long, short)
    assert (split.kind, len(split.before), len(split.after)) == ("split", 1, 2)
    (joined,) = done(short, long)
    assert (joined.kind, len(joined.before), len(joined.after)) == ("joined", 2, 1)


def test_another_piece_altogether_is_cut_and_added() -> None:
    assert set(kinds(FIRST, "Volcanoes erupt. Lava flows downhill. Ash covers towns.")) == {"cut", "added"}


def test_a_sentence_repeated_many_times_is_paired_one_to_one() -> None:
    assert kinds("I like it. " * 90, "I like it. " * 89).count("kept") == 89


@pytest.mark.parametrize("half", HALVES)
def test_every_sentence_of_the_labelled_drafts_is_in_one_change(half: str) -> None:
    for pair in pairs(half):
        before, after = read_text(pair.first), read_text(pair.second)
        whole(changes(before, after), before, after)


SENTENCES = st.lists(
    st.sampled_from([*FIRST.split(". "), "!!! A", "I do", "We do", "É 漢字 \U0001f600 x", "so"]), min_size=1
)
DRAFT = st.lists(SENTENCES, min_size=1, max_size=4).map(lambda ps: "\n\n".join(". ".join(p) + "." for p in ps))


@settings(max_examples=60, deadline=None)
@given(DRAFT, DRAFT)
def test_any_two_drafts_are_told_apart_sentence_by_sentence(first: str, second: str) -> None:
    before, after = read_text(first), read_text(second)
    found = changes(before, after)
    whole(found, before, after)
    stay = [c for c in found if c.before and c.after and c.kind != "moved"]
    assert [c.before[0].start for c in stay] == sorted(c.before[0].start for c in stay)
