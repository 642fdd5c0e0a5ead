"""How fast rubric_kit is, beside what it is built on.

    python tests/benchmarks/speed.py            measures and prints a table (some minutes)
    python tests/benchmarks/speed.py --write    ... and writes it to results.md
    python tests/benchmarks/speed.py --check    fewer essays, and an error where a ratio is far off

Ratios come from one run, by turns, in processor time, so that a busy machine slows both sides alike; medians of ROUNDS.
Each round has essays of its own that were not scored before, after WARM essays that are not counted: what is known of a
word is remembered, as it is in use. Starting is timed in whole processes, by the clock.
"""

from __future__ import annotations

import math
import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from statistics import median

from essays import labelled

import rubric_kit as rk
from rubric_kit.measures.counts import count
from rubric_kit.measures.pipeline import NOT_USED, installed
from rubric_kit.measures.readability import readability
from rubric_kit.measures.second_opinion import NAMES, textstat_offline
from rubric_kit.reading import Essay
from rubric_kit.records.tasks import Version

HERE = Path(__file__).parent
ESSAY = HERE.parents[1] / "sample_essays" / "2026-05-15_tamsin_call-of-the-wild.odt"
WARM = 120  # essays
ROUNDS, QUICK_ROUNDS = 5, 2
PER_ROUND = 30  # essays
BARE = "import spacy; nlp = spacy.load({name!r}); nlp(open({text!r}, encoding='utf-8').read())"
SLACK = 3  # times off its goal that a ratio may be in a quick check: what takes the square of the time shows
LONGER, A_SECOND = "times as long", "essays a second a core"


@dataclass(frozen=True)
class Figure:
    """One row: a ratio, a rate or a time, and what it is to be at least or at most, where there is a goal."""

    what: str
    value: float
    unit: str
    least: float = 0.0
    most: float = math.inf

    def misses(self, slack: float = 1.0) -> bool:
        return self.value * slack < self.least or self.value > self.most * slack

    @property
    def goal(self) -> str:
        at_most = f"at most {self.most:g}" if self.most < math.inf else ""
        return f"at least {self.least:g}" if self.least else at_most


def main(arguments: Sequence[str]) -> int:
    quick = "--check" in arguments
    figures = measured(QUICK_ROUNDS if quick else ROUNDS)
    table = "\n".join(rows(figures))
    print(table)
    if "--write" in arguments:
        write("speed", table)
    return int(quick and any(figure.misses(SLACK) for figure in figures if figure.unit != A_SECOND))


def measured(rounds: int) -> list[Figure]:
    """Every figure, one after the other."""
    alone, texts = labelled()[:PER_ROUND], labelled()[PER_ROUND:]
    batches = [texts[i : rounds * PER_ROUND : rounds] for i in range(rounds)]  # alike in length
    warm = texts[rounds * PER_ROUND :][:WARM]
    formulas = _formulas([*alone, *batches[0]])  # first, as in a process that needs no parser
    list(rk.score_many(rk.HandedIn(rk.read_text(text)) for text in warm))
    return [
        *_without_parser(alone),
        *_scoring(batches, warm),
        *formulas,
        *_starting(rounds),
        _read_back(),
    ]


def _scoring(batches: Sequence[Sequence[str]], warm: Sequence[str]) -> list[Figure]:
    import spacy  # here, so that growth.py does not measure its memory

    nlp = spacy.load(installed(), exclude=list(NOT_USED))  # not ours, whose lists of lemmas are changed to be faster
    list(nlp.pipe(warm))
    bare, many, single, speed = [], [], [], []
    for texts in batches:
        essays = [rk.HandedIn(rk.read_text(text)) for text in texts]
        # None is kept, as when they are written out one by one.
        bare.append(seconds(lambda texts=texts: drop(nlp.pipe(texts))))
        many.append(seconds(lambda essays=essays: drop(rk.score_many(essays))))
        single.append(seconds(lambda essays=essays: [rk.score(*each) for each in essays]))
        speed.append(len(texts) / many[-1])
    return [
        Figure("full score, many together / bare pipeline", _ratio(many, bare), LONGER, most=1.25),
        Figure("full score, one by one and met before / bare pipeline", _ratio(single, bare), LONGER),
        Figure("full scores, many together", median(speed), A_SECOND),
    ]


def _without_parser(texts: Sequence[str]) -> list[Figure]:
    essays = [rk.read_text(text) for text in texts]
    first = seconds(lambda: [rk.measure_unparsed(essay) for essay in essays])
    again = median(seconds(lambda: [rk.measure_unparsed(essay) for essay in essays]) for _ in range(ROUNDS))
    reading = median(seconds(lambda: [rk.read_text(text) for text in texts]) for _ in range(ROUNDS))
    return [
        Figure("without the parser, every misspelling met before", len(texts) / again, A_SECOND, least=300),
        Figure("without the parser, essays not met before", len(texts) / first, A_SECOND, least=300),
        Figure("reading: from text to paragraphs, sentences and words", len(texts) / reading, A_SECOND),
    ]


