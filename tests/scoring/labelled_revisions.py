"""Pairs of first and second drafts with what was done to each sentence, labelled by hand.

The drafts are invented. ``first`` has a sentence a line, numbered from 1, and an empty line between paragraphs.
``second`` has the same, and before each sentence what it is and the numbers of the sentences that it came from:

    kept 3                     the same words; their order among what was not moved is the same
    rewritten 4: Better words. the same thing said with other words, spelling or marks
    moved 5                    at another place in the order (with a text where its words changed too)
    split 2: One part.         one of two or more sentences made of one
    joined 6 7: Both.          one sentence made of two or more
    added: New.                nothing of the first draft
    cut 8                      has no place in the second draft; it need not be named

Where two swap, the one that left its paragraph was moved; within a paragraph, the one of fewer words. ``steps`` has,
for measures that a next step on the first draft may be about, whether a teacher would say that the second draft took
it: "taken", "partly" or "not yet".
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from pathlib import Path

FOLDER = Path(__file__).parent / "revisions"
HALVES = ("tune", "report")
LINE = re.compile(r"(kept|rewritten|moved|split|joined|added|cut)([\d ]*)(?:: (.*))?")
Labelled = tuple[str, tuple[int, ...], tuple[int, ...]]  # kind, sentence numbers before and after, from 0


@dataclass(frozen=True, slots=True)
class Pair:
    name: str
    grade: int
    form: str
    first: str
    second: str
    changes: frozenset[Labelled]
    first_sentences: tuple[str, ...]
    second_sentences: tuple[str, ...]
    steps: dict[str, str] = field(default_factory=dict)


def pairs(half: str) -> list[Pair]:
    """The labelled pairs of one half, "tune" or "report"."""
    return [_pair(path) for path in sorted((FOLDER / half).glob("*.toml"))]


def _pair(path: Path) -> Pair:
    row = tomllib.loads(path.read_text("utf-8"))
    first = [line for line in row["first"].splitlines() if line]
    parts: dict[int, list[int]] = {}  # the parts of each split sentence
    changes: set[Labelled] = set()
    paragraphs: list[list[str]] = [[]]
    used: set[int] = set()
    at = 0
    for line in row["second"].strip().splitlines():
        if not line:
            paragraphs.append([])
            continue
        match = LINE.fullmatch(line)
        if match is None:
            raise ValueError(f"{path}: cannot read {line!r}")
        kind, numbers, text = match[1], tuple(int(n) - 1 for n in match[2].split()), match[3]
        if kind == "cut":
            continue
        if kind != "split" and used & set(numbers):
            raise ValueError(f"{path}: a sentence is named twice, again in {line!r}")
        used |= set(numbers)
        paragraphs[-1].append(text or first[numbers[0]])
        if kind == "split":
            parts.setdefault(numbers[0], []).append(at)
        else:
            changes.add((kind, numbers, (at,)))
        at += 1
    changes |= {("split", (one,), tuple(many)) for one, many in parts.items()}
    changes |= {("cut", (n,), ()) for n in range(len(first)) if n not in used}
    return Pair(
        name=path.stem,
        grade=row["grade"],
        form=row["form"],
        first="\n\n".join(" ".join(block.splitlines()) for block in row["first"].strip().split("\n\n")),
        second="\n\n".join(" ".join(block) for block in paragraphs),
        changes=frozenset(changes),
        first_sentences=tuple(first),
        second_sentences=tuple(sentence for block in paragraphs for sentence in block),
        steps=row.get("steps", {}),
    )
