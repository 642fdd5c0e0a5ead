"""How steady the one reader is, and how her levels differ from the proposals, for the terminal and as plain data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rubric_kit.growth.steadiness import Remark, Steadiness, steadiness
from rubric_kit.records.family import Family
from rubric_kit.records.pieces import pieces
from rubric_kit.records.rereading import pairs, standards
from rubric_kit.scoring.standards import Standards
from rubric_kit.showing.lines import Lines

HOW = "To see how steady you are, mark an old piece again without looking: rubric-kit mark NUMBER --again"
ON = "These are shown beside each proposal. To stop: rubric-kit setting set use_reader_standards false"
OFF = "To have them shown beside each proposal: rubric-kit setting set use_reader_standards true"


@dataclass(frozen=True, slots=True)
class Reader:
    """What is known of the one reader.

    names     of the criteria, by key
    used      whether what was learned is shown beside the proposals
    """

    steadiness: Steadiness
    standards: Standards
    names: dict[str, str]
    used: bool


def reader(family: Family) -> Reader:
    """What the records say of the reader."""
    remarks = [Remark(p.again_on, p.criterion, p.first, p.again, p.draft_id) for p in pairs(family)]
    names = {c["key"]: c["name"] for piece in pieces(family) for c in piece.body.get("criteria", ())}
    return Reader(steadiness(remarks), standards(family), names, family.settings.get("use_reader_standards"))


def print_reader(found: Reader) -> None:
    """In words: how steady, and what was learned."""
    out = Lines()
    out.say("How steady your marking is", "bold")
    out.say(found.steadiness.words)
    out.say(HOW, "dim")
    out.heading("Your levels beside the proposed ones")
    for sentence in found.standards.words(found.names):
        out.say(sentence)
    if found.standards.offsets:
        out.say(ON if found.used else OFF, "dim")


def reader_as_json(found: Reader) -> dict[str, Any]:
    """The same as plain data; errors in levels."""
    error = found.steadiness.error()
    return {
        "marked_again": found.steadiness.essays,
        "same": found.steadiness.agreement.exact,
        "within_one": found.steadiness.agreement.adjacent,
        "error": error.value,
        "error_from": error.source,
        "words": found.steadiness.words,
        "marked": found.standards.pieces,
        "offsets": dict(found.standards.offsets),
        "used": found.used,
    }
