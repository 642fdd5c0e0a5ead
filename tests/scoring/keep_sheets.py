"""What a reader is shown of the demo year, and slips of other essays, kept in kept/ so that no change goes unnoticed.

    python tests/scoring/keep_sheets.py     # after a change that was meant: writes kept/ anew; look at the difference

Kept is what the program says, right or wrong: how often it is right is measured in tests/labelled.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields
from pathlib import Path

from rubric_kit.measures.found import Found
from rubric_kit.measures.school_grade import consensus
from rubric_kit.measures.signs import signs
from rubric_kit.measures.structure.parts import Structure
from rubric_kit.reading import read, read_text
from rubric_kit.scoring.feedback import feedback
from rubric_kit.scoring.readers import TRAITS, readers_view
from rubric_kit.scoring.revision import Revision, compare
from rubric_kit.scoring.revision_feedback import revision_feedback
from rubric_kit.scoring.score import score
from rubric_kit.scoring.sheet import ScoreSheet

SAMPLES = Path(__file__).parents[2] / "sample_essays"
TUNE = sorted((Path(__file__).parents[1] / "labelled" / "tune").glob("*.toml"))
FEW = 6  # one essay in so many: it is parsed anew
EVERY = 8  # one labelled essay in so many
KEPT = Path(__file__).parent / "kept"
SHOWN = 60  # characters of a found span: its place tells the rest
DIGITS = 5  # of a measure's value that count
FIRST, SECOND = "_draft-1", "_draft-2"


def all_sheets() -> dict[str, ScoreSheet]:
    """The demo year, each piece at the grade of its heading and in the form that its child was asked for."""
    year = tomllib.loads((SAMPLES / "year.toml").read_text("utf-8"))
    forms = {(row["student"], task["title"]): row["form"] for task in year["task"] for row in task["for"]}
    rows = sorted(year["draft"], key=lambda row: str(row["file"]))
    return {r["file"]: score(read(SAMPLES / r["file"]), form=forms[r["student"], r["task"]]) for r in rows}


def measures_text(sheets: Mapping[str, ScoreSheet]) -> str:
    """A line for each measure, a column for each essay; blank where it cannot be said."""
    names = list(next(iter(sheets.values())).measures)
    lines = ["\t".join(["measure", *(name.rsplit(".", 1)[0] for name in sheets)])]
    for name in names:
        values = (sheet.measures[name].value for sheet in sheets.values())
        lines.append("\t".join([name, *map(_value, values)]))
    return "\n".join(lines) + "\n"


def readers_text(sheets: Mapping[str, ScoreSheet]) -> str:
    """The same of what only the readers' view measures, and its estimates, for some of the essays."""
    some = dict(list(sheets.items())[::FEW])
    columns = []
    for sheet in some.values():
        view = readers_view(sheet.measures)
        found = {name: result.value for name, result in signs(sheet.measures).items()}
        columns.append(found | {trait: view[trait].value for trait in TRAITS})
    lines = ["\t".join(["measure", *(name.rsplit(".", 1)[0] for name in some)])]
    lines += ["\t".join([name, *(_value(column[name]) for column in columns)]) for name in columns[0]]
    return "\n".join(lines) + "\n"


def sheets_text(sheets: Mapping[str, ScoreSheet]) -> str:
    """Levels, reasons, found spans and feedback of every essay."""
    return "\n".join(line for name, sheet in sheets.items() for line in (f"# {name}", *_sheet(sheet), "")) + "\n"


def revisions_text(sheets: Mapping[str, ScoreSheet]) -> str:
    """What is said of every second draft."""
    drafts = {_piece(name): name for name in sheets if FIRST in name}
    pairs = [(drafts[_piece(name)], name) for name in sheets if SECOND in name]
    return "\n".join(
        line for one, other in pairs for line in (f"# {other}", *_revision(compare(sheets[one], sheets[other])), "")
    )


def labelled_sheets() -> dict[str, ScoreSheet]:
    """Some of the essays labelled for tuning, which have more slips, stories and odd forms than the demo year."""
    rows = {path.stem: tomllib.loads(path.read_text("utf-8")) for path in TUNE[::EVERY]}
    return {
        name: score(read_text(row["text"], name), form=row["form"], grade=row["grade"]) for name, row in rows.items()
    }


