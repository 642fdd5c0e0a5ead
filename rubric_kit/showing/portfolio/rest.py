"""The smaller parts: the rubrics that were used, grades, talks, charts, and how it was all done."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

from rubric_kit.growth.steadiness import ENOUGH
from rubric_kit.records.grades import every_grade
from rubric_kit.records.rows import KeptRubric
from rubric_kit.records.settings import WHOLE
from rubric_kit.records.task_grades import task_grades
from rubric_kit.records.work import program
from rubric_kit.records.worked import Grade, Worked
from rubric_kit.scoring.rubric import LEVEL_NAMES, LEVELS
from rubric_kit.scoring.rubric_file import parse_rubric
from rubric_kit.showing.grades_view import HOW_ROUNDED
from rubric_kit.showing.portfolio.material import Material
from rubric_kit.showing.portfolio.views import ConferenceView, CriterionRow, GradeRow, GradesView, RubricView
from rubric_kit.showing.portfolio.words import count_of, day_in_words, words

STEPS = 1  # of a year's grade down to its terms; each book, task and sentence stands in the page of grades
SAID = ("worked", "next_step", "goal", "outcome")


def rubrics(material: Material) -> tuple[RubricView, ...]:
    """Every rubric that a draft of the year was scored on, in the order of first use."""
    kept = {p.kept_rubric.sha256: p.kept_rubric for p in material.drafts if p.kept_rubric}
    return tuple(_rubric(rubric, material) for rubric in kept.values())


def _rubric(kept: KeptRubric, material: Material) -> RubricView:
    rubric, names = parse_rubric(kept.text, kept.name), material.names
    downwards = LEVELS[::-1]
    return RubricView(
        name=names(rubric.name),
        version=str(rubric.version),
        heads=tuple(f"{level} {LEVEL_NAMES[level]}: {rubric.percent[level]:g} percent" for level in downwards),
        criteria=tuple(
            CriterionRow(names(c.name), f"{c.weight:g}", tuple(names(c.descriptors[level]) for level in downwards))
            for c in rubric.criteria
        ),
        letters=names(", ".join(f"{letter} from {least:g}" for least, letter in rubric.letters)),
    )


def grades(material: Material, school_year: str, today: date) -> GradesView:
    """The grades of the year, its terms and books, and how they came about; tasks where they are not the whole book."""
    say, names = words()["grades"], material.names
    found = [g for g in every_grade(material.family, material.student.id, today) if g.school_year == school_year]
    missing = dict.fromkeys(f"{each.task} ({each.what})" for grade in found for each in grade.missing)
    year = [grade for grade in found if grade.kind == "year"]
    alone = _not_the_whole_book(material, today)
    return GradesView(
        rows=tuple(_grade_row(grade, material) for grade in found if grade.kind != "task" or grade.name in alone),
        worked=tuple((depth, names(text)) for grade in year for depth, text in _steps(grade.worked, 0)),
        missing=names(say["missing"].format(what="; ".join(missing))) if missing else "",
        notes=(*_rules(material), HOW_ROUNDED, say["you"]) if found else (say["none"],),
    )


def _not_the_whole_book(material: Material, today: date) -> set[str]:
    """Tasks that belong to no book, or share one."""
    found = task_grades(material.family, material.student.id, today)
    of_books = Counter(each.book for each in found)
    return {each.grade.name for each in found if each.book is None or of_books[each.book] > 1}


def _rules(material: Material) -> Iterator[str]:
    """How the family decided to grade."""
    say, decided = words()["grades"], material.family.settings.all()
    late = float(decided["late_points_a_day"])
    answers = decided["answers_weight"]
    yield say["weights"].format(answers=answers, writing=WHOLE - answers)
    yield say[f"redo_{decided['redo_rule']}"]
    yield (
        say["late"].format(points=f"{late:g}", most=f"{decided['late_points_at_most']:g}") if late else say["not_late"]
    )


def _grade_row(grade: Grade, material: Material) -> GradeRow:
    percent = "–" if grade.percent is None else f"{grade.percent:.1f}"
    note = "provisional" if grade.percent is not None and grade.provisional else ""
    none = "missing" if grade.missing else "no grade"
    name, letter = material.names(grade.name), material.names(grade.letter)
    return GradeRow(grade.kind, name, percent, letter, none if grade.percent is None else note)


def _steps(step: Worked, depth: int) -> Iterator[tuple[int, str]]:
    yield depth, step.text
    if depth < STEPS:
        for part in step.parts:
            yield from _steps(part, depth + 1)


def conferences(material: Material) -> tuple[ConferenceView, ...]:
    """Talks about the drafts, first to last."""
    about = {piece.draft.id: piece for piece in material.drafts}
    say, names = words()["conferences"], material.names
    return tuple(
        ConferenceView(
            day=day_in_words(talk.held_on),
            about=f"{about[talk.draft_id].task.title}, draft {about[talk.draft_id].draft.number}",
            said=tuple((say[name], names(text)) for name in SAID if (text := getattr(talk, name))),
        )
        for talk in material.family.conferences.of_student(material.student.id)
        if talk.draft_id in about
    )


def method(material: Material, today: date) -> tuple[str, ...]:
    """How it was done, a paragraph an item."""
    say = words()["method"]
    makers = dict.fromkeys(p.sheet.program for p in material.drafts if p.sheet)
    return (
        say["program"].format(day=day_in_words(today), program=program()),
        *([say["proposals"].format(by=material.names(", ".join(makers)))] if makers else []),
        _levels(material),
        _steady(material),
        say["trends"],
        say["originals"],
        say["attendance"],
    )


def _levels(material: Material) -> str:
    say = words()["method"]
    marks = [piece.mark for piece in material.drafts if piece.mark]
    unseen = sum(not mark.seen_proposal for mark in marks)
    if not marks:
        return say["no_marks"]
    blind = say["blind"].format(n=unseen) if unseen else ""
    return say["levels"].format(marked=len(marks), drafts=count_of(len(material.drafts), "draft"), blind=blind)


def _steady(material: Material) -> str:
    from rubric_kit.showing.charts.tables import reader_steadiness

    found, say = reader_steadiness(material.family), words()["method"]
    pieces = f"{count_of(found.essays, 'piece')} {'was' if found.essays == 1 else 'were'}"
    if not found.essays:
        return say["not_known"]
    if found.essays < ENOUGH:
        return say["few"].format(pieces=pieces)
    agreed = found.agreement
    return say["steady"].format(pieces=pieces, n=agreed.n, exact=agreed.exact, adjacent=agreed.adjacent)


def percent_or_status(grade: Grade) -> str:
    """Of one task in a line: "88.4", or what it still is."""
    if grade.percent is None:
        return "missing" if grade.missing else "not graded"
    return f"{grade.percent:.1f}"


def cautions() -> Sequence[str]:
    return tuple(words()["cautions"].values())
