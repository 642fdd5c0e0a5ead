"""What is missing, implicit or in an unusual place, said plainly and without blame."""

from __future__ import annotations

from dataclasses import replace

from rubric_kit.measures.structure.parts import Structure

PARAGRAPHS = {"paragraph": 1, "three-paragraph": 3, "five-paragraph": 5}
NUMBER_WORDS = {1: "one paragraph", 3: "three paragraphs", 5: "five paragraphs"}


def notes(found: Structure, form: str) -> Structure:
    """The same structure with its notes."""
    return replace(
        found,
        notes=(*_about_form(found, form), *_about_thesis(found, form), *_about_body(found), *_about_end(found, form)),
    )


def _about_form(found: Structure, form: str) -> list[str]:
    wanted, count = PARAGRAPHS.get(form), len(found.paragraphs)
    if wanted is None or count == wanted:
        return []
    if count == 1:
        return [f"The text is one unbroken block; the form asks for {NUMBER_WORDS[wanted]}."]
    if all(p.role == "other" for p in found.paragraphs):
        return ["This reads like a story, not an essay; for a story choose the form narrative."]
    return [f"The form asks for {NUMBER_WORDS[wanted]}; this has {count}."]


def _about_thesis(found: Structure, form: str) -> list[str]:
    if form == "narrative" or not found.with_role("body"):
        return []
    if found.thesis is None:
        return ["No sentence was found that states the point of the whole essay; it may be implied."]
    place = found.paragraphs[found.thesis.paragraph - 1].role
    if place in ("body", "conclusion") and found.with_role("introduction"):
        return [f"The thesis was found in paragraph {found.thesis.paragraph}, not in the introduction."]
    return []


def _about_body(found: Structure) -> list[str]:
    lines = []
    for part in found.with_role("body"):
        topic = part.topic_sentence
        if topic is None:
            lines.append(f"In paragraph {part.number} no sentence was found that states its point; it may be implied.")
        elif topic.start > part.start and len(found.paragraphs) > 1:
            lines.append(f"In paragraph {part.number} the point is stated, but not in its first sentence.")
        if part.evidence == 0:
            lines.append(f"In paragraph {part.number} no definite example, fact or quotation was found.")
        if found.thesis and not part.answers and len(found.paragraphs) > 1:
            lines.append(f"Paragraph {part.number} takes up no word of the thesis; check that it belongs.")
    return lines


def _about_end(found: Structure, form: str) -> list[str]:
    if form == "narrative" or len(found.paragraphs) < 2 or not found.with_role("body"):
        return []
    if not found.with_role("conclusion"):
        return ["No conclusion was found: the last paragraph goes on like the ones before it."]
    lines = [] if found.restated_thesis or not found.thesis else ["The conclusion does not say the thesis again."]
    return lines + [f"The conclusion brings in something new: {_short(c.text)}" for c in found.new_claims]


def _short(text: str) -> str:
    words = text.split()
    return " ".join(words[:12]) + (" ..." if len(words) > 12 else "")