def found_text(sheets: Mapping[str, ScoreSheet]) -> str:
    """What was found in each essay, with its levels."""
    lines = []
    for name, sheet in sheets.items():
        lines += [f"# {name}", *_parts(sheet), " ".join(f"{c.key} {c.level} {c.score:g}" for c in sheet.criteria), ""]
    return "\n".join(lines)


def _value(value: float | None) -> str:
    return "" if value is None else f"{value:.{DIGITS}g}"


def _piece(name: str) -> tuple[str, ...]:
    """Child and title, without date and draft."""
    return tuple(name.split("_")[1:3])


def _sheet(sheet: ScoreSheet) -> Iterator[str]:
    measured = sheet.measures
    yield f"grade {sheet.grade}, {measured.form}, {sheet.percent:g} {sheet.letter}"
    yield from (f"caution: {line}" for line in sheet.cautions)
    agreed = consensus(measured.family("readability"))
    if agreed.grade is not None and agreed.low is not None and agreed.high is not None:
        yield f"school grade: {agreed.grade:.1f} ({agreed.low:.1f} to {agreed.high:.1f}) {agreed.note}"
    yield from _parts(sheet)
    for result in measured.values():
        if result.why_not or result.note:
            yield f"{result.name}: {result.why_not or result.note}"
    for c in sheet.criteria:
        yield f"{c.key}: {c.level}, {c.score:g}, {c.sure:g} sure"
        yield from (f"  {r.measure} {r.level:.2f} x {r.weight:.2f}: {r.text}" for r in c.reasons)
        yield f"  rests on {', '.join(f'{f.start}-{f.end} {f.kind}' for f in c.evidence)}"
        yield f"  next: {c.next_step.what}"
        yield from _found("on", c.next_step.sentence)
    said = feedback(sheet)
    yield from (f"> {line}" for line in (*said.child, *said.parent))


def _parts(sheet: ScoreSheet) -> Iterator[str]:
    measured = sheet.measures
    for part in measured.structure.paragraphs:
        counts = f"evidence {part.evidence}, explanation {part.explanation}, answers {list(part.answers)}"
        yield f"paragraph {part.number}: {part.start}-{part.end} {part.role}; {counts}"
        yield from _found("topic sentence", part.topic_sentence)
    for field in fields(Structure):
        if field.name != "paragraphs":
            value = getattr(measured.structure, field.name)
            yield from (f"note: {note}" for note in value) if field.name == "notes" else _found(field.name, value)
    for kind in fields(measured.mechanics):
        yield from _found(kind.name, getattr(measured.mechanics, kind.name))


def _found(name: str, found: Found | Iterable[Found] | None) -> Iterator[str]:
    for f in () if found is None else (found,) if isinstance(found, Found) else found:
        better = f" [{', '.join(f.suggestions)}]" if f.suggestions else ""
        shown = f.text.replace("\n", " ")[:SHOWN]
        yield f"  {name}: {f.paragraph}, {f.start}-{f.end}, {f.kind}, {f.sure:g} “{shown}”{better} ({f.why})"


def _revision(revision: Revision) -> Iterator[str]:
    yield ", ".join(f"{kind} {number}" for kind, number in revision.counts.items())
    for change in revision.changes:
        before, after = (" ".join(f"{s.start}-{s.end}" for s in side) for side in (change.before, change.after))
        yield f"{change.kind}: {before} > {after}"
    for move in revision.measures:
        yield f"{move.measure}: {_value(move.before)} > {_value(move.after)}, {move.toward} for {move.criteria}"
    yield from (f"{level.key}: {level.before} > {level.after}" for level in revision.levels)
    yield from (f"{step.key}: {step.taken}: {step.why}" for step in revision.steps)
    yield from (f"note: {note}" for note in revision.notes)
    said = revision_feedback(revision)
    yield from (f"> {line}" for line in (*said.child, *said.parent))


def main() -> None:
    sheets = all_sheets()
    KEPT.mkdir(exist_ok=True)
    (KEPT / "measures.tsv").write_text(measures_text(sheets), "utf-8")
    (KEPT / "sheets.txt").write_text(sheets_text(sheets), "utf-8")
    (KEPT / "readers.tsv").write_text(readers_text(sheets), "utf-8")
    others = labelled_sheets()
    (KEPT / "labelled_measures.tsv").write_text(measures_text(others), "utf-8")
    (KEPT / "labelled_found.txt").write_text(found_text(others), "utf-8")
    (KEPT / "revisions.txt").write_text(revisions_text(sheets), "utf-8")


if __name__ == "__main__":
    main()
