"""Would the estimates of experienced readers' scores (rubric_kit/scoring/readers.py) make the proposed levels better?

    python tests/measures/transfer_readers.py     prints the table that DEVELOPERS.md shows (some minutes)

Labelled levels of the tuning essays are foretold from the grade and the form with our score for the criterion before
rounding, with our scores for all five, and with those and the seven estimates: ridge regression, its strength chosen
without the fold, a whole batch of essays (written together) left out at a time. The errors are root mean squares.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from sklearn.linear_model import RidgeCV
from sklearn.model_selection import LeaveOneGroupOut, cross_val_predict
from sklearn.pipeline import make_pipeline
from sklearn.preprocessing import StandardScaler

from rubric_kit.scoring.agreement import agreement
from rubric_kit.scoring.readers import TRAITS, readers_view
from rubric_kit.scoring.rubric import LEVELS
from rubric_kit.scoring.score import score

sys.path.insert(0, str(Path(__file__).parents[1] / "labelled"))
from labelled import Labelled, half

FORMS = ("paragraph", "three-paragraph", "five-paragraph", "narrative")
BATCH = 100  # essays are numbered, each batch from a new hundred
STRENGTHS = np.logspace(-1, 3, 9)
Array = NDArray[np.float64]


def main() -> None:
    essays = list(half("tune"))
    batches = np.array([int(essay.name.split("_")[0]) // BATCH for essay in essays])
    names = list(essays[0].labels["levels"])
    levels = np.array([[essay.labels["levels"][name] for name in names] for essay in essays], float)
    known, ours, estimates = (np.array(part, float) for part in zip(*map(gather, essays), strict=True))
    print("| levels of | error from our score | from our five scores | from those and the estimates |")
    print("|---|---|---|---|")
    foretold: list[list[Array]] = []
    for i, name in enumerate(names):
        columns = (ours[:, [i]], ours, np.hstack([ours, estimates]))
        foretold.append([left_out(np.hstack([known, x]), levels[:, i], batches) for x in columns])
        errors = (np.sqrt(((f - levels[:, i]) ** 2).mean()) for f in foretold[-1])
        print(f"| {name} | " + " | ".join(f"{e:.2f}" for e in errors) + " |")
    kappas = (kappa(np.concatenate(by_way), levels.T.ravel()) for by_way in zip(*foretold, strict=True))
    print("| all: quadratic weighted kappa | " + " | ".join(f"{k:.2f}" for k in kappas) + " |")


def gather(essay: Labelled) -> tuple[list[float], list[float], list[float]]:
    """Grade and form; our scores before rounding; estimates of readers' scores."""
    grade, form = essay.labels["grade"], essay.labels["form"]
    sheet = score(essay.essay, grade, form)
    view = readers_view(sheet.measures)
    ours = [sheet.criterion(name).score for name in essay.labels["levels"]]
    return [grade, *(form == other for other in FORMS)], ours, [view[trait].value for trait in TRAITS]


def left_out(x: Array, level: Array, batches: NDArray[np.int64]) -> Array:
    """Levels foretold by what was fitted to the other batches."""
    model = make_pipeline(StandardScaler(), RidgeCV(STRENGTHS))
    foretold: Array = cross_val_predict(model, x, level, cv=LeaveOneGroupOut(), groups=batches)
    return foretold


def kappa(foretold: Array, level: Array) -> float:
    rounded = np.clip(np.floor(foretold + 0.5), LEVELS[0], LEVELS[-1]).astype(int)
    return agreement(rounded.tolist(), level.astype(int).tolist()).quadratic_kappa or 0.0


if __name__ == "__main__":
    main()
