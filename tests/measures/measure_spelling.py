"""Measure spelling beside three libraries, and write spelling_figures.md (some 10 minutes).

Suggestions are measured on the halves of the lists that nothing was fitted to; accusations on the labelled essays of
tests/labelled/tune and, where a folder of clean prose (.txt) is given, on that. Run from the project's root:

    python tests/measures/measure_spelling.py [FOLDER_OF_CLEAN_PROSE]
"""

from __future__ import annotations

import re
import sys
import time
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from importlib.resources import files
from itertools import islice
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from spelling_lists import Pair, is_for_fitting, pairs

from rubric_kit.measures.mechanics.mechanics import mechanics
from rubric_kit.measures.parse import parse
from rubric_kit.measures.spelling import spelling, suggest
from rubric_kit.reading.layout import essay_from_text

FIGURES = Path(__file__).parent / "spelling_figures.md"
LABELLED = Path(__file__).parents[1] / "labelled" / "tune"
LISTS = ("aspell", "wikipedia", "children")
SLOW_SAMPLE = 100  # words a list for the libraries that take 0.05 to 1 s a word; all libraries get the same first words
PIECE = 600  # words of clean prose taken as one essay
PIECES = 40  # from each text, spread evenly

Suggest = Callable[[str], Sequence[str]]


def libraries() -> dict[str, Suggest]:
    from spellchecker import SpellChecker
    from spylls.hunspell import Dictionary
    from symspellpy import SymSpell, Verbosity

    symmetric = SymSpell(max_dictionary_edit_distance=2)
    symmetric.load_dictionary(str(files("symspellpy") / "frequency_dictionary_en_82_765.txt"), 0, 1)
    checker = SpellChecker()
    hunspell = Dictionary.from_files(str(files("spylls") / "hunspell" / "data" / "en" / "en_US"))

    def by_frequency(word: str) -> list[str]:
        return sorted(checker.candidates(word) or (), key=checker.word_usage_frequency, reverse=True)

    return {
        "rubric_kit": suggest,
        "symspellpy": lambda word: [item.term for item in symmetric.lookup(word.lower(), Verbosity.ALL)],
        "pyspellchecker": by_frequency,
        "spylls (hunspell en_US)": lambda word: list(islice(hunspell.suggest(word), 5)),
    }


def ranks(library: Suggest, cases: list[Pair]) -> tuple[float, float, float]:
    """Share of intended words that come first, and among the first five; milliseconds a word."""
    start = time.perf_counter()
    answers = [[word.lower() for word in library(written)[:5]] for written, _ in cases]
    spent = time.perf_counter() - start
    first = sum(answer[:1] == [meant.lower()] for answer, (_, meant) in zip(answers, cases, strict=True))
    five = sum(meant.lower() in answer for answer, (_, meant) in zip(answers, cases, strict=True))
    return first / len(cases), five / len(cases), 1000 * spent / len(cases)


def suggestion_rows() -> Iterator[str]:
    yield "| list | library | misspellings | first | in five | ms a word |"
    yield "|---|---|---|---|---|---|"
    found = libraries()
    for name in LISTS:
        unfitted = [pair for pair in pairs(name) if not is_for_fitting(pair[1])]
        yield row(f"{name}, all", "rubric_kit", pairs(name), found["rubric_kit"])
        yield row(f"{name}, half not fitted to", "rubric_kit", unfitted, found["rubric_kit"])
        sample = unfitted[:: max(1, len(unfitted) // SLOW_SAMPLE)]
        for library, function in found.items():
            yield row(f"{name}, sample of that half", library, sample, function)


def row(name: str, library: str, cases: list[Pair], function: Suggest) -> str:
    first, five, milliseconds = ranks(function, cases)
    line = f"| {name} | {library} | {len(cases)} | {first:.1%} | {five:.1%} | {milliseconds:.1f} |"
    print(line, flush=True)
    return line


def labelled_rows() -> Iterator[str]:
    """Accusations against the labels, no words and real words for others together; one for each occurrence."""
    right = wrong = missed = words = 0
    real_right = real = 0
    for path in sorted(LABELLED.glob("*.toml")):
        labels = tomllib.loads(path.read_text("utf-8"))
        essay = essay_from_text(labels["text"], path.name)
        found = mechanics(essay, parse(essay))
        words += len(essay.words)
        left = Counter(written.replace("’", "'") for written, _ in labels["misspellings"])
        real_words = {w for w in left if all(not is_no_word(part) for part in w.split())}
        real += sum(left[w] for w in real_words)
        for item in (*found.spelling, *found.confused_words):
            written = item.text.replace("’", "'")
            if left[written] > 0:
                left[written] -= 1
                right += 1
                real_right += written in real_words
            else:
                wrong += 1
        missed += left.total()
    yield f"{words} words, {right + missed} misspellings ({real} of them real words or two words): "
    yield f"precision {right / (right + wrong):.3f}, recall {right / (right + missed):.3f};"
    yield f"of the real words {real_right / real:.0%} are found."


def is_no_word(word: str) -> bool:
    from rubric_kit.measures.spelling.known import is_known, plain

    return not is_known(plain(word))


def clean_rows(folder: Path) -> Iterator[str]:
    yield "| text | words | accused | in 1,000 words |"
    yield "|---|---|---|---|"
    for path in sorted(folder.glob("*.txt")):
        essays = [essay_from_text(piece, path.name) for piece in pieces(path.read_text("utf-8"))]
        words = sum(len(essay.words) for essay in essays)
        accused = sum(len(spelling(essay)) for essay in essays)
        yield f"| {path.stem} | {words} | {accused} | {1000 * accused / words:.2f} |"


def pieces(text: str) -> list[str]:
    """Pieces of some 600 words, whole paragraphs with their lines joined, spread evenly over the text."""
    found: list[list[str]] = [[]]
    size = 0
    for paragraph in re.split(r"\n\s*\n", text):
        found[-1].append(" ".join(paragraph.split()))
        size += len(paragraph.split())
        if size > PIECE:
            found.append([])
            size = 0
    joined = ["\n\n".join(piece) for piece in found]
    return joined[:: max(1, len(joined) // PIECES)]


def main(clean: Path | None) -> None:
    parts = [
        "# Spelling: figures",
        "",
        "Written by tests/measures/measure_spelling.py; don't edit.",
        "",
        "## Suggestions",
        "",
    ]
    parts += suggestion_rows()
    parts += ["", "One misspelling may stand in a list with several intended words, of which only one can come first:"]
    parts += [several_meant(name) for name in LISTS[:2]]
    parts += ["", "## Accusations", "", "On the labelled essays (tests/labelled/tune):", *labelled_rows()]
    if clean:
        parts += ["", "On clean prose:", "", *clean_rows(clean)]
    FIGURES.write_text("\n".join(parts) + "\n", "utf-8")


def several_meant(name: str) -> str:
    """The most that can come first in a list, and how often one of a misspelling's intended words does."""
    meant: dict[str, set[str]] = {}
    for written, right in pairs(name):
        meant.setdefault(written.lower(), set()).add(right.lower())
    most = len(meant) / sum(map(len, meant.values()))
    one_of = sum(bool(words & {word.lower() for word in suggest(written)[:1]}) for written, words in meant.items())
    return (
        f"at most {most:.1%} of the {name} list; one of a misspelling's words comes first in {one_of / len(meant):.1%}."
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else None)
