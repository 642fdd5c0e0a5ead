"""Fit the view of experienced readers (rubric_kit/scoring/readers.py) to human scores, and measure how well it does.

Run from the project's root, with the data beside the project (shared/data/human_scored_essays.csv.gz):

    python tests/measures/fit_readers.py [--cache FILE] [--write]

Every figure is of essays on prompts that the fitting did not see: ten folds, whole prompts to each. What the fitting
chooses (how much to trust each family of measures, how far to spread rounded scores) it chooses without the fold too.
--cache keeps the measures of the essays (numbers only) from one run to the next; --write fits to all essays and writes
readers.toml.
"""

from __future__ import annotations

import argparse
import os
import pickle
import sys
from collections.abc import Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.optimize import minimize
from sklearn.metrics import cohen_kappa_score
from sklearn.model_selection import GroupKFold

from rubric_kit.measures.measured import FAMILIES
from rubric_kit.measures.signs import SIGNS, signs
from rubric_kit.reading import read_text
from rubric_kit.scoring.readers import TRAITS
from rubric_kit.scoring.score import score

sys.path.insert(0, str(Path(__file__).parent))
from readers_toml import as_toml

ESSAYS = Path(__file__).parents[3] / "shared" / "data" / "human_scored_essays.csv.gz"
COEFFICIENTS = Path("rubric_kit/scoring/data/readers.toml")
FOLDS = 10
GRADE, FORM = 8, "five-paragraph"
# A criterion of the rubrics and the readers' trait nearest to it.
NEAREST = (
    ("conventions", "conventions"),
    ("sentences", "syntax"),
    ("sentences", "vocabulary"),
    ("organization", "cohesion"),
)
USED = {"structure": FAMILIES["structure"], "vocabulary": FAMILIES["vocabulary"], **SIGNS}
CUT = (1, 99)  # percentiles of a measure beyond which it says no more
LEVELS = np.arange(2, 11)  # half steps from 1 to 5
SPREADS = np.arange(1.0, 1.61, 0.05)
# Prior of a family's variance of weights: geometric mean, spread of its logarithm.
USUAL_TRUST, TRUST_SPREAD = 1e-3, 2.0
USUAL_NOISE = 0.5  # of the variance of scores; where the search begins
STEPS = 14  # of the search; more change no figure in the third decimal
Array = NDArray[np.float64]
Values = dict[str, float | None]
Figures = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Data:
    """x: measures, y: scores (overall last), criteria: our own scores before rounding; one row an essay."""

    names: list[str]
    families: list[str]
    x: Array
    y: Array
    prompts: Array
    criteria: dict[str, Array]


@dataclass(frozen=True, slots=True)
class Scale:
    """How a measure becomes a standard score: cut to low and high, a missing one taken as usual."""

    low: Array
    high: Array
    usual: Array
    mean: Array
    spread: Array

    def __call__(self, x: Array) -> Array:
        known = np.where(np.isnan(x), self.usual, x)
        standard: Array = (np.clip(known, self.low, self.high) - self.mean) / self.spread
        return standard


@dataclass(frozen=True, slots=True)
class Fit:
    scale: Scale
    centre: Array
    weights: Array  # measures by traits
    stretch: float

    def predict(self, x: Array) -> Array:
        estimate: Array = self.centre + self.scale(x) @ self.weights
        return estimate


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--cache", type=Path)
    parser.add_argument("--write", action="store_true")
    arguments = parser.parse_args()
    data = gather(arguments.cache)
    predicted, rounded = across_folds(data)
    figures = figures_of(data.y, predicted, rounded)
    show("the mean of the other prompts", figures_of(data.y, *of_the_mean(data)))
    on_sheets = only(
        data, [name for name in data.names if name in set(FAMILIES["structure"]) | set(FAMILIES["vocabulary"])]
    )
    show("structure and vocabulary alone", figures_of(data.y, *across_folds(on_sheets)))
    show(f"all {len(data.names)} measures", figures)
    criteria = of_criteria(data)
    show("our own criteria", criteria)
    if arguments.write:
        errors = data.y - predicted
        COEFFICIENTS.write_text(
            as_toml(data, LOG, fit(data.x, data.y, data.families), figures, criteria, errors), "utf-8"
        )


