"""How often luck is called growth, and how often growth is found: simulated years of one child's pieces.

    python tests/growth/simulate.py            print the figures
    python tests/growth/simulate.py --write    write them into DEVELOPERS.md

A year has 6 to 12 pieces on days drawn at random from nine months (two may share a day). Each criterion has a true
level of its own; a piece scatters around it, half of that (in variance) alike in all its criteria, and each level is
rounded to halves or to whole levels within 1 to 4. The overall level is the mean of the criteria, weighted as in the
rubric.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from pathlib import Path
from random import Random
from statistics import fmean

from rubric_kit.growth.many import HEADLINE, together
from rubric_kit.growth.power import power
from rubric_kit.growth.trend import DAYS_A_MONTH, Trend, trend

PAGE = Path(__file__).parents[2] / "DEVELOPERS.md"
YEARS = 2000
CELL = 1000  # years for each cell of the table of power: a share is right to about 0.03
BEGIN, DAYS = date(2025, 9, 1), 273  # September to May
PIECES = (6, 12)
SCATTERS = (0.3, 0.45, 0.6)  # levels
SLOPES = (0.05, 0.1, 0.15, 0.2)  # levels a month
COUNTS = (6, 9, 12, 18)
STEPS = (0.5, 1.0)
WEIGHTS = {"focus": 20, "organization": 20, "evidence": 25, "sentences": 15, "conventions": 20}
ALIKE = (0.3, 0.5)  # correlations of a piece with the one before, where pieces are not independent
PAGE_RISING = "a page of the overall level and five criteria: any of them rising"


def days(draw: Random, n: int) -> list[date]:
    return sorted(BEGIN + timedelta(draw.randrange(DAYS)) for _ in range(n))


def rounded(level: float, step: float) -> float:
    return min(4.0, max(1.0, round(level / step) * step))


def noise(draw: Random, n: int, alike: float = 0.0) -> list[float]:
    """Standard normal, each correlated with the one before."""
    found = [draw.gauss(0, 1)]
    while len(found) < n:
        found.append(alike * found[-1] + (1 - alike**2) ** 0.5 * draw.gauss(0, 1))
    return found


def levels(
    draw: Random, dates: Sequence[date], scatter: float, step: float, slope: float = 0.0, alike: float = 0.0
) -> dict[str, list[float]]:
    """The levels of one child's pieces by criterion, and the overall level."""
    shared = noise(draw, len(dates), alike)
    rise = [slope * ((day - BEGIN).days - DAYS / 2) / DAYS_A_MONTH for day in dates]
    found = {}
    for name in WEIGHTS:
        true = draw.uniform(1.5, 3.5)
        own = noise(draw, len(dates), alike)
        found[name] = [
            rounded(true + up + scatter * 0.5**0.5 * (a + b), step) for up, a, b in zip(rise, shared, own, strict=True)
        ]
    weight = sum(WEIGHTS.values())
    overall = [sum(WEIGHTS[name] * found[name][i] for name in WEIGHTS) / weight for i in range(len(dates))]
    return {HEADLINE: overall, **found}


def year(draw: Random, alike: float = 0.0) -> dict[str, Trend]:
    """The trends of a year without any true change."""
    n, step, scatter = draw.randint(*PIECES), draw.choice(STEPS), draw.uniform(SCATTERS[0], SCATTERS[-1])
    dates = days(draw, n)
    return {name: trend(dates, values) for name, values in levels(draw, dates, scatter, step, alike=alike).items()}


def false_growth(seed: int = 1, alike: float = 0.0) -> dict[str, float]:
    """Shares of years, 0 to 1, in which a rise (or a fall) is called beyond chance though there is none."""
    draw = Random(seed)
    years = [year(draw, alike) for _ in range(YEARS)]
    pages = [together(found) for found in years]
    all_six = [together(found, headline=None) for found in years]
    return {
        "one criterion, half or whole levels: rising": share([{"one": found["focus"]} for found in years]),
        "overall level: rising": share([{HEADLINE: page[HEADLINE]} for page in pages]),
        "overall level: falling": share([{HEADLINE: page[HEADLINE]} for page in pages], "falling"),
        PAGE_RISING: share(pages),
        "the same page: any of them falling": share(pages, "falling"),
        "the same, all six under Holm's adjustment: any of them rising": share(all_six),
        "the same without any adjustment: any of them rising": share(years),
    }


def share(pages: Sequence[Mapping[str, Trend]], direction: str = "rising") -> float:
    return fmean(any(t.beyond_chance and t.direction == direction for t in page.values()) for page in pages)


