"""The score sheet, a rubric and the list of measures on a terminal, or piped into a file: plain at 80 columns."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import chain, islice, zip_longest
from typing import Any

from rubric_kit.measures.catalogue import Measure
from rubric_kit.scoring.rubric import LEVEL_NAMES, LEVELS, Rubric
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing.inert import short
from rubric_kit.showing.lines import Lines
from rubric_kit.showing.view import ABOUT_SURE, CriterionView, Quote, SlipGroup, View, view

REASONS = 2  # of each criterion: those of the greatest weight
QUOTES = 2  # of each criterion
QUOTED = 46  # characters of a quotation
SLIPS = 8  # of each kind; all of them are on the page
SLIP = 24  # characters of a slip
FORMULAS = ("Flesch-Kincaid grade", "Flesch Reading Ease", "SMOG", "Dale-Chall (1948)")  # the best known


def print_sheet(sheet: ScoreSheet) -> None:
    """Levels with the sentences behind them, one next step each, slips, readability and cautions."""
    page, out = view(sheet), Lines()
    out.say(page.title, "bold")
    out.say(" · ".join(part for part in (page.source, page.byline) if part), "dim")
    out.blank()
    out.say(f"{page.percent} out of 100, {page.letter}: a proposal. Your own levels are final.", "bold")
    out.blank()
    out.table(
        ("criterion", "level", "how sure", "weight"),
        ((c.name, f"{c.level} {c.level_name}", f"{c.sure}: {c.readers}", c.weight) for c in page.criteria),
    )
    out.say(ABOUT_SURE, "dim")
    for criterion in page.criteria:
        _criterion(criterion, out)
    _slips(page.slips, out)
    _readability(page, out)
    out.heading("Keep in mind")
    for caution in page.cautions:
        out.say(caution, indent=2)


def print_rubric(rubric: Rubric) -> None:
    """Each criterion with its weight and the four descriptors; what a level is worth, and the letters."""
    out = Lines()
    out.say(f"Rubric: {rubric.name}", "bold")
    for criterion in rubric.criteria:
        out.heading(f"{criterion.name} (weight {criterion.weight:g})")
        for level in LEVELS:
            out.say(f"{level} {LEVEL_NAMES[level]}: {criterion.descriptors[level]}", indent=2)
        out.say(f"Only you can judge {criterion.not_judged}.", "dim", indent=2)
    out.heading("What a level is worth")
    out.say(", ".join(f"{level}: {worth:g}" for level, worth in rubric.percent.items()) + " (out of 100)", indent=2)
    out.say("Letters: " + ", ".join(f"{letter} from {least:g}" for least, letter in rubric.letters), indent=2)


def print_measures(families: Mapping[str, Mapping[str, Measure[Any]]]) -> None:
    """Each measure of each family with its formula and unit."""
    out = Lines()
    for family, measures in families.items():
        out.heading(family.capitalize())
        for measure in measures.values():
            out.say(f"{measure.name}: {measure.formula} ({measure.unit})", indent=2)


def _criterion(criterion: CriterionView, out: Lines) -> None:
    out.heading(f"{criterion.name.capitalize()}: {criterion.level} {criterion.level_name}")
    main = criterion.reasons[:REASONS]
    if main:
        out.say(" ".join(reason.text for reason in main), indent=2)
    in_turn = chain.from_iterable(zip_longest(*(reason.quotes for reason in main)))
    shown = tuple(islice(dict.fromkeys(q for q in in_turn if q), QUOTES))
    for each in shown:
        out.say(_quoted(each), "italic", indent=4)
    step = criterion.step
    on = step.quote and (step.quote.place if step.quote in shown else _quoted(step.quote))
    out.say(f"Next: {step.child}" + (f" Try it on {on}." if on else ""), indent=2)


def _quoted(shown: Quote) -> str:
    return f"“{short(shown.text, QUOTED)}” ({shown.place})"


def _slips(groups: tuple[SlipGroup, ...], out: Lines) -> None:
    out.heading("Slips found" if groups else "Slips found: none")
    for group in groups:
        shown = [
            short(s.text, SLIP) + (f" → {short(s.better[0], SLIP)}" if s.better else "") + f" ({s.quote.paragraph})"
            for s in group.slips[:SLIPS]
        ]
        more = f", and {len(group.slips) - SLIPS} more" if len(group.slips) > SLIPS else ""
        out.say(f"{group.heading}: {', '.join(shown)}{more}", indent=2)
    if groups:
        out.say("The number in brackets is the paragraph's.", "dim", indent=2)


def _readability(page: View, out: Lines) -> None:
    out.heading("How hard the text is to read")
    known = {f.name: f for f in page.formulas}
    out.say(page.reads_like, indent=2)
    out.say(", ".join(f"{name}: {known[name].value}" for name in FORMULAS if name in known), indent=2)
    out.say(page.readability_caution, "dim", indent=2)