def gather(cache: Path | None = None) -> Data:
    """Measure every essay, or read what an earlier run measured."""
    essays = pd.read_csv(ESSAYS)
    if cache and cache.exists():
        rows = pickle.loads(cache.read_bytes())
    else:
        with ProcessPoolExecutor(os.cpu_count()) as pool:
            rows = list(pool.map(measure_one, essays["text"], chunksize=20))
        if cache:
            cache.write_bytes(pickle.dumps(rows))
    names = [name for table in USED.values() for name in table]
    x = np.array([[np.nan if row[0][name] is None else row[0][name] for name in names] for row in rows], float)
    for column, name in enumerate(names):
        if name in LOG:
            x[:, column] = np.log(x[:, column] + LOG[name])
    return Data(
        names,
        [family for family, table in USED.items() for _ in table],
        x,
        essays[list(TRAITS)].to_numpy(float),
        essays["prompt"].to_numpy(),
        {key: np.array([row[1][key] for row in rows]) for key in rows[0][1]},
    )


def measure_one(text: str) -> tuple[Values, dict[str, float]]:
    """Values of all measures, and our own criteria before rounding."""
    sheet = score(read_text(text), grade=GRADE, form=FORM)
    results = {**sheet.measures, **signs(sheet.measures)}
    return {name: result.value for name, result in results.items()}, {c.key: c.score for c in sheet.criteria}


def _logs() -> dict[str, float]:
    """Measures that grow without end are taken by their logarithm; what is added to each first."""
    counts = {"words": 1.0, "places": 1.0}
    logs = {n: counts[m.unit] for table in USED.values() for n, m in table.items() if m.unit in counts}
    return logs | {n: 0.2 for n, m in SIGNS["slips"].items() if m.unit == "per 100 words"}


LOG = _logs()


def only(data: Data, names: Sequence[str]) -> Data:
    kept = [data.names.index(name) for name in names]
    return Data(list(names), [data.families[i] for i in kept], data.x[:, kept], data.y, data.prompts, data.criteria)


def fit(x: Array, y: Array, families: Sequence[str]) -> Fit:
    """Linear on standard scores, the weights of every family with a variance of their own: those, and the noise, that
    make the scores likeliest (empirical Bayes; MacKay 1992, Neural Computation 4(3)), for all traits alike. Estimates
    of a trait then borrow from those of the others, as far as that helps on essays left out (Breiman & Friedman 1997,
    Journal of the Royal Statistical Society B 59(1)).
    """
    scale = scale_of(x)
    z, centre, spread = scale(x), y.mean(0), y.std(0)
    target = (y - centre) / spread
    members = [np.array([f == family for f in families]) for family in dict.fromkeys(families)]
    kernels = [z[:, m] @ z[:, m].T for m in members]
    start = np.log([USUAL_TRUST] * len(members) + [USUAL_NOISE])
    best = minimize(unlikelihood, start, (kernels, target), "L-BFGS-B", jac=True, options={"maxiter": STEPS}).x
    trust, noise = np.exp(best[:-1]), np.exp(best[-1])
    inverse = np.linalg.inv(sum_of(trust, kernels) + noise * np.eye(len(z)))
    dual = inverse @ target
    left_out = target - dual / np.diag(inverse)[:, None]  # what each essay would be given if it had been left out
    borrow = np.linalg.lstsq(left_out, target, rcond=None)[0]
    by_measure = sum(t * m for t, m in zip(trust, members, strict=True))
    weights = by_measure[:, None] * (z.T @ dual) @ borrow * spread
    overall = spread[-1] * (left_out @ borrow)[:, -1]
    stretch = max(SPREADS, key=lambda s: kappa(y[:, -1], halves(centre[-1] + s * overall)))
    return Fit(scale, centre, weights, float(stretch))


def sum_of(trust: Array, kernels: Sequence[Array]) -> Array:
    total: Array = np.einsum("f,fij->ij", trust, np.array(kernels))
    return total


