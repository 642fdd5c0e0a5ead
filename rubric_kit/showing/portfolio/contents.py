"""The portfolio of a school year: what the parent chose to put in, in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from rubric_kit.errors import RubricKitError
from rubric_kit.records.family import Family
from rubric_kit.records.people import days_of
from rubric_kit.showing.portfolio import rest
from rubric_kit.showing.portfolio.figures import USUAL, figures
from rubric_kit.showing.portfolio.material import of_year
from rubric_kit.showing.portfolio.pieces import chosen, piece_view
from rubric_kit.showing.portfolio.views import GradesView, Portfolio
from rubric_kit.showing.portfolio.words import day_in_words, grade_in_words, words
from rubric_kit.showing.portfolio.work import units

PARTS = ("work", "pieces", "growth", "conferences", "grades", "rubric", "method")
NO_GRADES = GradesView((), (), "", ())


class UnknownPartError(RubricKitError, ValueError):
    """A part that no portfolio has."""


def portfolio(
    family: Family,
    student_id: int,
    school_year: str,
    *,
    pieces: Sequence[int] | None = None,
    charts: Sequence[str] = USUAL,
    include: Sequence[str] = PARTS,
    initials: bool = False,
    kept_by: str = "",
    today: date | None = None,
) -> Portfolio:
    """A child's school year such as "2025-26".

    pieces    draft numbers of the pieces to show in full; else the first, the middle and the last of the year
    charts    of level, criteria, parts, slips, proposals
    include   of ``PARTS``; the cover and the cautions are always there
    initials  names replaced by initials
    kept_by   who kept the records, for the cover; else there is a line to sign on

    Raises RecordsError for a student or a year that is none, UnknownPartError, UnknownPieceError, UnknownChartError.
    """
    days_of(school_year)  # says so where it is not written like one
    made_on = today or date.today()
    unknown = [part for part in include if part not in PARTS]
    if unknown:
        raise UnknownPartError(f"A portfolio has no part {unknown[0]}. There are: {', '.join(PARTS)}.")
    student = family.students.get(student_id)
    material = of_year(family, student, school_year, initials, (kept_by,))
    say = words()
    shown = chosen(material, pieces) if "pieces" in include else []
    return Portfolio(
        title=say["cover"]["title"].format(child=material.who),
        child=material.who,
        grade=grade_in_words(family.students.grade_on(student_id, days_of(school_year)[0])),
        school_year=school_year,
        kept_by=material.names.person(kept_by),
        made_on=day_in_words(made_on),
        note=say["cover"]["initials"] if initials else "",
        parts=tuple((part, say["parts"][part]) for part in PARTS if part in include),
        units=units(material) if "work" in include else (),
        pieces=tuple(piece_view(each, material) for each in shown),
        growth_note=say["growth"]["you" if any(p.levels for p in material.drafts) else "none"],
        figures=figures(material, charts) if "growth" in include else (),
        conferences=rest.conferences(material) if "conferences" in include else (),
        grades=rest.grades(material, school_year, made_on) if "grades" in include else NO_GRADES,
        rubrics=rest.rubrics(material) if "rubric" in include else (),
        method=rest.method(material, made_on) if "method" in include else (),
        cautions=tuple(rest.cautions()),
    )