def _formulas(texts: Sequence[str]) -> list[Figure]:
    """Ours of each essay as soon as it is read, which is what is done with one."""
    library = textstat_offline()
    theirs = [getattr(library, name) for name in NAMES.values()]
    for text in texts:  # the words of both sides are known from here on
        readability(count(rk.read_text(text)))
        for formula in theirs:
            formula(text)
    reading_took, ours_took, theirs_took = ([0.0] * ROUNDS for _ in range(3))
    for number in range(ROUNDS):
        new = [f"{text} It ended after {number} days." for text in texts]  # it remembers whole texts
        theirs_took[number] = seconds(lambda new=new: [formula(text) for text in new for formula in theirs])
        for text in new:
            essays: list[Essay] = []
            reading_took[number] += seconds(lambda text=text, essays=essays: essays.append(rk.read_text(text)))
            ours_took[number] += seconds(lambda essays=essays: readability(count(essays[0])))
    what = f"textstat's {len(theirs)} shared formulas / all of ours"
    with_reading = [a + b for a, b in zip(ours_took, reading_took, strict=True)]
    return [
        Figure(f"{what}, of an essay that is read", _ratio(theirs_took, ours_took), LONGER, least=8),
        Figure(f"{what}, reading it included", _ratio(theirs_took, with_reading), LONGER),
    ]


def _starting(times: int) -> list[Figure]:
    """Whole processes: what importing takes, and one essay scored beside a script that only loads and parses."""
    with tempfile.TemporaryDirectory() as folder:
        text = Path(folder) / "essay.txt"
        text.write_text(rk.read(ESSAY).text, encoding="utf-8")
        commands = {
            "python": ["-c", "pass"],
            "import": ["-c", "import rubric_kit"],
            "score": ["-c", "from rubric_kit.cli import main; main()", "score", str(ESSAY)],
            "bare": ["-c", BARE.format(name=installed(), text=str(text))],
        }
        # Compiled modules are kept, as installing does.
        environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        environment["PYTHONPYCACHEPREFIX"] = folder
        took: dict[str, list[float]] = {what: [] for what in commands}
        for _ in range(1 + times):
            for what, command in commands.items():
                begun = time.perf_counter()
                whole = [sys.executable, *command]
                subprocess.run(whole, check=True, stdout=subprocess.DEVNULL, env=environment, cwd=HERE.parents[1])
                took[what].append(time.perf_counter() - begun)
    middle = {what: median(times[1:]) for what, times in took.items()}
    return [
        Figure("import rubric_kit", middle["import"] - middle["python"], "s", most=0.3),
        Figure("rubric-kit score / a script that loads and parses", middle["score"] / middle["bare"], LONGER, most=1.5),
    ]


def _read_back() -> Figure:
    """A draft in the records, scored anew and asked for again."""
    with tempfile.TemporaryDirectory() as folder, rk.begin(Path(folder) / "family") as family:
        ann = family.students.add("Ann", grade=8, school_year="2025-26")
        task = family.tasks.add("The wild", "Why does Buck go?", set_on=date(2026, 5, 1), versions={ann.id: Version()})
        assignment = family.tasks.assignment(task.id, ann.id)
        draft = family.drafts.hand_in(assignment.id, ESSAY, received_on=date(2026, 5, 15))
        family.sheets.make(draft.id)
        anew = [seconds(lambda: family.sheets.score(draft)) for _ in range(ROUNDS)]
        again = [seconds(lambda: family.sheets.make(draft.id)) for _ in range(ROUNDS)]
    return Figure("scoring a draft / its kept proposal read back", _ratio(anew, again), LONGER, least=50)


def drop(results: Iterator[object]) -> None:
    for _ in results:
        pass


def seconds(work: Callable[[], object]) -> float:
    """Processor time."""
    begun = time.process_time()
    work()
    return time.process_time() - begun


def _ratio(one: list[float], other: list[float]) -> float:
    return median(a / b for a, b in zip(one, other, strict=True))


def rows(figures: list[Figure]) -> list[str]:
    lines = ["| what | figure | goal | |", "|---|---|---|---|"]
    for figure in figures:
        verdict = ("**not reached**" if figure.misses() else "reached") if figure.goal else ""
        lines.append(f"| {figure.what} | {figure.value:.3g} {figure.unit} | {figure.goal} | {verdict} |")
    return lines


def write(name: str, table: str) -> None:
    """Put a table into its section of results.md."""
    page = HERE / "results.md"
    text = page.read_text("utf-8")
    begin, end = f"<!-- {name}: begin -->", f"<!-- {name}: end -->"
    before, after = text.partition(begin)[0], text.partition(end)[2]
    page.write_text(f"{before}{begin}\n{table}\n\n{date.today()}, {machine()}\n{end}{after}", encoding="utf-8")


def machine() -> str:
    lines = Path("/proc/cpuinfo").read_text("utf-8").splitlines() if Path("/proc/cpuinfo").exists() else []
    named = (line.partition(":")[2].strip() for line in lines if line.startswith("model name"))
    busy = f", {os.getloadavg()[0]:.0f} processes at work" if hasattr(os, "getloadavg") else ""
    cpu = next(named, platform.processor())
    return f"{os.cpu_count()} cores ({cpu}), Python {platform.python_version()}{busy}"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