def cell(slope: float, scatter: float, n: int) -> tuple[float, float]:
    """Share of years with a true rise in which it is called beyond chance, one series in half levels; and the same by
    the approximation that pieces_needed rests on, with what it would see: the mean gap between days drawn at random,
    and a scatter that rounding adds to (a level spread evenly over its step).
    """
    draw = Random(f"{slope} {scatter} {n}")
    found = 0
    for _ in range(CELL):
        dates = days(draw, n)
        rise = [slope * (day - BEGIN).days / DAYS_A_MONTH for day in dates]
        start = 2.5 - slope * DAYS / DAYS_A_MONTH / 2
        result = trend(dates, [rounded(start + up + draw.gauss(0, scatter), 0.5) for up in rise])
        found += result.beyond_chance and result.direction == "rising"
    gap, seen = DAYS / DAYS_A_MONTH / (n + 1), (scatter**2 + 0.5**2 / 12) ** 0.5
    return found / CELL, power(n, slope * gap, seen)


def headline_cell(slope: float, scatter: float, n: int) -> float:
    """Share of years with the same true rise in every criterion, given in whole levels, in which the overall level is
    called rising.
    """
    draw = Random(f"{HEADLINE} {slope} {scatter} {n}")
    found = 0
    for _ in range(CELL):
        dates = days(draw, n)
        result = trend(dates, levels(draw, dates, scatter, STEPS[-1], slope)[HEADLINE])
        found += result.beyond_chance and result.direction == "rising"
    return found / CELL


def coverage(slope: float = 0.1, seed: int = 1) -> tuple[float, dict[str, float]]:
    """Share of 95% intervals that hold the true slope, and of bands that hold the true line at the first, the middle
    and the last piece; half levels.
    """
    draw = Random(seed)
    held: list[bool] = []
    within: dict[str, list[bool]] = {"first": [], "middle": [], "last": []}
    for _ in range(YEARS):
        dates = days(draw, draw.randint(*PIECES))
        scatter = draw.uniform(SCATTERS[0], SCATTERS[-1])
        true = {day: 2 + slope * (day - BEGIN).days / DAYS_A_MONTH for day in dates}
        found = trend(dates, [rounded(true[day] + draw.gauss(0, scatter), 0.5) for day in dates])
        if found.interval:
            held.append(found.interval[0] <= slope <= found.interval[1])
            for name, day in zip(within, (dates[0], dates[len(dates) // 2], dates[-1]), strict=True):
                low, high = found.band(day) or (0.0, 0.0)
                within[name].append(low <= true[day] <= high)
    return fmean(held), {name: fmean(share) for name, share in within.items()}


def false_rows(figures: Mapping[str, float], suffix: str = "") -> list[str]:
    return [f"| {what}{suffix} | {share:.1%} |" for what, share in figures.items()]


def power_row(slope: float, scatter: float, counts: Sequence[int] = COUNTS) -> str:
    cells = [f"{simulated:.0%} ({formula:.0%})" for simulated, formula in (cell(slope, scatter, n) for n in counts)]
    return f"| {slope} | {scatter} | {' | '.join(cells)} |"


def headline_row(slope: float, scatter: float) -> str:
    return f"| {slope} | {scatter} | {' | '.join(f'{headline_cell(slope, scatter, n):.0%}' for n in COUNTS)} |"


def figures() -> str:
    slopes, lines = coverage()
    resembling = [
        row
        for alike in ALIKE
        for row in false_rows(
            {PAGE_RISING: false_growth(alike=alike)[PAGE_RISING]},
            f", each piece correlated {alike} with the one before",
        )
    ]
    return "\n".join(
        [
            f"| {YEARS:,} years without any change | called beyond chance |",
            "|---|---|",
            *false_rows(false_growth()),
            *resembling,
            "",
            f"Of the 95% intervals of a slope of 0.1 levels a month, {slopes:.1%} held it; of the bands, "
            + ", ".join(f"{share:.1%} held the true line at the {name} piece" for name, share in lines.items())
            + ".",
            "",
            "One criterion in half levels:",
            "",
            f"| levels a month | scatter | {' | '.join(f'{n} pieces' for n in COUNTS)} |",
            f"|{'---|' * (2 + len(COUNTS))}",
            *(power_row(slope, scatter) for slope in SLOPES for scatter in SCATTERS),
            "",
            "The overall level of five criteria given in whole levels, each with the slope and scatter of the row:",
            "",
            f"| levels a month | scatter | {' | '.join(f'{n} pieces' for n in COUNTS)} |",
            f"|{'---|' * (2 + len(COUNTS))}",
            *(headline_row(slope, scatter) for slope in SLOPES for scatter in SCATTERS[1:]),
        ]
    )


def section(page: str) -> tuple[int, int]:
    begin, end = "<!-- growth: begin -->", "<!-- growth: end -->"
    return page.index(begin) + len(begin), page.index(end)


if __name__ == "__main__":
    text = figures()
    print(text)
    if "--write" in sys.argv[1:]:
        page = PAGE.read_text("utf-8")
        start, end = section(page)
        PAGE.write_text(f"{page[:start]}\n{text}\n{page[end:]}", "utf-8", newline="\n")
