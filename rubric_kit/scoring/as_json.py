"""A score sheet as plain data for JSON: offsets index the text that ``rubric_kit.read(path).text`` gives."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from typing import Any

from rubric_kit.measures.found import Found
from rubric_kit.measures.school_grade import consensus
from rubric_kit.scoring.sheet import CriterionScore, NextStep, ScoreSheet

Json = dict[str, Any]


def as_json(sheet: ScoreSheet) -> Json:
    """Everything on the sheet; a missing part is null, a measure that cannot be said is null with its reason."""
    measured = sheet.measures
    essay = measured.essay
    readable = measured.family("readability")
    return {
        "source": essay.source,
        "title": essay.title.text if essay.title else None,
        "heading": essay.heading.text if essay.heading else None,
        "grade": sheet.grade,
        "form": measured.form,
        "counts": {
            "paragraphs": len(essay.paragraphs),
            "sentences": len(essay.sentences),
            "words": measured.counts.words,
            "syllables": measured.counts.syllables,
            "letters": measured.counts.letters,
        },
        "readability": {name: _number(result.value) for name, result in readable.items()},
        "readability_notes": {n: r.why_not or r.note for n, r in readable.items() if r.why_not or r.note},
        "school_grade": _consensus(sheet),
        "structure": _structure(sheet),
        "mechanics": _mechanics(sheet),
        "measures": {name: _number(r.value) for name, r in measured.items() if name not in readable},
        "criteria": [_criterion(c) for c in sheet.criteria],
        "percent": sheet.percent,
        "letter": sheet.letter,
        "cautions": list(sheet.cautions),
    }


def span(found: Found | None) -> Json | None:
    """A found item with its place; suggestions where there are any."""
    if found is None:
        return None
    item: Json = {
        "text": found.text,
        "start": found.start,
        "end": found.end,
        "kind": found.kind,
        "why": found.why,
        "paragraph": found.paragraph,
        "sure": found.sure,
    }
    return item | {"suggestions": list(found.suggestions)} if found.suggestions else item


def _spans(found: Iterable[Found]) -> list[Json | None]:
    return [span(f) for f in found]


def _structure(sheet: ScoreSheet) -> Json:
    found = sheet.measures.structure
    return {
        "paragraphs": [
            {
                "number": p.number,
                "start": p.start,
                "end": p.end,
                "role": p.role,
                "topic_sentence": span(p.topic_sentence),
                "answers": list(p.answers),
                "evidence": p.evidence,
                "explanation": p.explanation,
            }
            for p in found.paragraphs
        ],
        "hook": span(found.hook),
        "bridge": _spans(found.bridge),
        "thesis": span(found.thesis),
        "forecast": _spans(found.forecast),
        "restated_thesis": span(found.restated_thesis),
        "closing_thought": span(found.closing_thought),
        "evidence": _spans(found.evidence),
        "explanation": _spans(found.explanation),
        "transitions": _spans(found.transitions),
        "new_claim_in_conclusion": span(found.new_claims[0]) if found.new_claims else None,
        "new_claims": _spans(found.new_claims),
        "notes": list(found.notes),
    }


def _mechanics(sheet: ScoreSheet) -> Json:
    found = sheet.measures.mechanics
    return {kind.name: _spans(getattr(found, kind.name)) for kind in fields(found)}


def _criterion(score: CriterionScore) -> Json:
    return {
        "key": score.key,
        "name": score.name,
        "weight": score.weight,
        "level": score.level,
        "score": score.score,
        "sure": score.sure,
        "descriptor": score.descriptor,
        "reasons": [r.text for r in score.reasons],
        "evidence": _spans(score.evidence),
        "not_judged": score.not_judged,
        "next_step": _step(score.next_step),
    }


def _step(step: NextStep) -> Json:
    return {"teach": step.what, "child": step.child, "exercise": step.exercise, "sentence": span(step.sentence)}


def _consensus(sheet: ScoreSheet) -> Json:
    agreed = consensus(sheet.measures.family("readability"))
    return {"median": agreed.grade, "low": agreed.low, "high": agreed.high, "note": agreed.note}


def _number(value: float | None) -> float | None:
    return None if value is None else round(value, 4)
