"""Work out what each measure shows at each level and grade, and write it into the shipped rubrics.

    python tests/labelled/fit_levels.py [--write]

The measures and their weights in rubric_kit/rubrics/*.toml are chosen by hand, for what a teacher would look at. Their
expected values come from the tuning half: each measure is regressed on the labelled level, the grade and the form, and
read backwards. Single measures say less than a reader sees, so the lines are drawn closer together until the levels
spread as the labelled ones do. Prints agreement on essays held out of each fold. The report half is never read here.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import tomlkit
from labelled import half

from rubric_kit.measures.measured import measure
from rubric_kit.scoring.agreement import agreement
from rubric_kit.scoring.rubric import LEVELS, level_of

RUBRICS = Path(__file__).parents[2] / "rubric_kit/rubrics"
FORMS = ("paragraph", "three-paragraph", "five-paragraph", "narrative")
CRITERIA = ("focus", "organization", "evidence", "sentences", "conventions")
GRADES = (4, 8)  # the rows written; the essays are of grades 4 to 8
MIDDLE_LEVEL, MIDDLE_GRADE = 2.5, 6
FORM_RIDGE = 1.0  # pulls a form's own offset towards none where a form has few essays
SPREAD_WEIGHT = 0.15  # how much a spread unlike the readers' counts beside the squared error
STRETCHES, SHIFTS = np.arange(0.5, 2.6, 0.1), (-0.3, -0.2, -0.1, 0.0, 0.1, 0.2, 0.3)
FOLDS, SEED = 10, 0
DIGITS = 3  # significant, in the rubric files


@dataclass(frozen=True)
class Row:
    """One essay: its form, grade, labelled levels and measured values."""

    form: str
    grade: int
    levels: Mapping[str, int]
    values: Mapping[str, float | None]


@dataclass(frozen=True)
class Line:
    """value = middle + slope * (level - 2.5) + by_grade * (grade - 6) + by_form[form]."""

    slope: float
    by_grade: float
    by_form: Mapping[str, float]

    def at(self, level: float, grade: int, form: str) -> float:
        return self.slope * (level - MIDDLE_LEVEL) + self.by_grade * (grade - MIDDLE_GRADE) + self.by_form[form]


@dataclass(frozen=True)
class Fit:
    """The lines of a criterion's measures, and how far levels are stretched around their mean and shifted."""

    lines: Mapping[str, Line]
    mean: float
    stretch: float
    shift: float
    known: dict[tuple[str, int, str], tuple[float, ...]] = field(default_factory=dict)

    def expected(self, name: str, grade: int, form: str) -> tuple[float, ...]:
        """The measure's values at levels 1 to 4."""
        if (name, grade, form) not in self.known:
            inner = (self.mean + (level - self.mean - self.shift) / self.stretch for level in LEVELS)
            self.known[name, grade, form] = rounded([self.lines[name].at(level, grade, form) for level in inner])
        return self.known[name, grade, form]


Weights = Mapping[str, Mapping[str, Mapping[str, float]]]  # form, criterion, measure


