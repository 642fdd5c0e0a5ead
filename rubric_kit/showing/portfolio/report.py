"""A term on one page: what was read and written, the levels, one strength, one goal, the grade, one chart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date
from statistics import fmean

from rubric_kit.growth.reliable import reliable_change
from rubric_kit.records.family import Family
from rubric_kit.records.grades import term_grade
from rubric_kit.records.people import days_of, school_year_of
from rubric_kit.records.pieces import Piece
from rubric_kit.records.rows import Assignment, Book, Conference, Task, Term
from rubric_kit.records.task_grades import task_grades
from rubric_kit.records.worked import Grade
from rubric_kit.showing.inert import short
from rubric_kit.showing.portfolio.figures import figures
from rubric_kit.showing.portfolio.material import Material, day_of, of_days
from rubric_kit.showing.portfolio.pieces import TRY_NEXT, WORKED, rubric_of, suggested
from rubric_kit.showing.portfolio.rest import percent_or_status
from rubric_kit.showing.portfolio.views import FigureView, MoveRow, TermReport, WrittenRow
from rubric_kit.showing.portfolio.words import count_of, day_in_words, grade_in_words, words

# What fits on the page in letters that can be read; the rest is in the portfolio.
ROWS = 14  # tasks
TITLE = 38  # characters of a title in the list
SAID = 230  # characters of the strength and of the goal
CHART_HEIGHT = 2.7  # inches

Said = tuple[str, str]  # and where it is from


def term_report(
    family: Family, student_id: int, term: Term, *, initials: bool = False, today: date | None = None
) -> TermReport:
    """A child's term. ``initials``: names replaced by initials.

    Raises RecordsError for a student that is none.
    """
    made_on, say = today or date.today(), words()["report"]
    student = family.students.get(student_id)
    begins = min(term.begins, days_of(school_year_of(term.begins))[0])
    so_far = of_days(family, student, begins, term.ends, initials)
    rows = [pair for pair in so_far.assignments if day_of(*pair) >= term.begins]
    ids = {assignment.id for _, assignment in rows}
    last = [piece for piece in so_far.last_drafts if piece.assignment.id in ids]
    grade = term_grade(family, student_id, term.id, made_on)
    strength, goal = _said(last, _talks(so_far, ids), so_far)
    of_form = _of_most_frequent_form([piece for piece in last if piece.levels])
    return TermReport(
        title=words()["cover"]["report"].format(child=so_far.who),
        byline=" · ".join(
            (
                grade_in_words(family.students.grade_on(student_id, term.begins)),
                f"{so_far.names(term.name)}, {day_in_words(term.begins)} to {day_in_words(term.ends)}",
                f"made on {day_in_words(made_on)}",
            )
        ),
        note=say["initials"] if initials else "",
        written=tuple(_written(rows[:ROWS], so_far, made_on)),
        more=say["more"].format(n=len(rows) - ROWS) if len(rows) > ROWS else "" if rows else say["nothing"],
        moves_of=f"{so_far.names(of_form[0].form)}, {count_of(len(of_form), 'piece')}" if of_form else "",
        moves=_moves(of_form, so_far),
        moves_note=_moves_note(of_form, so_far),
        strength=strength,
        goal=goal,
        grade=f"{grade.percent:.1f} out of 100, {so_far.names(grade.letter)}" if grade.percent is not None else "",
        grade_note=_grade_note(grade),
        figure=_figure(so_far),
        care=say["care"],
    )


def _written(rows: Sequence[tuple[Task, Assignment]], material: Material, today: date) -> list[WrittenRow]:
    books: Mapping[int, Book] = {book.id: book for book in material.family.books.all()}
    found = task_grades(material.family, material.student.id, today)
    graded = {each.assignment.id: each.grade for each in found if each.assignment}
    handed_in = {piece.assignment.id: piece.date for piece in material.last_drafts}
    written = []
    for task, assignment in rows:
        book = books.get(task.book_id or 0)
        grade, day = graded.get(assignment.id), handed_in.get(assignment.id)
        result = "excused" if assignment.excused or grade is None else percent_or_status(grade)
        written.append(
            WrittenRow(
                what=_what(task, book, material),
                form=material.names(assignment.form),
                day=day_in_words(day) if day else "–",
                result=result,
            )
        )
    return written


def _what(task: Task, book: Book | None, material: Material) -> str:
    """The book, and the task where it has a title of its own."""
    titles = dict.fromkeys([book.title if book else task.title, task.title])
    return ": ".join(short(material.names(title), TITLE) for title in titles)


def _of_most_frequent_form(pieces: Sequence[Piece]) -> list[Piece]:
    """Only pieces of one form are compared."""
    forms = Counter(piece.form for piece in pieces)
    most = max(forms, key=lambda form: forms[form], default="")
    return [piece for piece in pieces if piece.form == most]


def _moves(pieces: Sequence[Piece], material: Material) -> tuple[MoveRow, ...]:
    if not pieces:
        return ()
    rows = []
    for criterion in rubric_of(pieces[-1], material).criteria:
        levels = [piece.levels[criterion.key] for piece in pieces if criterion.key in piece.levels]
        if levels:
            move = levels[-1] - levels[0]
            change = "" if len(levels) == 1 else f"{'up' if move > 0 else 'down'} {abs(move)}" if move else "the same"
            ends = str(levels[0]), str(levels[-1]), f"{fmean(levels):.1f}"
            rows.append(MoveRow(material.names(criterion.name), *ends, change))
    return tuple(rows)


def _moves_note(pieces: Sequence[Piece], material: Material) -> str:
    from rubric_kit.showing.charts.tables import reader_steadiness

    say = words()["report"]
    if len(pieces) < 2:
        return say["one" if pieces else "none"]
    reader = reader_steadiness(material.family)
    error = max(reader.error(criterion.key).value for criterion in rubric_of(pieces[-1], material).criteria)
    return say["change"].format(error=error, smallest=reliable_change(0, 1, error).smallest)


def _talks(material: Material, assignments: set[int]) -> list[Conference]:
    """The talks of the term, the last one first."""
    drafts = {piece.draft.id for piece in material.drafts if piece.assignment.id in assignments}
    talks = material.family.conferences.of_student(material.student.id)
    return [talk for talk in reversed(talks) if talk.draft_id in drafts]


def _said(pieces: Sequence[Piece], talks: Sequence[Conference], material: Material) -> tuple[Said, Said]:
    """One strength and one goal: of the last talk that named one, else what the program suggests for the last piece."""
    worked = next((_of_talk(talk, talk.worked, material) for talk in talks if talk.worked), None)
    goal = next((_of_talk(talk, talk.goal, material) for talk in talks if talk.goal), None)
    step = next((_of_talk(talk, talk.next_step, material) for talk in talks if talk.next_step), None)
    return worked or _suggested(pieces, WORKED, material), goal or step or _suggested(pieces, TRY_NEXT, material)


def _of_talk(talk: Conference, text: str, material: Material) -> Said:
    source = words()["report"]["from_talk"].format(day=day_in_words(talk.held_on))
    return short(material.names(text), SAID), source


def _suggested(pieces: Sequence[Piece], beginning: str, material: Material) -> Said:
    """The first line of this beginning in the feedback on the last piece that was scored."""
    scored = [piece for piece in pieces if piece.sheet]
    told = suggested(scored[-1], material)[0] if scored else ()
    lines = [line.removeprefix(beginning) for line in told if line.startswith(beginning)]
    if not lines:
        return "", ""
    source = words()["report"]["from_program"].format(title=short(scored[-1].task.title, TITLE))
    return short(lines[0].partition(" For five minutes:")[0], SAID), source


def _grade_note(grade: Grade) -> str:
    say = words()["report"]
    return say["no_grade"] if grade.percent is None else say["provisional"] if grade.provisional else ""


def _figure(material: Material) -> FigureView | None:
    drawn = figures(material, ("level",), CHART_HEIGHT)
    return drawn[0] if drawn else None
