"""Would the estimates of experienced readers' scores (rubric_kit/scoring/readers.py) make the proposed levels better?

    python tests/measures/transfer_readers.py     prints the table that DEVELOPERS.md shows (some minutes)

Labelled levels of the tuning essays are foretold from our score before rounding, the grade and the form, and again with
the seven estimates beside them: ridge regression, its strength chosen without the fold, in ten folds. Less is better.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from sklearn.linear_model import RidgeCV
from sklearn.model_selection import KFold, cross_val_predict
from sklearn.pipeline import make_pipeline
from sklearn.preprocessing import StandardScaler

from rubric_kit.scoring.readers import TRAITS, readers_view
from rubric_kit.scoring.score import score

sys.path.insert(0, str(Path(__file__).parents[1] / "labelled"))
from labelled import half

FORMS = ("paragraph", "three-paragraph", "five-paragraph", "narrative")
OLDER = 7  # grade: the readers' essays begin at 8, the labelled ones end there
STRENGTHS = np.logspace(-1, 3, 9)
FOLDS = KFold(10, shuffle=True, random_state=0)
Array = NDArray[np.float64]


def main() -> None:
    print(table())


def table() -> str:
    grades, known, scores, labels, estimates = gather()
    lines = [
        "| levels of | essays | error from our score | with the readers' estimates | from the estimates alone |",
        "|---|---|---|---|---|",
    ]
    for name, chosen in (("", grades > 0), (f", grades {OLDER} and 8", grades >= OLDER)):
        for key, level in labels.items():
            columns = np.column_stack([scores[key], known])
            beside = np.column_stack([columns, estimates])
            alone = np.column_stack([known, estimates])
            errors = [error(x[chosen], level[chosen]) for x in (columns, beside, alone)]
            lines.append(f"| {key}{name} | {chosen.sum()} | " + " | ".join(f"{e:.3f}" for e in errors) + " |")
    return "\n".join(lines)


def gather() -> tuple[Array, Array, dict[str, Array], dict[str, Array], Array]:
    """Of every tuning essay: grade; grade and form; our scores and the labelled levels by criterion; estimates."""
    rows = []
    for essay in half("tune"):
        grade, form, levels = (essay.labels[name] for name in ("grade", "form", "levels"))
        sheet = score(essay.essay, grade, form)
        view = readers_view(sheet.measures)
        rows.append((grade, form, {c.key: c.score for c in sheet.criteria}, levels, [view[t].value for t in TRAITS]))
    grades = np.array([row[0] for row in rows], float)
    known = np.column_stack([grades, *([row[1] == form for row in rows] for form in FORMS)]).astype(float)
    scores, labels = ({key: np.array([row[i][key] for row in rows], float) for key in rows[0][3]} for i in (2, 3))
    return grades, known, scores, labels, np.array([row[4] for row in rows])


def error(x: Array, level: Array) -> float:
    """Root mean square error on essays left out."""
    model = make_pipeline(StandardScaler(), RidgeCV(STRENGTHS))
    foretold = cross_val_predict(model, x, level, cv=FOLDS)
    return float(np.sqrt(((foretold - level) ** 2).mean()))


if __name__ == "__main__":
    main()
