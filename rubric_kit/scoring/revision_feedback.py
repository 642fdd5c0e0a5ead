"""What to say of a revision: to the child, in words no harder than the child's grade, and to the parent."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rubric_kit.scoring.feedback import QUOTED_WORDS, Feedback, grade_of, quoted
from rubric_kit.scoring.revision import Revision
from rubric_kit.scoring.rubric import LEVEL_NAMES
from rubric_kit.scoring.steps_taken import StepTaken, Taken, revision_words

DEEDS = 3  # kinds of change told to the child
STEPS = 2  # next steps told to the child: what was taken, then one thing still to try
PARENT = {
    "kept": "kept",
    "rewritten": "rewritten",
    "moved": "moved",
    "split": "split",
    "joined": "joined to others",
}


def revision_feedback(revision: Revision) -> Feedback:
    """What to say; the child's part has no numbers and a Flesch-Kincaid grade not above the child's own."""
    return Feedback(_to_child(revision), tuple(_to_parent(revision)))


def _to_child(revision: Revision) -> tuple[str, ...]:
    """The longest quotation that keeps it easy enough to read."""
    for limit in QUOTED_WORDS:
        lines = tuple(_child_lines(revision, limit))
        if grade_of(lines) <= revision.after.grade:
            break
    return lines


def _child_lines(revision: Revision, limit: int) -> Iterator[str]:
    words = revision_words()["child"]
    counts = revision.counts
    done = [kind for kind in words["one"] if counts[kind]]
    if not done:
        yield words["say"]["same"]
    else:
        new = next((c.after[0].text for c in revision.changes if c.kind == "added"), "")
        told = [words["say"]["worked"]]
        told += [words["one" if counts[kind] == 1 else "more"][kind] for kind in done[:DEEDS]]
        told += [words["say"]["wrote"].format(quote=quoted(new, limit))] if new and limit else []
        yield " ".join(told)
    for step in _steps(revision):
        yield words["say"][step.taken.replace(" ", "_")].format(step=step.step.child)


def _steps(revision: Revision) -> list[StepTaken]:
    """What was done first, and one thing that is still to do; the same step of two criteria once, as far as it got."""
    order: tuple[Taken, ...] = ("taken", "partly", "not yet")
    by_words: dict[str, StepTaken] = {}
    for step in sorted(revision.steps, key=lambda step: order.index(step.taken)):
        by_words.setdefault(step.step.child, step)
    done = [step for step in by_words.values() if step.taken != "not yet"]
    still = [step for step in by_words.values() if step.taken == "not yet"]
    return [*done[: STEPS - 1], *still[:1]] if still else done[:STEPS]


def _to_parent(revision: Revision) -> Iterator[str]:
    yield _what_was_done(revision)
    yield _levels(revision)
    yield _steps_taken(revision)


def _what_was_done(revision: Revision) -> str:
    """Of the first draft's sentences, what became of them; and how many are new."""
    first = len(revision.before.measures.essay.sentences)
    became = {kind: sum(len(c.before) for c in revision.changes if c.kind == kind) for kind in (*PARENT, "cut")}
    told = [f"{became[kind]} {words}" for kind, words in (*PARENT.items(), ("cut", "cut")) if became[kind]]
    new = revision.counts["added"]
    return f"Of the first draft's {_many(first)}: {_listed(told)}. The second draft has {_many(new, 'new ')}."


def _levels(revision: Revision) -> str:
    moved = [
        f"{m.name} from {m.before} {LEVEL_NAMES[m.before]} to {m.after} {LEVEL_NAMES[m.after]}"
        for m in revision.levels
        if m.before != m.after
    ]
    before, after = revision.before, revision.after
    percent = f"All in all from {before.percent:g} to {after.percent:g} out of 100, as proposed."
    if before.percent == after.percent:
        percent = f"All in all still {after.percent:g} out of 100, as proposed."
    return f"{_listed(moved).capitalize()}. {percent}" if moved else f"No proposed level changed. {percent}"


def _steps_taken(revision: Revision) -> str:
    """The criteria whose steps were taken, begun and not yet taken; why is in ``revision.steps``."""
    heads: dict[Taken, str] = {"taken": "Taken", "partly": "Begun", "not yet": "Not yet"}
    names = {taken: [step.name for step in revision.steps if step.taken == taken] for taken in heads}
    told = (f"{heads[taken]}: {_listed(found)}." for taken, found in names.items() if found)
    return f"The next steps of the first draft. {' '.join(told)}"


def _many(count: int, what: str = "") -> str:
    return f"{count or 'no'} {what}{'sentence' if count == 1 else 'sentences'}"


def _listed(items: Iterable[str]) -> str:
    *most, last = items
    return f"{', '.join(most)} and {last}" if most else last
