"""The fitted view of experienced readers as the file that ships: rubric_kit/scoring/data/readers.toml."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from rubric_kit.scoring.readers import TRAITS

if TYPE_CHECKING:
    from fit_readers import Array, Data, Figures, Fit

HEADER = """\
# Weights of the view of experienced readers, written by tests/measures/fit_readers.py --write.
# Fitted to readers' scores, 1 to 5, of {essays} essays on {prompts} prompts by students of grades 8 to 12 who are
# learning English: a part of the public test set of the ELLIPSE corpus (Crossley et al. 2023, International Journal of
# Learner Corpus Research 9(2)), CC BY-NC-SA 4.0. No text of it is in here, only these numbers.
#
# centre: mean score of each trait; below, above: 5th and 95th percentile of what readers gave beyond the estimate, on
# prompts left out of the fitting; stretch: estimates keep nearer the middle than scores do, and agree best when spread
# so much before they are rounded.
"""


def as_toml(
    data: Data, logs: Mapping[str, float], fitted: Fit, figures: Figures, criteria: Figures, errors: Array
) -> str:
    below, above = np.percentile(errors, [5, 95], axis=0)
    prompts = len(set(data.prompts))
    lines = [
        HEADER.format(essays=len(data.y), prompts=prompts),
        f"traits = {list(TRAITS)}".replace("'", '"'),
        f"centre = {numbers(fitted.centre)}",
        f"below = {numbers(below)}",
        f"above = {numbers(above)}",
        f"stretch = {fitted.stretch:.2f}",
        "\n# Measured on prompts left out of the fitting (10 folds), scores 1 to 5.\n[figures]",
        *(f"{name} = {value:.3f}" for name, value in figures.items()),
        "\n# Correlation of our own criteria, before rounding, with the readers' trait nearest to each.\n[criteria]",
        *(f"{name} = {value:.3f}" for name, value in criteria.items()),
        "\n# By family and measure: log (added before the logarithm), low and high (cut), usual (when missing),",
        "# mean, spread, and the points for each standard deviation, in order of the traits.",
    ]
    for family in dict.fromkeys(data.families):
        lines.append(f'\n[measures."{family}"]')
        lines += [row(data, logs, fitted, i) for i, f in enumerate(data.families) if f == family]
    return "\n".join(lines) + "\n"


def row(data: Data, logs: Mapping[str, float], fitted: Fit, i: int) -> str:
    scale, name = fitted.scale, data.names[i]
    log = f"log = {logs[name]:g}, " if name in logs else ""
    values = {"low": scale.low, "high": scale.high, "usual": scale.usual, "mean": scale.mean, "spread": scale.spread}
    parts = ", ".join(f"{key} = {number(of[i])}" for key, of in values.items())
    return f"{name} = {{ {log}{parts}, weights = {numbers(fitted.weights[i])} }}"


def number(value: float) -> str:
    return "inf" if np.isinf(value) else f"{value:.5g}" if abs(value) >= 1e-4 else "0.0"


def numbers(values: Array) -> str:
    return "[" + ", ".join(f"{value:.4f}" for value in values) + "]"
