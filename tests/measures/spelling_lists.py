"""The lists of misspellings that spelling is fitted to and measured on, in two halves by the word that was meant."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

HERE = Path(__file__).parent
SHARED = HERE.parents[2] / "shared" / "data"
Pair = tuple[str, str]  # written, meant


def pairs(name: str) -> list[Pair]:
    """'aspell' or 'wikipedia' (R. Mitton's collections, beside the project), or our own 'children'."""
    if name == "children":
        lines = (HERE / "childrens_slips.tsv").read_text("utf-8").splitlines()
        return [(line.split("\t")[0], line.split("\t")[1]) for line in lines if not line.startswith("#")]
    return [pair for pair in _collected(SHARED / f"misspellings_{name}.dat") if pair[0] != pair[1]]


def is_for_fitting(meant: str) -> bool:
    """Weights are fitted to these and measured on the others."""
    return int(sha256(meant.lower().encode()).hexdigest(), 16) % 2 == 0


def _collected(path: Path) -> Iterator[Pair]:
    meant = ""
    for line in path.read_text("utf-8").split():
        word = line.replace("_", " ")
        if word.startswith("$"):
            meant = word[1:]
        else:
            yield word, meant
