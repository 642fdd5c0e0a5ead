"""A sheet as plain data: each part under its name, with offsets into the text."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from rubric_kit.measures.found import Found
from rubric_kit.measures.school_grade import consensus
from rubric_kit.reading import read_text
from rubric_kit.scoring.as_json import as_json, span
from rubric_kit.scoring.score import score
from rubric_kit.scoring.sheet import ScoreSheet


def spans(items: tuple[Found, ...]) -> list[object]:
    return [span(item) for item in items]


def test_a_span_has_its_place_and_suggestions_only_where_there_are_any() -> None:
    bare = Found("bat", 4, 7, "spelling", "because", 2, sure=0.5)
    row = {"text": "bat", "start": 4, "end": 7, "kind": "spelling", "why": "because", "paragraph": 2, "sure": 0.5}
    assert span(bare) == row
    assert span(replace(bare, suggestions=("bats", "cat"))) == row | {"suggestions": ["bats", "cat"]}
    assert span(None) is None


def test_the_head_says_whose_piece_it_is_and_how_long(bats: ScoreSheet) -> None:
    data = as_json(bats)
    essay = bats.measures.essay
    assert data["source"] == "pasted text"
    assert data["title"] == "Why We Need Bats"
    assert data["heading"] == "Robin Ashe\nScience, Grade 6"
    assert (data["grade"], data["form"]) == (8, "five-paragraph")
    assert data["counts"] == {
        "paragraphs": 5,
        "sentences": len(essay.sentences),
        "words": len(essay.words),
        "syllables": bats.measures.counts.syllables,
        "letters": bats.measures.counts.letters,
    }
    assert (data["percent"], data["letter"], data["cautions"]) == (bats.percent, bats.letter, list(bats.cautions))


def test_measures_are_rounded_and_readability_is_apart_with_its_notes(bats: ScoreSheet) -> None:
    data, measured = as_json(bats), bats.measures
    readable = measured.family("readability")
    assert data["readability"] == {name: pytest.approx(r.value, abs=5e-5) for name, r in readable.items()}
    assert data["readability"]["lix"] == round(readable["lix"].value or 0, 4)
    assert data["readability_notes"]["smog"] == f"indicative: wants 30 sentences, has {len(measured.essay.sentences)}"
    assert "lix" not in data["readability_notes"]
    assert set(data["measures"]) | set(data["readability"]) == set(measured)
    assert not set(data["measures"]) & set(data["readability"])
    agreed = consensus(readable)
    assert data["school_grade"] == {
        "median": agreed.grade,
        "low": agreed.low,
        "high": agreed.high,
        "note": agreed.note,
    }


def test_every_found_part_is_under_its_name(bats: ScoreSheet) -> None:
    data, found = as_json(bats)["structure"], bats.measures.structure
    for name in ("hook", "thesis", "restated_thesis", "closing_thought"):
        assert data[name] == span(getattr(found, name))
    for name in ("bridge", "forecast", "evidence", "explanation", "transitions", "new_claims"):
        assert data[name] == spans(getattr(found, name))
    assert data["notes"] == list(found.notes)
    assert data["new_claim_in_conclusion"] is None
    claims = replace(found, new_claims=(found.evidence[0], found.evidence[1]))
    sheet = replace(bats, measures=replace(bats.measures, structure=claims))
    assert as_json(sheet)["structure"]["new_claim_in_conclusion"] == span(found.evidence[0])
    for row, part in zip(data["paragraphs"], found.paragraphs, strict=True):
        assert row == {
            "number": part.number,
            "start": part.start,
            "end": part.end,
            "role": part.role,
            "topic_sentence": span(part.topic_sentence),
            "answers": list(part.answers),
            "evidence": part.evidence,
            "explanation": part.explanation,
        }


def test_slips_are_by_kind(bats: ScoreSheet) -> None:
    sheet = score(read_text("My dogg barks. he is loud loud."), grade=5)
    data = as_json(sheet)["mechanics"]
    assert list(data) == [
        "spelling",
        "confused_words",
        "run_ons",
        "fragments",
        "capitals",
        "end_marks",
        "repeated_words",
        "agreement",
    ]
    assert [[row["text"] for row in data[kind]] for kind in ("spelling", "capitals")] == [["dogg"], ["he"]]
    assert data["repeated_words"] == spans(sheet.measures.mechanics.repeated_words)


def test_each_criterion_has_its_level_reasons_spans_and_step(bats: ScoreSheet) -> None:
    for row, c in zip(as_json(bats)["criteria"], bats.criteria, strict=True):
        assert row == {
            "key": c.key,
            "name": c.name,
            "weight": c.weight,
            "level": c.level,
            "score": c.score,
            "sure": c.sure,
            "descriptor": c.descriptor,
            "reasons": [reason.text for reason in c.reasons],
            "evidence": spans(c.evidence),
            "not_judged": c.not_judged,
            "next_step": {
                "teach": c.next_step.what,
                "child": c.next_step.child,
                "exercise": c.next_step.exercise,
                "sentence": span(c.next_step.sentence),
            },
        }


def test_what_is_missing_is_null_and_all_of_it_is_json() -> None:
    data = json.loads(json.dumps(as_json(score(read_text("Stop!"), grade=3)), allow_nan=False))
    assert (data["title"], data["heading"], data["structure"]["thesis"]) == (None, None, None)
    assert data["measures"]["mattr"] is None
    assert data["readability_notes"]["smog"]


def test_in_a_notebook_a_sheet_is_a_table_of_its_levels(bats: ScoreSheet) -> None:
    page = bats._repr_html_()
    assert page.startswith("<table><caption>")
    assert f"{bats.percent:g} out of 100, {bats.letter}: a proposal, your own levels are final" in page
    for c in bats.criteria:
        assert f"<th scope='row'>{c.name}</th>" in page
    assert bats.criterion("focus") is bats.criteria[0]
    with pytest.raises(KeyError):
        bats.criterion("luck")
