"""Write the generated sections of DEVELOPERS.md: the figures on labelled essays and drafts, and the page of measures.

    python tests/docs/build_pages.py             all (some minutes)
    python tests/docs/build_pages.py measures    only what is in files: the measures, the figures of readers
    python tests/docs/build_pages.py revisions   only the figures on labelled drafts

A section stands between ``<!-- name: begin -->`` and ``<!-- name: end -->``; the rest of the file is left as it is.
"""

from __future__ import annotations

import subprocess
import sys
import tomllib
from collections.abc import Iterator, Mapping
from importlib.resources import files
from pathlib import Path
from typing import Any

from rubric_kit.measures.catalogue import Measure
from rubric_kit.measures.measured import FAMILIES
from rubric_kit.measures.signs import SIGNS

ALL = {**FAMILIES, **SIGNS}
ROOT = Path(__file__).parents[2]
PAGE = ROOT / "DEVELOPERS.md"
HEADS = ("measure", "definition", "unit", "source", "smallest sample", "measured accuracy", "not to be trusted")
FOR_ALL = "as for all"


def section(page: str, name: str) -> str:
    """What stands between the marks of a section; ValueError where a mark is missing."""
    start, end = _place(page, name)
    return page[start:end].strip()


def with_section(page: str, name: str, content: str) -> str:
    """The page with one section replaced."""
    start, end = _place(page, name)
    return f"{page[:start]}\n{content}\n{page[end:]}"


def _place(page: str, name: str) -> tuple[int, int]:
    begin, end = f"<!-- {name}: begin -->", f"<!-- {name}: end -->"
    return page.index(begin) + len(begin), page.index(end)


def labelled_table() -> str:
    """The figures of tests/labelled/measure.py on the half that nothing was fitted on."""
    return _printed(ROOT / "tests" / "labelled" / "measure.py", "report")


def revisions_table() -> str:
    """The figures of tests/scoring/measure_revisions.py on the half that nothing was tuned on."""
    return _printed(ROOT / "tests" / "scoring" / "measure_revisions.py", "report")


def transfer_table() -> str:
    """Whether readers' estimates would make the levels of the tuning essays better."""
    return _printed(ROOT / "tests" / "measures" / "transfer_readers.py")


def _printed(script: Path, *arguments: str) -> str:
    done = subprocess.run([sys.executable, str(script), *arguments], capture_output=True, text=True, check=True)
    return done.stdout.strip()


def readers_table() -> str:
    """How well estimates of readers' scores agree with them, trait by trait, by the file that ships."""
    shipped = tomllib.loads((files("rubric_kit.scoring") / "data" / "readers.toml").read_text("utf-8"))
    figures = shipped["figures"]
    nearest = {
        trait: f"{key}: {r:.2f}" for name, r in shipped["criteria"].items() for key, trait in [name.split("_with_")]
    }
    rows = [["trait", "error of the estimate", "its correlation", "correlation of our nearest criterion"]]
    rows.append(["---"] * len(rows[0]))
    for trait in shipped["traits"]:
        both = (f"{figures[f'{what}_{trait}']:.2f}" for what in ("error", "correlation"))
        rows.append([trait, *both, nearest.get(trait, "none is near")])
    mean = f"Mean error over the six traits {figures['mean_error']:.3f}"
    kappa = f"quadratic weighted kappa of overall, in half steps, {figures['kappa_overall']:.2f}."
    return "\n".join([*(f"| {' | '.join(row)} |" for row in rows), "", f"{mean}; {kappa}"])


def measures_page(labelled: str) -> str:
    """Every measure of every family; ``labelled`` is the table of labelled essays that some figures come from."""
    figures = dict(_cells(line) for line in labelled.splitlines()[2:])
    return "\n\n".join(_family(name, table, trust()[name], figures) for name, table in ALL.items())


def trust() -> dict[str, dict[str, Any]]:
    return tomllib.loads((files("rubric_kit.measures") / "data" / "trust.toml").read_text("utf-8"))


def _cells(row: str) -> tuple[str, str]:
    what, figure = row.strip("| ").split(" | ")
    return what, figure


def _family(name: str, measures: Mapping[str, Measure[Any]], known: dict[str, Any], figures: dict[str, str]) -> str:
    rows = [HEADS, ["---"] * len(HEADS)]
    rows += [_row(measure, known.get("measure", {}).get(measure.name, {}), figures) for measure in measures.values()]
    return "\n".join(
        [
            f"### {name.capitalize()}",
            "",
            f"**How accurate.** {known['accuracy'].strip()}",
            "",
            f"**When not to trust it.** {known['beware'].strip()}",
            "",
            *(f"| {' | '.join(row)} |" for row in rows),
        ]
    )


def _row(measure: Measure[Any], known: dict[str, Any], figures: dict[str, str]) -> list[str]:
    found = [f"{row}: {figures[row]}" for row in known.get("labelled", ())]
    accuracy = "; ".join([*found, *([known["accuracy"]] if "accuracy" in known else [])])
    cells = [f"`{measure.name}`", measure.formula, measure.unit, measure.source]
    cells += ["; ".join(_smallest(measure)) or "any", accuracy or FOR_ALL, known.get("beware", FOR_ALL)]
    return [cell.replace("|", "\\|") for cell in cells]


def _smallest(measure: Measure[Any]) -> Iterator[str]:
    """What the formula cannot do without, then below what it is only indicative."""
    if measure.at_least:
        yield ", ".join(f"{name.replace('_', ' ')} ≥ {least}" for name, least in measure.at_least.items())
    if measure.wants:
        few = " or ".join(f"{name.replace('_', ' ')} < {least}" for name, least in measure.wants.items())
        yield f"indicative where {few}"


def main(only: str = "") -> None:
    page = PAGE.read_text("utf-8")
    if not only:
        page = with_section(page, "labelled", labelled_table())
        page = with_section(page, "transfer", transfer_table())
    if only != "measures":
        page = with_section(page, "revisions", revisions_table())
    if only != "revisions":
        page = with_section(page, "readers", readers_table())
        page = with_section(page, "measures", measures_page(section(page, "labelled")))
    PAGE.write_text(page, "utf-8", newline="\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