def main() -> None:
    files = {form: tomlkit.parse((RUBRICS / f"{form}.toml").read_text("utf-8")) for form in FORMS}
    weights = {form: {key: looks(file, key) for key in CRITERIA} for form, file in files.items()}
    rows = [
        Row(
            e.labels["form"],
            e.labels["grade"],
            e.labels["levels"],
            {n: r.value for n, r in measure(e.essay, e.labels["form"]).items()},
        )
        for e in half("tune")
    ]
    fold = np.random.default_rng(SEED).permutation(len(rows)) % FOLDS
    pairs: list[tuple[float, float]] = []
    errors: list[float] = []
    for key in CRITERIA:
        own, residuals = [], []
        for k in range(FOLDS):
            fitted = fit(key, [r for r, f in zip(rows, fold, strict=True) if f != k], weights)
            for row in (r for r, f in zip(rows, fold, strict=True) if f == k):
                score = predict(fitted, row, weights[row.form][key])
                own.append((min(4, max(1, int(score + 0.5))), row.levels[key]))
                residuals.append(score - row.levels[key])
        say(key, own)
        pairs += own
        errors += residuals
        whole = fit(key, rows, weights)
        for form, file in files.items():
            for look in file["criterion"][key]["look_for"]:  # type: ignore[index]
                for grade in GRADES:
                    look[f"grade_{grade}"] = list(whole.expected(str(look["measure"]), grade, form))
    say("all", pairs)
    print(f"readers spread around the score by {np.std(errors):.2f} (READER_SPREAD in rubric_kit/scoring/score.py)")
    if "--write" in sys.argv:
        for form, file in files.items():
            (RUBRICS / f"{form}.toml").write_text(tomlkit.dumps(file), encoding="utf-8")


def looks(file: Any, key: str) -> dict[str, float]:
    return {str(look["measure"]): float(look["weight"]) for look in file["criterion"][key]["look_for"]}


def fit(key: str, rows: list[Row], weights: Weights) -> Fit:
    names = {name for form in FORMS for name in weights[form][key]}
    lines = {name: line(name, key, rows) for name in names}
    mean = float(np.mean([r.levels[key] for r in rows]))
    wanted = np.array([r.levels[key] for r in rows], float)

    def loss(stretch: float, shift: float) -> float:
        tried = Fit(lines, mean, stretch, shift)
        scores = np.array([predict(tried, r, weights[r.form][key]) for r in rows])
        return float(np.mean((scores - wanted) ** 2) + SPREAD_WEIGHT * abs(scores.std() - wanted.std()))

    stretch, shift = min(((s, h) for s in STRETCHES for h in SHIFTS), key=lambda pair: loss(*pair))
    return Fit(lines, mean, float(stretch), shift)


def line(name: str, key: str, rows: list[Row]) -> Line:
    """Least squares of a measure on level, grade and form."""
    used = [(r, value) for r in rows if (value := r.values[name]) is not None]
    x = np.array(
        [
            [r.levels[key] - MIDDLE_LEVEL, r.grade - MIDDLE_GRADE, 1.0, *(r.form == form for form in FORMS)]
            for r, _ in used
        ],
        float,
    )
    y = np.array([value for _, value in used])
    ridge = np.diag([1e-6, 1e-6, 1e-6] + [FORM_RIDGE] * len(FORMS))
    slope, by_grade, middle, *offsets = np.linalg.solve(x.T @ x + ridge, x.T @ y)
    return Line(slope, by_grade, {form: middle + offset for form, offset in zip(FORMS, offsets, strict=True)})


def predict(fitted: Fit, row: Row, weights: Mapping[str, float]) -> float:
    """The score as rubric_kit.scoring works it out, before rounding."""
    known = {n: v for n in weights if (v := row.values[n]) is not None}
    total = sum(weights[n] for n in known)
    levels = {n: level_of(v, fitted.expected(n, row.grade, row.form)) for n, v in known.items()}
    return sum(weights[n] * levels[n] for n in known) / total if total else 1.0


def rounded(values: list[float]) -> tuple[float, ...]:
    """To some significant digits of the step between levels, so that they still rise or fall."""
    step = abs(values[1] - values[0])
    places = DIGITS - 1 - int(np.floor(np.log10(max(step, 1e-6))))
    return tuple(float(round(v, max(0, places))) for v in values)


def say(name: str, pairs: list[tuple[float, float]]) -> None:
    agreed = agreement([p for p, _ in pairs], [r for _, r in pairs])
    kappa = f"kappa {agreed.quadratic_kappa:.3f}"
    print(f"{name:13} in folds: exact {agreed.exact:.2f}, within one {agreed.adjacent:.3f}, {kappa}")


if __name__ == "__main__":
    main()
