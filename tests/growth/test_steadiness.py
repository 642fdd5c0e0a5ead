from datetime import date, timedelta
from math import sqrt
from random import Random

import pytest

from rubric_kit.growth.steadiness import ENOUGH, Remark, steadiness
from rubric_kit.scoring.score import READER_SPREAD

CRITERIA = ("focus", "organization", "evidence", "sentences", "conventions")
START = date(2025, 10, 1)


def marked_twice(essays: int, error: float, lean: float = 0.0, seed: int = 1, step: float = 0.01) -> list[Remark]:
    draw, found = Random(seed), []
    for i in range(essays):
        for criterion in CRITERIA:
            true = draw.uniform(1.5, 3.5)
            first, second = true + draw.gauss(0, error), true + lean + draw.gauss(0, error)
            found.append(
                Remark(START + timedelta(14 * i), criterion, round(first / step) * step, round(second / step) * step)
            )
    return found


def test_the_readers_own_error_is_found() -> None:
    found = steadiness(marked_twice(40, 0.3))
    assert found.essays == 40
    assert found.pooled.value == pytest.approx(0.3, abs=0.03)
    assert found.whole.value == pytest.approx(0.3 / 5**0.5, abs=0.03)
    assert all(error.value == pytest.approx(0.3, abs=0.1) for error in found.by_criterion.values())
    assert found.error("focus").value == found.by_criterion["focus"].value
    assert "your own" in found.error("focus").source


@pytest.mark.parametrize("essays", [0, 1, ENOUGH - 1])
def test_too_few_pairs_give_the_default_and_say_where_it_comes_from(essays: int) -> None:
    found = steadiness(marked_twice(essays, 0.3))
    assert found.error() == found.error("focus")
    assert found.error().value == READER_SPREAD
    assert "labelled essays" in found.words
    assert f"{essays} piece" in found.words


def test_a_criterion_marked_seldom_is_judged_by_the_pooled_error() -> None:
    remarks = [r for r in marked_twice(10, 0.3) if r.criterion != "focus" or r.date < START + timedelta(30)]
    found = steadiness(remarks)
    assert found.error("focus").value == found.pooled.value
    assert "together" in found.error("focus").source
    assert found.error("a criterion never marked twice").value == found.pooled.value


def test_a_reader_who_grew_gentler_is_told_so() -> None:
    found = steadiness(marked_twice(12, 0.2, lean=0.4))
    assert found.drift.beyond_chance
    assert found.agreement.mean_difference == pytest.approx(found.drift.mean) == pytest.approx(0.4, abs=0.12)
    assert "gentler" in found.words
    assert "stricter" in steadiness(marked_twice(12, 0.2, lean=-0.4)).words


def test_the_lean_is_no_part_of_the_error() -> None:
    plain, leaning = steadiness(marked_twice(12, 0.2)), steadiness(marked_twice(12, 0.2, lean=0.4))
    assert leaning.pooled.value == pytest.approx(plain.pooled.value, abs=0.01)


def test_a_steady_reader_is_not_told_of_a_lean_in_nineteen_of_twenty() -> None:
    told = sum(steadiness(marked_twice(10, 0.3, seed=seed)).drift.beyond_chance for seed in range(200))
    assert told <= 18  # 10 expected; more than 18 has a chance of under 1%


def test_a_lean_that_grows_is_called_rising() -> None:
    growing = [r._replace(second=r.first + (r.date - START).days / 200) for r in marked_twice(10, 0.2)]
    assert "rising through the year" in steadiness(growing).words


@pytest.mark.parametrize("step", [0.5, 1])
def test_marks_that_never_differ_still_have_the_error_that_rounding_hides(step: float) -> None:
    found = steadiness([r._replace(second=r.first) for r in marked_twice(9, 0.3, step=step)])
    assert found.step == step
    assert found.error("focus").value == pytest.approx(step / sqrt(12))
    assert found.error().value == pytest.approx(step / sqrt(12 * 5))
    assert f"does not show yet; it is taken as {step / sqrt(12):.2f} levels" in found.words


def test_pieces_of_one_sitting_are_told_apart_by_their_name() -> None:
    remarks = marked_twice(12, 0.3)
    by_day = {day: i for i, day in enumerate(sorted({r.date for r in remarks}))}
    sitting = [r._replace(date=START + timedelta(by_day[r.date] // 3), piece=by_day[r.date]) for r in remarks]
    assert steadiness(sitting).essays == 12
    assert steadiness(sitting).whole == steadiness(remarks).whole
    assert steadiness([r._replace(piece="") for r in sitting]).essays == 4


def test_order_of_input_does_not_matter() -> None:
    remarks = marked_twice(9, 0.3)
    assert steadiness(remarks[::-1]) == steadiness(remarks)


def test_a_mark_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="not a number"):
        steadiness([*marked_twice(9, 0.3), Remark(START, "focus", float("nan"), 2)])
