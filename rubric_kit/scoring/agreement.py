"""How well two markers agree: a parent and the tool, or two parents, on the same essays."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from math import atanh, isnan, sqrt, tanh
from statistics import NormalDist, StatisticsError, correlation, fmean, stdev

from rubric_kit.errors import RubricKitError

ADJACENT = 1  # levels apart that still count as near: the usual "exact or adjacent" of double marking
INTERVAL = 0.95
LEAST_FOR_INTERVAL = 5  # pairs; with fewer an interval is as wide as the scale
MOST_SCORES = 500  # different scores; kappa is for scores in steps, and half points up to 100 are 201

Pair = tuple[float, float]
Interval = tuple[float, float]


class UnpairedScoresError(RubricKitError):
    """Two lists of scores are not of the same essays."""


@dataclass(frozen=True, slots=True)
class Intraclass:
    """The six intraclass correlations of Shrout & Fleiss (1979), each None where it is undefined.

    one_way, two_way, fixed  ICC(1,1), ICC(2,1), ICC(3,1): one marker. Markers drawn anew for each essay; the same
                             markers throughout, taken as any markers; these very markers, who may differ in severity
    mean_*                   the same for the mean of all markers: ICC(1,k), ICC(2,k), ICC(3,k)
    """

    one_way: float | None
    two_way: float | None
    fixed: float | None
    mean_one_way: float | None
    mean_two_way: float | None
    mean_fixed: float | None


@dataclass(frozen=True, slots=True)
class Agreement:
    """Agreement of two markers. A value that cannot be worked out is None, and ``why_not[name]`` says why.

    n                         essays with both scores
    exact, adjacent           share of essays with the same score; with scores at most 1 apart (0 to 1)
    kappa                     beyond chance, every disagreement alike (Cohen 1960)
    linear_kappa              disagreements weighed by their size (Cohen 1968)
    quadratic_kappa           disagreements weighed by the square of their size (Cohen 1968)
    quadratic_kappa_interval  95%, by its standard error (Fleiss, Cohen & Everitt 1969) on Fisher's z scale
    correlation               Pearson's r
    intraclass                Shrout & Fleiss 1979
    mean_difference           mean of first minus second: above 0, the first marker gives more
    mean_difference_interval  95%, by Student's t
    """

    n: int
    exact: float | None
    adjacent: float | None
    kappa: float | None
    linear_kappa: float | None
    quadratic_kappa: float | None
    quadratic_kappa_interval: Interval | None
    correlation: float | None
    intraclass: Intraclass
    mean_difference: float | None
    mean_difference_interval: Interval | None
    why_not: Mapping[str, str] = field(default_factory=dict)


def agreement(first: Sequence[float | None], second: Sequence[float | None]) -> Agreement:
    """Compare two markers' scores of the same essays, in the same order.

    An essay that either marker left out (None or nan) is left out. Raises UnpairedScoresError for lists of different
    lengths.
    """
    if len(first) != len(second):
        raise UnpairedScoresError(
            f"the first marker has {len(first)} scores, the second {len(second)}: give both one score for each essay, "
            "in the same order, and None where a marker gave none"
        )
    pairs = [(a, b) for a, b in zip(first, second, strict=True) if a is not None and b is not None]
    pairs = [(a, b) for a, b in pairs if not isnan(a) and not isnan(b)]
    in_steps = len({a for a, _ in pairs} | {b for _, b in pairs}) <= MOST_SCORES
    result = Agreement(
        n=len(pairs),
        exact=_mean([float(a == b) for a, b in pairs]),
        adjacent=_mean([float(abs(a - b) <= ADJACENT) for a, b in pairs]),
        kappa=weighted_kappa(pairs, any_disagreement) if in_steps else None,
        linear_kappa=weighted_kappa(pairs, linear_disagreement) if in_steps else None,
        quadratic_kappa=weighted_kappa(pairs, quadratic_disagreement) if in_steps else None,
        quadratic_kappa_interval=_kappa_interval(pairs) if in_steps else None,
        correlation=_correlation(pairs),
        intraclass=intraclass(pairs),
        mean_difference=_mean([a - b for a, b in pairs]),
        mean_difference_interval=_difference_interval(pairs),
    )
    undefined = [part.name for part in fields(result) if getattr(result, part.name) is None]
    if result.intraclass.two_way is None:
        undefined.append("intraclass")
    return replace(result, why_not={name: _why_not(name, pairs, in_steps) for name in undefined})


def any_disagreement(a: float, b: float) -> float:
    return float(a != b)


def linear_disagreement(a: float, b: float) -> float:
    return abs(a - b)


def quadratic_disagreement(a: float, b: float) -> float:
    return (a - b) ** 2


def weighted_kappa(pairs: Sequence[Pair], disagreement: Callable[[float, float], float]) -> float | None:
    """1 - sum(v x observed) / sum(v x expected), v the weight of a disagreement (Cohen 1968, Psychological Bulletin
    70(4)). None where no disagreement is expected by chance: both markers always gave one and the same score.

    Weights go by the scores themselves, so a level that nobody gave still separates its neighbours. scikit-learn does
    the same when it is told all ``labels``, and else counts only the levels that occur.
    """
    firsts, seconds = Counter(a for a, _ in pairs), Counter(b for _, b in pairs)
    observed = sum(n * disagreement(a, b) for (a, b), n in Counter(pairs).items())
    expected = sum(n * m * disagreement(a, b) for a, n in firsts.items() for b, m in seconds.items())
    return 1 - observed * len(pairs) / expected if expected else None


def kappa_error(pairs: Sequence[Pair], disagreement: Callable[[float, float], float]) -> float | None:
    """The standard error of weighted_kappa in large samples (Fleiss, Cohen & Everitt 1969, Psychological Bulletin
    72(5)), written for weights v of disagreement: with k = 1 - observed/expected and e the expected disagreement,
    n x error^2 = sum p_ij (v_ij/e - (1 - k)(v_i. + v_.j)/e)^2 - (1 - k)^2. None where kappa is.
    """
    kappa = weighted_kappa(pairs, disagreement)
    if kappa is None:
        return None
    n = len(pairs)
    firsts, seconds = Counter(a for a, _ in pairs), Counter(b for _, b in pairs)
    of_first = {a: sum(m * disagreement(a, b) for b, m in seconds.items()) / n for a in firsts}
    of_second = {b: sum(m * disagreement(a, b) for a, m in firsts.items()) / n for b in seconds}
    expected = sum(m * of_first[a] for a, m in firsts.items()) / n
    squares = sum(
        m * ((disagreement(a, b) - (1 - kappa) * (of_first[a] + of_second[b])) / expected) ** 2
        for (a, b), m in Counter(pairs).items()
    )
    return sqrt(max(0.0, squares / n - (1 - kappa) ** 2) / n)


def intraclass(table: Sequence[Sequence[float]]) -> Intraclass:
    """Intraclass correlations of a table with one row for each essay and one column for each marker (Shrout & Fleiss
    1979, Psychological Bulletin 86(2)). All None with fewer than two rows or columns, or with no spread to share out.
    """
    n, k = len(table), len(table[0]) if table else 0
    if n < 2 or k < 2:
        return Intraclass(*[None] * 6)
    grand = fmean(value for row in table for value in row)
    rows = [fmean(row) for row in table]
    columns = [fmean(column) for column in zip(*table, strict=True)]
    total = sum((value - grand) ** 2 for row in table for value in row)
    between_rows = k * sum((mean - grand) ** 2 for mean in rows)
    between_columns = n * sum((mean - grand) ** 2 for mean in columns)
    bms = between_rows / (n - 1)
    wms = (total - between_rows) / (n * (k - 1))
    jms = between_columns / (k - 1)
    # Rounding can leave a trace below zero where markers agree but for their severity.
    ems = max(0.0, total - between_rows - between_columns) / ((n - 1) * (k - 1))
    return Intraclass(
        one_way=_ratio(bms - wms, bms + (k - 1) * wms),
        two_way=_ratio(bms - ems, bms + (k - 1) * ems + k * (jms - ems) / n),
        fixed=_ratio(bms - ems, bms + (k - 1) * ems),
        mean_one_way=_ratio(bms - wms, bms),
        mean_two_way=_ratio(bms - ems, bms + (jms - ems) / n),
        mean_fixed=_ratio(bms - ems, bms),
    )


def _ratio(part: float, whole: float) -> float | None:
    return part / whole if whole else None


def _mean(values: Sequence[float]) -> float | None:
    return fmean(values) if values else None


def _correlation(pairs: Sequence[Pair]) -> float | None:
    try:
        return correlation([a for a, _ in pairs], [b for _, b in pairs])
    except StatisticsError:  # fewer than two, or a marker who always gave one score
        return None


def _kappa_interval(pairs: Sequence[Pair]) -> Interval | None:
    """On Fisher's z scale, so that it stays within -1 and 1: quadratic kappa is nearly a correlation of scores (Fleiss
    & Cohen 1973). Of 100 samples of 20 essays, about 92 such intervals hold the true value; without the scale, 89.
    """
    kappa, error = weighted_kappa(pairs, quadratic_disagreement), kappa_error(pairs, quadratic_disagreement)
    if len(pairs) < LEAST_FOR_INTERVAL or kappa is None or not error or abs(kappa) >= 1:
        return None
    reach = NormalDist().inv_cdf((1 + INTERVAL) / 2) * error / (1 - kappa**2)
    return tanh(atanh(kappa) - reach), tanh(atanh(kappa) + reach)


def _difference_interval(pairs: Sequence[Pair]) -> Interval | None:
    differences = [a - b for a, b in pairs]
    if len(pairs) < LEAST_FOR_INTERVAL or len(set(differences)) == 1:
        return None
    reach = _students_t(len(pairs) - 1) * stdev(differences) / sqrt(len(pairs))
    return fmean(differences) - reach, fmean(differences) + reach


def _students_t(freedom: int) -> float:
    """Student's t for a 95% interval, right to 0.001 from 4 degrees of freedom: the expansion of Abramowitz & Stegun
    1964, 26.7.5.
    """
    z = NormalDist().inv_cdf((1 + INTERVAL) / 2)
    terms = (
        z,
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160,
    )
    return sum(term / float(freedom) ** power for power, term in enumerate(terms))


def _why_not(name: str, pairs: Sequence[Pair], in_steps: bool) -> str:
    if not pairs:
        return "no essay has both scores"
    if len(pairs) < 2:
        return "wants 2 essays with both scores, has 1"
    if "kappa" in name and not in_steps:
        return f"kappa is for scores in steps, and there are more than {MOST_SCORES} different ones"
    if name.endswith("_interval") and len(pairs) < LEAST_FOR_INTERVAL:
        return f"wants {LEAST_FOR_INTERVAL} essays with both scores, has {len(pairs)}"
    if name.endswith("_interval") and len(set(pairs)) > 1:
        return "the markers differ in the same way on every essay, so these essays do not show how much it varies"
    return "a marker gave every essay the same score, so agreement beyond chance cannot be told"
