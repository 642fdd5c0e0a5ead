import random
from statistics import stdev

import pytest
from sklearn.metrics import cohen_kappa_score

from rubric_kit.errors import RubricKitError
from rubric_kit.scoring.agreement import LEAST_FOR_INTERVAL, agreement, intraclass

FIRST = [1, 2, 3, 4, 4, 3, 2, 5, 3, 4]
SECOND = [1, 2, 3, 3, 4, 4, 2, 4, 3, 5]


def test_a_small_table_by_hand() -> None:
    """Six of ten alike; squared differences 4 where chance expects 25.8."""
    result = agreement(FIRST, SECOND)
    assert (result.n, result.exact, result.adjacent) == (10, 0.6, 1.0)
    assert result.kappa == pytest.approx(0.47368, abs=5e-6)
    assert result.linear_kappa == pytest.approx(0.68254, abs=5e-6)
    assert result.quadratic_kappa == pytest.approx(1 - 4 / 25.8)
    assert result.mean_difference == pytest.approx(0)
    assert not result.why_not


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("levels", [[1, 2, 3, 4], [1, 1.5, 2, 2.5, 3], [0, 1]], ids=str)
def test_kappa_equals_scikit_learn(levels: list[float], seed: int) -> None:
    draw = random.Random(seed)
    first = draw.choices(levels, k=60)
    second = [a if draw.random() < 0.5 else draw.choice(levels) for a in first]
    result = agreement(first, second)
    ours = {None: result.kappa, "linear": result.linear_kappa, "quadratic": result.quadratic_kappa}
    for weights, value in ours.items():
        as_labels = [levels.index(a) for a in first], [levels.index(b) for b in second]
        theirs = cohen_kappa_score(*as_labels, weights=weights, labels=range(len(levels)))
        assert value == pytest.approx(theirs, abs=1e-12)


def test_a_level_that_nobody_gave_still_keeps_its_neighbours_apart() -> None:
    first, second = [1, 1, 2, 4, 4, 2], [1, 2, 2, 4, 2, 1]
    told = cohen_kappa_score(first, second, weights="quadratic", labels=[1, 2, 3, 4])
    untold = cohen_kappa_score(first, second, weights="quadratic")
    assert agreement(first, second).quadratic_kappa == pytest.approx(told)
    assert told != pytest.approx(untold)


def test_the_interval_holds_the_value_and_is_the_same_each_time() -> None:
    one, other = agreement(FIRST, SECOND), agreement(FIRST, SECOND)
    assert one == other
    low, high = one.quadratic_kappa_interval
    assert low < one.quadratic_kappa < high
    low, high = one.mean_difference_interval
    assert low < 0 < high


def test_nine_in_ten_intervals_of_20_essays_hold_the_true_kappa() -> None:
    """The truth is the kappa of 30,000 essays by the same two markers."""
    draw = random.Random(20)

    def marked(n: int) -> tuple[list[int], list[int]]:
        worth = [draw.gauss(0, 1) for _ in range(n)]
        return tuple([1 + sum(w + draw.gauss(0, 0.6) > c for c in (-1.2, 0, 1.2)) for w in worth] for _ in range(2))

    truth = agreement(*marked(30_000)).quadratic_kappa
    samples = [agreement(*marked(20)).quadratic_kappa_interval for _ in range(400)]
    assert sum(low <= truth <= high for low, high in samples) / 400 >= 0.9


def test_the_interval_of_a_mean_difference_is_students() -> None:
    """Six differences 1 2 3 4 5 6: mean 3.5, standard deviation 1.8708, t with 5 degrees of freedom 2.5706."""
    low, high = agreement([1, 2, 3, 4, 5, 6], [0] * 6).mean_difference_interval
    assert (low, high) == pytest.approx((3.5 - 1.9633, 3.5 + 1.9633), abs=0.0005)


@pytest.mark.parametrize(("freedom", "t"), [(4, 2.776), (5, 2.571), (9, 2.262), (19, 2.093), (60, 2.000)])
def test_the_interval_reaches_as_far_as_the_table_of_t_says(freedom: int, t: float) -> None:
    """The tables of t are to three decimals."""
    first = [float(n % 7) for n in range(freedom + 1)]
    low, high = agreement(first, [0.0] * len(first)).mean_difference_interval
    assert (high - low) / 2 * len(first) ** 0.5 / stdev(first) == pytest.approx(t, abs=0.001)


