"""survivors.md: how many mutants of each package were caught, and why each that was not."""

from __future__ import annotations

import csv
import json
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from math import sqrt
from pathlib import Path
from statistics import NormalDist

from mutants import Mutant

HERE = Path(__file__).parent
INTERVAL = 0.95
HEAD = """Written by `run.py report`; why each survived is in `survivors.tsv`. No test was written by this sample before
it was tried; seeds 1 to 3 were used to find gaps. What does the same as the program counts as a survivor too."""
CLASSES = {
    "equivalent": "the program does the same",
    "text": "only the words of a message, of an error or of the reference page change",
    "speed": "only slower, or more is kept in memory",
    "small": "a number moves by less than is shown",
    "build": "read only by the scripts that build the data files",
    "unreachable": "what it guards against does not come from the parser or the callers that there are",
    "tuned": "a constant or a cue chosen on labelled essays: figures move by less than the floors and nets notice",
    "time": "a test beyond the time that a mutant was given catches it",
    "tested since": "a gap when the sample was drawn; a test was written afterwards",
    "to be tested": "a gap",
}
Drawn = Mapping[str, tuple[Sequence[Mutant], Mapping[str, int]]]
Key = tuple[str, str, str, str]


def write_report(results: Path, drawn: Drawn, seed: int) -> None:
    """From the results of a seed and survivors.tsv; prints the survivors that are not explained there."""
    rows = [json.loads(line) for line in results.read_text("utf-8").splitlines()]
    caught: dict[Key, str] = {tuple(row["key"]): row["caught"] for row in rows}
    explained = _explained()
    lines = [f"# Mutants and survivors (seed {seed})", "", HEAD, "", *_totals(drawn, caught), ""]
    survivors = [m for mutants, _ in drawn.values() for m in mutants if caught.get(m.key) == ""]
    lines += [*_classes(survivors, explained), ""]
    by_file: dict[str, list[Mutant]] = defaultdict(list)
    for mutant in survivors:
        by_file[mutant.file].append(mutant)
    for file, mutants in by_file.items():
        lines += [f"## {file.removeprefix('rubric_kit/')}", ""]
        for m in mutants:
            kind, why = explained.get(m.key, ("to be tested", "not explained yet"))
            was, became = _shortened(m.was, m.became)
            lines.append(f"- `{m.scope}`: `` {was} `` became `` {became} ``: {kind}: {why}")
            if m.key not in explained:
                print("\t".join([*m.key, "", ""]))
        lines.append("")
    (HERE / "survivors.md").write_text("\n".join(lines).rstrip() + "\n", "utf-8")


def _totals(drawn: Drawn, caught: Mapping[Key, str]) -> list[str]:
    lines = ["| package | mutants | tried | caught | share | 95% interval |", "|---|---|---|---|---|---|"]
    for package, (mutants, sizes) in drawn.items():
        tried = [m for m in mutants if m.key in caught]
        hits = sum(bool(caught[m.key]) for m in tried)
        low, high = wilson(hits, len(tried))
        lines.append(
            f"| {package} | {sum(sizes.values()):,} | {len(tried)} | {hits} | {hits / len(tried):.1%} "
            f"| {low:.1%} to {high:.1%} |"
        )
    return lines


def _classes(survivors: Sequence[Mutant], explained: Mapping[Key, tuple[str, str]]) -> list[str]:
    counts = Counter(explained.get(m.key, ("to be tested", ""))[0] for m in survivors)
    lines = ["| survivors | number | meaning |", "|---|---|---|"]
    return lines + [f"| {kind} | {counts[kind]} | {what} |" for kind, what in CLASSES.items()]


def _explained() -> dict[Key, tuple[str, str]]:
    with (HERE / "survivors.tsv").open(encoding="utf-8", newline="") as file:
        rows = csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE)
        return {(r["file"], r["scope"], r["was"], r["became"]): (r["class"], r["why"]) for r in rows}


def _shortened(was: str, became: str, around: int = 40) -> tuple[str, str]:
    """What differs, with so many characters on either side."""
    pairs = list(zip(was, became, strict=False))
    head = next((n for n, (a, b) in enumerate(pairs) if a != b), len(pairs))
    back = next((n for n, (a, b) in enumerate(zip(was[::-1], became[::-1], strict=False)) if a != b), 0)
    back = min(back, len(was) - head, len(became) - head)
    start = max(0, head - around)
    return tuple(text[start : len(text) - back + around if back > around else None] for text in (was, became))  # type: ignore[return-value]


def wilson(hits: int, of: int) -> tuple[float, float]:
    """Interval of a share (Wilson 1927, JASA 22(158))."""
    z = NormalDist().inv_cdf((1 + INTERVAL) / 2)
    centre, reach = hits + z * z / 2, z * sqrt(hits * (of - hits) / of + z * z / 4)
    return (centre - reach) / (of + z * z), (centre + reach) / (of + z * z)
