"""How many changed programs the tests notice: mutation testing of rubric_kit/measures and rubric_kit/scoring.

    pip install 'mutmut>=3.8,<3.9'
    python tests/mutation/run.py cover FOLDER              # which test runs which line: the fast ones once, and the
                                                           # labelled essays' floors; about 6 minutes
    python tests/mutation/run.py try FOLDER --seed 2       # a sample, about an hour; goes on where it stopped
    python tests/mutation/run.py report FOLDER --seed 2    # writes survivors.md beside this file

There are over 20,000 mutants, so a sample is drawn, from each file in proportion; its seed makes it the same again as
long as the files stay the same. A mutant is changed in memory only. It meets the tests that run its statement, the
cheapest first, until one fails or they have taken some time together: a mutant that only the rest would have caught
counts as a survivor. Gaps are looked for with one seed and the figure is reported of another.

survivors.tsv says of each survivor why it is one; the report asks for what is not explained yet.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from random import Random

from covering import Covering
from forks import load_others, run
from mutants import OUT_OF_FUNCTIONS, Mutant, mutants_of, places_in
from report import write_report

ROOT = Path(__file__).parents[2]
SAMPLE = {"measures": 350, "scoring": 170}  # mutants: the 95% intervals are then about 4 and 5 points to each side
FIRST, FILES = 30, 5  # tests to begin with, of so many files at most: nearly all that are caught are caught by these
SECONDS = 8.0  # of tests, as recorded: so many to begin with, and so many of the others
PAGES = "tests/docs/test_pages.py"  # come first for what builds tables: formulas, units, sources
NET = ("tests/scoring/test_kept_sheets.py", "tests/measures/test_kept_suggestions.py")  # before the others, not counted
CONTROL = 1800.0  # seconds for all tests that caught a mutant, without one
PATIENCE = 5  # times as long, and 60 seconds more, before a mutant that goes round for ever is stopped: it is caught
TESTS = [
    f"tests/{name}"
    for name in (
        "reading",
        "measures",
        "scoring",
        "published",
        "labelled",
        "hostile",
        "docs/test_pages.py",
        "test_agree.py",
    )
]


def cover(folder: Path) -> None:
    """Run the tests under coverage, each a context, and record their times."""
    settings = folder / "coveragerc"
    settings.write_text(f"[run]\nbranch = true\nsource = {ROOT / 'rubric_kit'}\ndata_file = {folder / 'coverage'}\n")
    seen = {}
    for n, (which, chosen) in enumerate((("not slow", TESTS), ("slow", ["tests/labelled"]))):
        times = folder / "times.json"
        options = ["-p", "no:cacheprovider", "-p", "recorder", "--record", str(times), "-m", which]
        options += ["--cov", "--cov-context=test", f"--cov-config={settings}", "--cov-report="] + ["--cov-append"] * n
        paths = os.pathsep.join([str(ROOT), str(Path(__file__).parent)])
        command = [sys.executable, "-m", "pytest", *options, *chosen]
        subprocess.run(command, cwd=ROOT, env=os.environ | {"PYTHONPATH": paths}, check=False)
        seen |= json.loads(times.read_text("utf-8"))
    (folder / "tests.json").write_text(json.dumps(seen), "utf-8")


def sample(package: str, seed: int) -> tuple[list[Mutant], dict[str, int]]:
    """The drawn mutants of a package, and how many each file has."""
    paths = sorted((ROOT / "rubric_kit" / package).rglob("*.py"))
    sizes = {path: places_in(path) for path in paths}
    share = SAMPLE[package] / sum(sizes.values())
    drawn = [
        m for path in paths for m in mutants_of(path, ROOT, Random(f"{seed} {path.name}"), round(share * sizes[path]))
    ]
    return drawn, {path.relative_to(ROOT).as_posix(): size for path, size in sizes.items()}


def try_sample(folder: Path, seed: int, jobs: int) -> None:
    """Meet each mutant with its tests; a line of results.SEED.jsonl for each."""
    results = folder / f"results.{seed}.jsonl"
    done = (
        {tuple(json.loads(line)["key"]) for line in results.read_text("utf-8").splitlines()}
        if results.exists()
        else set()
    )
    drawn = [m for package in SAMPLE for m in sample(package, seed)[0]]
    waiting = [m for m in drawn if m.key not in done]
    Random(seed).shuffle(waiting)
    covering = Covering(ROOT, folder / "coverage", folder / "tests.json")
    meeting = [(mutant, *_tests(mutant, covering)) for mutant in waiting]
    load_others(ROOT)
    workers = []
    for job in range(jobs):
        pid = os.fork()
        if pid == 0:
            for mutant, *stages in meeting[job::jobs]:
                started = time.monotonic()
                caught = _try(mutant, stages, folder / f"failed.{job}")
                row = {"key": mutant.key, "caught": caught, "seconds": round(time.monotonic() - started, 1)}
                with results.open("a", encoding="utf-8") as file:
                    file.write(json.dumps(row, ensure_ascii=False) + "\n")
            os._exit(0)
        workers.append(pid)
    for pid in workers:
        os.waitpid(pid, 0)
    print(
        _control(results, drawn[0], folder / "failed.control") or "every test that caught a mutant passes without one"
    )


def _control(results: Path, any_mutant: Mutant, report: Path) -> str:
    """The first test that caught a mutant and fails without one as well, so that it tells nothing."""
    caught = {json.loads(line)["caught"] for line in results.read_text("utf-8").splitlines()}
    tests = sorted(name for name in caught if name.startswith("tests/"))
    return run(ROOT, any_mutant.file, (ROOT / any_mutant.file).read_text("utf-8"), tests, CONTROL, report)


def _tests(mutant: Mutant, covering: Covering) -> tuple[list[str], list[str]]:
    """Those to begin with, and the others."""
    tests = covering.of(mutant)
    files = list(dict.fromkeys(name.partition("::")[0] for name in tests))[:FILES]
    first = [name for name in tests if name.partition("::")[0] in files and not name.startswith(NET)][:FIRST]
    if mutant.scope == OUT_OF_FUNCTIONS or covering.runs_when_imported(mutant):
        first = [*covering.tests_in(PAGES), *first]
    net = [name for name in tests if name.startswith(NET)]
    others = [name for name in tests if name not in {*first, *net}]
    return list(covering.within(first, SECONDS)), [*net, *covering.within(others, SECONDS)]


def _try(mutant: Mutant, stages: Sequence[Sequence[str]], report: Path) -> str:
    """The test that caught it, "" if none did."""
    for tests in filter(None, stages):
        if caught := run(ROOT, mutant.file, mutant.code, tests, 60 + PATIENCE * SECONDS, report):
            return caught
    return ""


def main(arguments: Sequence[str] | None = None) -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("what", choices=["cover", "try", "report"])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=1)
    chosen = parser.parse_args(arguments)
    folder = chosen.folder.resolve()
    folder.mkdir(parents=True, exist_ok=True)
    if chosen.what == "cover":
        cover(folder)
    elif chosen.what == "try":
        try_sample(folder, chosen.seed, chosen.jobs)
    else:
        drawn = {package: sample(package, chosen.seed) for package in SAMPLE}
        write_report(folder / f"results.{chosen.seed}.jsonl", drawn, chosen.seed)


if __name__ == "__main__":
    main()
