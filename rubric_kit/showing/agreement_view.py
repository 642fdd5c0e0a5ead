"""How well two markers agree: on a terminal in plain words, and as plain data for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from rubric_kit.scoring.agreement import Agreement, Interval
from rubric_kit.scoring.marks_file import Marks
from rubric_kit.showing.inert import short
from rubric_kit.showing.lines import Lines

# Landis & Koch 1977, Biometrics 33. Made for plain kappa, and arbitrary by their own word: a way to speak, not a test.
KAPPA_WORDS = ((0.81, "almost perfect"), (0.61, "substantial"), (0.41, "moderate"), (0.21, "fair"), (0.0, "slight"))
BELOW_CHANCE = "poor, below what chance gives"
USABLE = 0.70  # quadratic kappa that scoring programmes ask for (Williamson, Xi & Breyer 2012, EM: IP 31(1))
FEW = 50  # essays; where kappa is USABLE, its interval is 0.27 wide with 50, 0.34 with 30, 0.40 with 20 (simulated)
NAME = 24  # characters of a column's name


def agreement_as_json(marks: Marks, agreed: Agreement) -> dict[str, Any]:
    """Every figure; one that cannot be worked out is null, with its reason under ``why_not``."""
    return {"first": marks.first_name, "second": marks.second_name, "left_out": _left_out(marks, agreed)} | asdict(
        agreed
    )


def print_agreement(marks: Marks, agreed: Agreement) -> None:
    """A table of the figures, then what each says in plain words, then cautions."""
    out = Lines()
    first, second = short(marks.first_name, NAME), short(marks.second_name, NAME)
    out.say(f"How well “{first}” and “{second}” agree", "bold")
    left_out = _left_out(marks, agreed)
    gaps = f"; {left_out:,} left out that lack one" if left_out else ""
    out.say(f"{agreed.n:,} essays with both scores{gaps}", "dim")
    out.blank()
    out.table(("measure", "value", "95% interval"), _rows(agreed))
    out.heading("In plain words")
    for sentence in _in_words(agreed, first, second):
        out.say(sentence, indent=2)
    out.heading("Keep in mind")
    for caution in _cautions(agreed):
        out.say(caution, indent=2)


def _left_out(marks: Marks, agreed: Agreement) -> int:
    """Rows where one marker gave a score and the other none, or neither."""
    return len(marks.first) - agreed.n


def _rows(agreed: Agreement) -> Iterator[tuple[str, str, str]]:
    icc = agreed.intraclass
    yield "same score", _share(agreed.exact, agreed.n), ""
    yield "at most 1 apart", _share(agreed.adjacent, agreed.n), ""
    yield "quadratic weighted kappa", _value(agreed.quadratic_kappa), _interval(agreed.quadratic_kappa_interval)
    yield "ICC, one marker, any marker: (2,1)", _value(icc.two_way), ""
    yield "ICC, one marker, these two: (3,1)", _value(icc.fixed), ""
    yield "ICC, mean of the two: (2,2)", _value(icc.mean_two_way), ""
    yield "correlation", _value(agreed.correlation), ""
    yield "mean difference, first - second", _value(agreed.mean_difference), _interval(agreed.mean_difference_interval)


def _in_words(agreed: Agreement, first: str, second: str) -> Iterator[str]:
    if agreed.exact is None:
        yield f"Nothing can be said: {agreed.why_not['exact']}."
        return
    yield (
        f"Same score: {_share(agreed.exact, agreed.n)}. At most 1 apart: {_share(agreed.adjacent, agreed.n)}. "
        "On a scale of few levels most pairs are near by luck."
    )
    yield _kappa_in_words(agreed)
    yield _intraclass_in_words(agreed)
    if agreed.correlation is not None:
        yield (
            "The correlation says how far both put the essays in the same order, 1 fully and 0 not at all. It takes no "
            "account of severity: a marker who always gives 1 less is in full step."
        )
    yield _difference_in_words(agreed, first, second)


def _kappa_in_words(agreed: Agreement) -> str:
    kappa = agreed.quadratic_kappa
    if kappa is None:
        return f"Kappa cannot be worked out: {agreed.why_not['quadratic_kappa']}."
    word = next((word for least, word in KAPPA_WORDS if round(kappa, 2) >= least), BELOW_CHANCE)
    use = "reaches" if kappa >= USABLE else "is under"
    return (
        f"Quadratic weighted kappa is agreement beyond luck: 1 is full, 0 what luck gives, and a difference of 2 "
        f"weighs four times as much as one of 1. {kappa:.2f} is often called “{word}”; it {use} the {USABLE:.2f} that "
        "scoring programmes ask for."
    )


def _intraclass_in_words(agreed: Agreement) -> str:
    icc = agreed.intraclass
    if icc.two_way is None or icc.mean_two_way is None:
        return f"The intraclass correlations cannot be worked out: {agreed.why_not['intraclass']}."
    if icc.two_way < 0:
        return "The intraclass correlation (ICC) is below 0: the markers differ more than the essays do."
    return (
        f"The intraclass correlation (ICC) is the share of what the scores differ by that comes from the essays: "
        f"{100 * icc.two_way:.0f} in 100 for one marker's score, {100 * icc.mean_two_way:.0f} for the mean of both. "
        "(2,1) counts a marker who is always more severe as disagreeing, (3,1) does not."
    )


def _difference_in_words(agreed: Agreement, first: str, second: str) -> str:
    difference, interval = agreed.mean_difference or 0.0, agreed.mean_difference_interval
    if round(difference, 2) == 0:
        said = "On average neither gives more."
    else:
        said = f"On average “{first if difference > 0 else second}” gives {abs(difference):.2f} more."
    if interval is None:
        return said
    if interval[0] <= 0 <= interval[1]:
        return f"{said} The interval holds 0: these essays do not show that one is more severe."
    return f"{said} The interval does not hold 0: one is more severe, beyond the luck of these essays."


def _cautions(agreed: Agreement) -> Iterator[str]:
    if agreed.mean_difference_interval or agreed.quadratic_kappa_interval:
        yield "An interval is where the figure may well lie for all such essays; about 95 of 100 intervals hold it."
    if agreed.n < FEW:
        yield (
            f"{agreed.n} essays are few: another set of essays could give quite other figures. Read the intervals, "
            f"and mark {FEW} or more before you rely on a figure."
        )
    yield "Agreement is not correctness: two markers can agree and both be wrong."
    yield "Kappa falls where nearly all essays are alike, however well the markers agree: look at the shares as well."
    yield "The words for kappa are a habit of speech (Landis & Koch 1977), not a test."


def _share(value: float | None, n: int) -> str:
    return "cannot say" if value is None else f"{value * n:,.0f} of {n:,} ({value:.0%})"


def _value(value: float | None) -> str:
    return "cannot say" if value is None else f"{value:.2f}"


def _interval(interval: Interval | None) -> str:
    return f"{interval[0]:.2f} to {interval[1]:.2f}" if interval else ""