def test_the_interval_of_a_mean_difference_is_near_the_normal_one() -> None:
    draw = random.Random(7)
    first = [draw.gauss(0.5, 1) for _ in range(200)]
    low, high = agreement(first, [0.0] * 200).mean_difference_interval
    mean = sum(first) / 200
    error = (sum((a - mean) ** 2 for a in first) / 199 / 200) ** 0.5
    assert (low, high) == pytest.approx((mean - 1.96 * error, mean + 1.96 * error), abs=0.03)


@pytest.mark.parametrize(
    ("first", "second", "undefined", "reason"),
    [
        ([], [], "exact", "no essay"),
        ([None, 2], [1, float("nan")], "quadratic_kappa", "no essay"),
        ([3], [2], "intraclass", "wants 2 essays"),
        ([3, 3, 3], [3, 3, 3], "quadratic_kappa", "same score"),
        ([3, 3, 3], [3, 3, 3], "intraclass", "same score"),
        ([3, 3, 3], [2, 3, 4], "correlation", "same score"),
        ([1, 2, 3], [1, 2, 3], "mean_difference_interval", f"wants {LEAST_FOR_INTERVAL}"),
        ([1, 2, 3, 4, 5], [1, 2, 3, 4, 5], "quadratic_kappa_interval", "the same way"),
        ([2, 3, 4, 5, 6], [1, 2, 3, 4, 5], "mean_difference_interval", "the same way"),
        ([n / 7 for n in range(600)], list(range(600)), "kappa", "in steps"),
    ],
)
def test_what_is_undefined_is_none_with_a_reason(
    first: list[float], second: list[float], undefined: str, reason: str
) -> None:
    assert reason in agreement(first, second).why_not[undefined]


def test_essays_that_one_marker_left_out_are_left_out() -> None:
    assert agreement([1, 2, None, 4], [1, None, 3, 4]).n == 2


def test_lists_of_different_lengths_are_refused_in_words() -> None:
    with pytest.raises(RubricKitError) as raised:
        agreement([1, 2], [1])
    assert str(raised.value) == (
        "the first marker has 2 scores, the second 1: give both one score for each essay, in the same order, and None "
        "where a marker gave none"
    )


@pytest.mark.parametrize(
    ("first", "second", "undefined", "reason"),
    [
        ([], [], "exact", "no essay has both scores"),
        ([3], [2], "intraclass", "wants 2 essays with both scores, has 1"),
        (
            [3, 3],
            [3, 3],
            "kappa",
            "a marker gave every essay the same score, so agreement beyond chance cannot be told",
        ),
        (
            [n / 7 for n in range(600)],
            list(range(600)),
            "linear_kappa",
            "kappa is for scores in steps, and there are more than 500 different ones",
        ),
        ([1, 2, 3, 3], [1, 2, 3, 4], "quadratic_kappa_interval", "wants 5 essays with both scores, has 4"),
        ([1, 2, 3, 3], [1, 2, 3, 4], "mean_difference_interval", "wants 5 essays with both scores, has 4"),
        (
            [2, 3, 4, 5, 6],
            [1, 2, 3, 4, 5],
            "mean_difference_interval",
            "the markers differ in the same way on every essay, so these essays do not show how much it varies",
        ),
    ],
)
def test_each_reason_is_a_whole_one(first: list[float], second: list[float], undefined: str, reason: str) -> None:
    assert agreement(first, second).why_not[undefined] == reason


def test_a_value_that_is_there_has_no_reason_why_not() -> None:
    assert agreement([1, 2, 3, 4, 4, 1], [1, 2, 3, 4, 3, 2]).why_not == {}
    assert agreement([1, 2, 3, 3, 4], [1, 2, 3, 4, 4]).mean_difference_interval is not None


def test_markers_who_differ_only_in_severity_agree_fully_but_for_it() -> None:
    icc = intraclass([(1, 2), (2, 3), (3, 4)])
    assert icc.fixed == pytest.approx(1)
    assert icc.two_way == pytest.approx(2 / 3)
