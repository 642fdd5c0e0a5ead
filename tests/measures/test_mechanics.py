"""All finders of mechanics together."""

from __future__ import annotations

from dataclasses import astuple

from rubric_kit.measures.catalogue import run
from rubric_kit.measures.mechanics import mechanics
from rubric_kit.measures.mechanics_rates import MECHANICS, mechanics_counts
from rubric_kit.measures.parse import parse
from rubric_kit.reading.layout import essay_from_text

TEXT = "i dont like them becuase there to loud. The the dog dont bark, it is nice. When we left. My freind go home"


def test_each_finder_reports_in_its_own_field() -> None:
    essay = essay_from_text(TEXT, "test")
    found = mechanics(essay, parse(essay))
    assert {"becuase", "freind"} <= {item.text for item in found.spelling}
    assert "to" in {item.text for item in found.confused_words}
    assert [item.text for item in found.fragments] == ["When we left."]
    assert [item.kind for item in found.run_ons] == ["comma splice"]
    assert [item.text for item in found.capitals] == ["i"]
    assert [item.text for item in found.repeated_words] == ["The the"]
    assert [item.text for item in found.end_marks] == ["home"]


def test_no_word_is_accused_twice() -> None:
    essay = essay_from_text(TEXT, "test")
    found = mechanics(essay, parse(essay))
    words = [found.spelling, found.confused_words, found.capitals, found.repeated_words, found.agreement]
    places = [place for items in words for item in items for place in range(item.start, item.end)]
    assert len(places) == len(set(places))


def test_an_empty_essay_has_no_slips() -> None:
    essay = essay_from_text("", "test")
    assert not any(astuple(mechanics(essay, parse(essay))))


def test_a_misspelling_leaves_a_sentence_well_made_and_any_other_slip_does_not() -> None:
    essay = essay_from_text("My freind likes soup. we like it too. The soup is hot, it burns. We eat it.", "test")
    counts = mechanics_counts(essay, mechanics(essay, parse(essay)))
    assert (counts.well_made, counts.sentences) == (2, 4)
    assert run(MECHANICS["well_made_share"], counts).value == 0.5
