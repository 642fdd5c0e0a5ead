"""Short cuts to give tasks, hand in, propose and mark, without scoring anything."""

import json
from datetime import UTC, date, datetime

from rubric_kit.records.rows import Sheet
from rubric_kit.records.tasks import Version
from rubric_kit.scoring.rubric_file import shipped

# The shipped five-paragraph rubric: weights 20, 20, 25, 15, 20; levels 1 to 4 are worth 62, 75, 88, 98.
CRITERIA = ("focus", "organization", "evidence", "sentences", "conventions")
ESSAY = b"Buck is strong. He learns to live in the snow, and then he leads the team."


def levels(*each):
    """Levels of the five criteria in the rubric's order; one number stands for all five."""
    return dict(zip(CRITERIA, each * 5 if len(each) == 1 else each, strict=True))


def give(family, student, title, *, due=None, set_on=date(2025, 9, 1), points=(), book=None, prompt="Why?"):
    """A task for one child; the assignment."""
    task = family.tasks.add(
        title,
        prompt,
        set_on=set_on,
        book_id=book.id if book else None,
        questions=[(f"Question {n}?", worth) for n, worth in enumerate(points, start=1)],
        versions={student.id: Version(form="five-paragraph", due=due)},
    )
    return family.tasks.assignment(task.id, student.id)


def hand_in(family, assignment, day=date(2025, 9, 10), *, own=None, proposed=None, comment="", rubric=None):
    """A draft, proposed and marked where levels are given."""
    draft = family.drafts.hand_in_bytes(assignment.id, ESSAY, "essay.txt", received_on=day)
    if proposed:
        propose(family, draft, proposed, rubric)
    if own:
        family.marks.add(draft.id, own, marked_on=day, comment=comment)
    return draft


def propose(family, draft, proposed, rubric=None):
    """A sheet as if it had been scored, each level resting on one sentence of the essay."""
    text = rubric or shipped("five-paragraph")
    rubric_id = family.tasks.keep_rubric(text, "own.toml", 1)
    sentence = {"text": "Buck is strong.", "paragraph": 1, "why": "states the point of the whole essay"}
    body = {
        "criteria": [
            {"key": key, "level": level, "reasons": [f"A reason for {key}."], "evidence": [sentence]}
            for key, level in proposed.items()
        ]
    }
    with family.database.write("propose") as write:
        return write.add(
            Sheet,
            draft_id=draft.id,
            made_at=datetime(2025, 9, 10, tzinfo=UTC),
            program="rubric_kit 0",
            rubric_id=rubric_id,
            grade=8,
            form="five-paragraph",
            body=json.dumps(body),
        )
