"""How long `rubric-kit score ONE` takes beside a bare script that loads the same pipeline and parses the same text.

    python tests/benchmarks/whole_process.py [ESSAY]

Whole processes by the wall clock, taken in turn so that a busy machine slows all alike; medians of RUNS, after one run
of each that is not counted (it compiles the modules, as installing does). The first bare script loads the pipeline as
spaCy does by default, the second without the parts that rubric_kit leaves out.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from rubric_kit.measures.pipeline import pipeline
from rubric_kit.reading import read

ESSAY = Path(__file__).parents[2] / "sample_essays" / "2026-05-15_tamsin_call-of-the-wild.odt"
RUNS = 7
MOST = 1.5  # times the bare script with the default pipeline
BARE = "import spacy; nlp = spacy.load({name!r}{options}); nlp(open({text!r}, encoding='utf-8').read())"
SCORE = "from rubric_kit.cli import main; main()"


def main(essay: Path) -> int:
    nlp = pipeline()
    name = f"{nlp.meta['lang']}_{nlp.meta['name']}"
    with tempfile.TemporaryDirectory() as folder:
        text = Path(folder) / "essay.txt"
        text.write_text(read(essay).text, encoding="utf-8")
        commands = {
            "rubric-kit score": ["-c", SCORE, "score", str(essay)],
            "bare, default": ["-c", BARE.format(name=name, options="", text=str(text))],
            "bare, as rubric_kit loads it": [
                "-c",
                BARE.format(name=name, options=", exclude=['ner', 'senter']", text=str(text)),
            ],
        }
        compiled = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        compiled["PYTHONPYCACHEPREFIX"] = folder
        times: dict[str, list[float]] = {what: [] for what in commands}
        for _ in range(1 + RUNS):
            for what, command in commands.items():
                times[what].append(_seconds(command, compiled))
    medians = {what: statistics.median(taken[1:]) for what, taken in times.items()}
    ours = medians["rubric-kit score"]
    for what, taken in medians.items():
        print(f"{what:30s} {taken:6.2f} s   rubric-kit score takes {ours / taken:.2f} times as long")
    return int(ours > MOST * medians["bare, default"])


def _seconds(command: list[str], environment: dict[str, str]) -> float:
    begun = time.perf_counter()
    subprocess.run([sys.executable, *command], check=True, stdout=subprocess.DEVNULL, env=environment)
    return time.perf_counter() - begun


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else ESSAY))