def unlikelihood(logs: Array, kernels: Sequence[Array], target: Array) -> tuple[float, Array]:
    """Minus the logarithm of the chance of the scores (and of the prior), and its slope."""
    values = np.exp(logs)
    size, traits = target.shape
    whole = sum(v * k for v, k in zip(values, kernels, strict=False)) + values[-1] * np.eye(size)
    inverse = np.linalg.inv(whole)
    dual = inverse @ target
    away = (logs[:-1] - np.log(USUAL_TRUST)) / TRUST_SPREAD
    loss = ((target * dual).sum() + traits * np.linalg.slogdet(whole)[1] + (away**2).sum()) / 2
    slopes = [
        v * (traits * (inverse * k).sum() - (dual * (k @ dual)).sum()) for v, k in zip(values, kernels, strict=False)
    ]
    slopes.append(values[-1] * (traits * np.trace(inverse) - (dual**2).sum()))
    slope = np.array(slopes) / 2
    slope[:-1] += away / TRUST_SPREAD
    return float(loss), slope


def scale_of(x: Array) -> Scale:
    low, usual, high = np.nanpercentile(x, [CUT[0], 50, CUT[1]], axis=0)
    cut = np.clip(np.where(np.isnan(x), usual, x), low, high)
    spread = cut.std(0)
    return Scale(low, high, usual, cut.mean(0), np.where(spread > 0, spread, np.inf))


def across_folds(data: Data) -> tuple[Array, Array]:
    """Estimates, and overall in rounded half steps, each from a fit to other prompts."""
    predicted, rounded = np.zeros_like(data.y), np.zeros(len(data.y))
    for others, fold in GroupKFold(FOLDS).split(data.x, groups=data.prompts):
        fitted = fit(data.x[others], data.y[others], data.families)
        predicted[fold] = fitted.predict(data.x[fold])
        overall = predicted[fold, -1]
        rounded[fold] = halves(fitted.centre[-1] + fitted.stretch * (overall - fitted.centre[-1]))
    return predicted, rounded


def of_the_mean(data: Data) -> tuple[Array, Array]:
    predicted = np.zeros_like(data.y)
    for others, fold in GroupKFold(FOLDS).split(data.x, groups=data.prompts):
        predicted[fold] = data.y[others].mean(0)
    return predicted, halves(predicted[:, -1])


def halves(values: Array) -> Array:
    return np.clip(np.floor(2 * values + 0.5), LEVELS[0], LEVELS[-1]) / 2


def kappa(human: Array, ours: Array) -> float:
    as_steps = [(2 * scores).astype(int) for scores in (human, ours)]
    return float(cohen_kappa_score(*as_steps, labels=LEVELS, weights="quadratic"))


def correlation(a: Array, b: Array) -> float:
    return float(np.corrcoef(a, b)[0, 1])


def figures_of(y: Array, predicted: Array, rounded: Array) -> dict[str, float]:
    """Root mean square error by trait and their mean over the six (overall left out), correlations, kappa."""
    errors = np.sqrt(((predicted - y) ** 2).mean(0))
    return {
        "mean_error": float(errors[:-1].mean()),
        **{f"error_{trait}": float(error) for trait, error in zip(TRAITS, errors, strict=True)},
        **{f"correlation_{trait}": correlation(predicted[:, i], y[:, i]) for i, trait in enumerate(TRAITS)},
        "kappa_overall": kappa(y[:, -1], rounded),
    }


def of_criteria(data: Data) -> dict[str, float]:
    """How our own criteria, before rounding, correlate with the trait nearest to each."""
    pairs = ((key, trait, data.y[:, TRAITS.index(trait)]) for key, trait in NEAREST)
    return {f"{key}_with_{trait}": correlation(data.criteria[key], scores) for key, trait, scores in pairs}


def show(name: str, figures: Figures) -> None:
    print(f"{name}:", *(f"{key} {value:.3f}" for key, value in figures.items()), flush=True)


if __name__ == "__main__":
    main()
