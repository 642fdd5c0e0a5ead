"""Two drafts compared, on a terminal or piped into a file: plain at 80 columns."""

from __future__ import annotations

from collections.abc import Sequence

from rubric_kit.scoring.revision import Revision
from rubric_kit.showing.inert import short
from rubric_kit.showing.lines import Lines
from rubric_kit.showing.revision_view import Bit, Row, StepRow, revision_view

SENTENCE = 150  # characters of a sentence; the whole of it is on the page
MEASURES = 8  # rows; all of them are on the page
CHANGED = ("[", "]")  # around words that are in one draft only


def print_revision(revision: Revision) -> None:
    """What changed in words, next steps, levels, sentence by sentence what was changed, measures and cautions."""
    page, out = revision_view(revision), Lines()
    out.say(f"{page.title}: two drafts", "bold")
    out.say(f"First: {page.before_name} · {page.before_byline} · {page.before_mark}", "dim")
    out.say(f"Second: {page.after_name} · {page.after_byline} · {page.after_mark}", "dim")
    out.heading("What changed")
    for line in (*page.summary, *page.notes):
        out.say(line, indent=2)
    out.heading("For the writer")
    for line in page.child:
        out.say(line, indent=2)
    out.heading("The next steps of the first draft")
    for step in page.steps:
        _step(step, out)
    out.heading("Levels")
    out.table(
        ("criterion", "first draft", "second draft", "moved"),
        ((level.name, level.before, level.after, level.way) for level in page.levels),
    )
    out.heading("Sentence by sentence, without those that are as they were")
    out.say(f"Words in {CHANGED[0]}brackets{CHANGED[1]} are in one draft only.", "dim", indent=2)
    for row in page.rows:
        if row.kind != "kept":
            _row(row, out)
    out.heading("Measures that moved" if page.measures else "Measures that moved: none that the rubric looks for")
    for m in page.measures[:MEASURES]:
        out.say(f"{m.name}: {m.before} → {m.after} ({m.unit}), toward {m.toward}", indent=2)
    if len(page.measures) > MEASURES:
        out.say(f"and {len(page.measures) - MEASURES} more, on the page", "dim", indent=2)
    out.blank()
    out.say(page.caution, "dim")


def _step(step: StepRow, out: Lines) -> None:
    out.say(f"{step.taken.upper()}: {step.name}: {step.step}.", indent=2)
    out.say(step.why, "dim", indent=4)


def _row(row: Row, out: Lines) -> None:
    out.say(f"{row.label} (paragraph {row.after_paragraph or row.before_paragraph})", "bold", indent=2)
    if row.before:
        out.say(f"- {_text(row.before, marked=bool(row.after))}", indent=4)
    if row.after:
        out.say(f"+ {_text(row.after, marked=bool(row.before))}", indent=4)


def _text(bits: Sequence[Bit], marked: bool) -> str:
    """The sentence; where only some of it changed, with brackets around that."""
    left, right = CHANGED if marked else ("", "")
    return short("".join(f"{left}{bit.text}{right}" if bit.changed else bit.text for bit in bits), SENTENCE)
