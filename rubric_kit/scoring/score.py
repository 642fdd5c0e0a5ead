"""Numbers and found sentences become levels on a rubric."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from rubric_kit.errors import RubricKitError
from rubric_kit.measures.found import Found
from rubric_kit.measures.measured import FAMILIES, Measures, measure_parsed
from rubric_kit.measures.parse import Parse, batches, parse_many
from rubric_kit.reading import Essay
from rubric_kit.scoring.advice import advice, said, stretch
from rubric_kit.scoring.cautions import FEWEST_WORDS, cautions
from rubric_kit.scoring.language import check_english
from rubric_kit.scoring.rubric import GRADES, LEVELS, Criterion, LookFor, Rubric
from rubric_kit.scoring.rubric_file import load_form
from rubric_kit.scoring.sheet import CriterionScore, NextStep, Reason, ScoreSheet
from rubric_kit.scoring.spans import ON, SHOW

# How far a reader's level lies from the score before rounding: the standard deviation over the tuning essays,
# found by tests/labelled/fit_levels.py; tests/labelled/test_levels.py shows how sure turns out on the others.
READER_SPREAD = 0.57
STEADY_WORDS = 60  # below this a piece says little of its writer, and every level is less sure
MIDDLE = 2.5  # speaks for level 3 or 4 from here
AT_ITS_BEST = 3.5  # speaks for level 4 from here
SHARES = ("share", "0 or 1", "0 to 1")  # units of which 1 is all there can be
GRADE_IN_HEADING = re.compile(r"\b(?:grade\s*([3-9])|([3-9])(?:rd|th)\s+grade)\b", re.I)


def score(essay: Essay, grade: int | None = None, form: str | None = None, rubric: Rubric | None = None) -> ScoreSheet:
    """Propose a level for each criterion, with the sentences behind it.

    grade   the child's school grade, 3 to 9; else the grade in the heading, else the rubric's own
    form    paragraph, three-paragraph, five-paragraph or narrative; else the rubric's, else five-paragraph
    rubric  a rubric of one's own (rubric_kit.load_rubric); else the shipped one for the form

    Raises ValueError for a grade outside 3 to 9, RubricFileError for an unknown form,
    NotEnglishError.
    """
    (sheet,) = score_many([HandedIn(essay, grade, form, rubric)])
    if isinstance(sheet, Exception):
        raise sheet
    return sheet


class HandedIn(NamedTuple):
    """An essay with what ``score`` takes beside it."""

    essay: Essay
    grade: int | None = None
    form: str | None = None
    rubric: Rubric | None = None


def score_many(handed_in: Iterable[HandedIn]) -> Iterator[ScoreSheet | Exception]:
    """Score any number of essays, in order, each exactly as ``score`` does; a few at a time are held in memory.

    Faster than one by one, since the parser takes essays in batches. An error that ``score`` would raise takes the
    place of the sheet, so that one essay costs no other.
    """
    for batch in batches(handed_in, lambda each: len(each.essay.text)):
        refusals = [_refusal(each) for each in batch]
        parses = parse_many([each.essay for each, why in zip(batch, refusals, strict=True) if why is None])
        for each, why in zip(batch, refusals, strict=True):
            yield why or _sheet_or_error(each, next(parses))


def _refusal(handed_in: HandedIn) -> Exception | None:
    """Why an essay cannot be scored, where that shows before it is parsed."""
    try:
        _rubric_of(handed_in)
        if handed_in.grade is not None and handed_in.grade not in GRADES:
            raise ValueError(f"grade {handed_in.grade} is outside {GRADES[0]} to {GRADES[-1]}")
        check_english(handed_in.essay)
    except (RubricKitError, ValueError) as error:
        return error
    return None


def _sheet_or_error(handed_in: HandedIn, parse: Parse) -> ScoreSheet | Exception:
    try:
        return _sheet(handed_in, parse)
    except Exception as error:  # a fault of ours in one essay must not cost the others
        return error


def _sheet(handed_in: HandedIn, parse: Parse) -> ScoreSheet:
    rubric = _rubric_of(handed_in)
    known = handed_in.grade or _grade_in_heading(handed_in.essay)
    at_grade = known or rubric.default_grade
    measures = measure_parsed(handed_in.essay, handed_in.form or rubric.form, parse)
    spoken = _levels_spoken_for(rubric, measures, at_grade)
    scores = tuple(_criterion(c, measures, at_grade, spoken) for c in rubric.criteria)
    percent = rubric.percent_for({s.key: s.level for s in scores})
    notes = cautions(measures, rubric, at_grade, assumed=known is None)
    return ScoreSheet(measures, rubric, at_grade, scores, percent, rubric.letter_for(percent), notes)


def _rubric_of(handed_in: HandedIn) -> Rubric:
    return handed_in.rubric or load_form(handed_in.form or "five-paragraph")


def _levels_spoken_for(rubric: Rubric, measured: Measures, grade: int) -> dict[str, float]:
    """By what is said where a measure is high: the level it speaks for, the mean over the criteria that look for it.

    Criteria expect different values of one measure. The words about it are the same in all of them, so that a sheet
    never calls a piece long in one place and short in another; the levels stay each criterion's own.
    """
    rows, by_words = advice(measured.form), defaultdict[str, list[tuple[float, float]]](list)
    for criterion in rubric.criteria:
        for look, value in _known(criterion, measured):
            by_words[rows[look.measure]["high"]].append((look.level(value, grade), criterion.weight * look.weight))
    return {words: sum(x * w for x, w in of) / sum(w for _, w in of) for words, of in by_words.items()}


def _known(criterion: Criterion, measured: Measures) -> list[tuple[LookFor, float]]:
    values = ((look, measured[look.measure].value) for look in criterion.look_for)
    return [(look, float(value)) for look, value in values if value is not None]


def _criterion(criterion: Criterion, measured: Measures, grade: int, spoken: Mapping[str, float]) -> CriterionScore:
    known = _known(criterion, measured)
    total = sum(look.weight for look, _ in known)
    rows = advice(measured.form)
    reasons = tuple(_reason(look, value, grade, total, rows[look.measure], spoken) for look, value in known)
    by_weight = sorted(reasons, key=lambda r: -r.weight)
    enough = len(measured.essay.words) >= FEWEST_WORDS
    value = sum(r.level * r.weight for r in reasons) if reasons and enough else float(LEVELS[0])
    level = min(LEVELS[-1], max(LEVELS[0], math.floor(value + 0.5)))
    share_known = total / sum(look.weight for look in criterion.look_for)
    return CriterionScore(
        key=criterion.key,
        name=criterion.name,
        weight=criterion.weight,
        level=level,
        score=round(value, 2),
        sure=round(_sure(value, level) * share_known * min(1.0, len(measured.essay.words) / STEADY_WORDS), 2),
        descriptor=criterion.descriptors[level],
        reasons=tuple(by_weight),
        evidence=_evidence(by_weight, measured),
        not_judged=criterion.not_judged,
        next_step=next_step(criterion.key, reasons, measured),
    )


def _evidence(reasons: Sequence[Reason], measured: Measures) -> tuple[Found, ...]:
    """What the reasons rest on, in order; where nothing was found, the sentences that it was looked for in."""
    rows = [advice()[reason.measure] for reason in reasons]
    for names in ([row.get("show") for row in rows], [row.get("praise") for row in rows], ["paragraph_openings"]):
        found = {(f.start, f.end, f.kind): f for name in dict.fromkeys(names) if name for f in SHOW[name](measured)}
        if found:
            break
    return tuple(sorted(found.values(), key=lambda f: (f.start, f.end)))


def _reason(
    look: LookFor, value: float, grade: int, total: float, row: Mapping[str, str], spoken: Mapping[str, float]
) -> Reason:
    words = said(row["high" if spoken[row["high"]] >= MIDDLE else "low"], value)
    return Reason(look.measure, value, round(look.level(value, grade), 2), look.weight / total, words)


def next_step(criterion: str, reasons: Sequence[Reason], measured: Measures) -> NextStep:
    """What to try next, on a sentence of the child's own: about what costs most, or a stretch where nothing does."""
    weakest = costliest(reasons)
    row = advice(measured.form)[weakest.measure] if weakest else stretch().get(criterion, stretch()["other"])
    return NextStep(row["teach"], row["exercise"], row["try"], ON[row["on"]](measured))


def costliest(reasons: Sequence[Reason]) -> Reason | None:
    """The reason that takes most from the score, and so is what a next step is about; None where nothing is lacking."""
    lacking = [r for r in reasons if r.level < AT_ITS_BEST and not _is_whole(r)]
    return max(lacking, key=lambda r: (LEVELS[-1] - r.level) * r.weight, default=None)


def _is_whole(reason: Reason) -> bool:
    """A share of 1: whatever a rubric expects, there is no more of it to ask for."""
    return reason.value >= 1 and any(
        table[reason.measure].unit in SHARES for table in FAMILIES.values() if reason.measure in table
    )


def _sure(value: float, level: int) -> float:
    """The chance that a reader's level, normally spread around the score, rounds to this one."""
    below = -math.inf if level == LEVELS[0] else level - 0.5
    above = math.inf if level == LEVELS[-1] else level + 0.5
    return _normal((above - value) / READER_SPREAD) - _normal((below - value) / READER_SPREAD)


def _normal(z: float) -> float:
    return (1 + math.erf(z / math.sqrt(2))) / 2


def _grade_in_heading(essay: Essay) -> int | None:
    match = GRADE_IN_HEADING.search(essay.heading.text) if essay.heading else None
    return int(match[1] or match[2]) if match else None
