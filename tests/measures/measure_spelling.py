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
from dataclasses import dataclass, field
from importlib.resources import files
from itertools import islice
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from spelling_lists import Pair, is_for_fitting, pairs

from rubric_kit.measures.mechanics.mechanics import mechanics
from rubric_kit.measures.parse import parse
from rubric_kit.measures.spelling import ranking, spelling, suggest
from rubric_kit.reading.layout import essay_from_text

FIGURES = Path(__file__).parent / "spelling_figures.md"
LABELLED = Path(__file__).parents[1] / "labelled" / "tune"
LISTS = ("aspell", "wikipedia", "children")
SLOW_SAMPLE = 100  # words a list for the libraries that take 0.05 to 1 s a word; all libraries get the same first words
PIECE = 600  # words of clean prose taken as one essay
PIECES = 40  # from each text, spread evenly

ON_ESSAYS = (
    "On the labelled essays of invented children, grades 3 to 9 (tests/labelled/tune, on which the thresholds and the",
    "tables of confused words were set), spelling and confused words together, each word in its sentence; what was not",
    "noticed counts as not put first.",
    "",
)
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
    ranking._ranked.cache_clear()  # so that the words of an earlier row are timed again
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


@dataclass
class InEssays:
    """Misspellings of the labelled essays, one for each occurrence: real words written for others apart from no words.

    first and in_five count what was found with the intended word first, or among the first five suggestions.
    """

    words: int = 0
    wrong: int = 0  # accused, but labelled as no misspelling
    labelled: Counter[bool] = field(default_factory=Counter)  # by "is a real word"
    found: Counter[bool] = field(default_factory=Counter)
    first: Counter[bool] = field(default_factory=Counter)
    in_five: Counter[bool] = field(default_factory=Counter)

    @property
    def precision(self) -> float:
        return self.found.total() / (self.found.total() + self.wrong)

    @property
    def false_alarms(self) -> float:
        """In 1,000 words."""
        return 1000 * self.wrong / self.words


def in_labelled_essays() -> InEssays:
    figures = InEssays()
    for path in sorted(LABELLED.glob("*.toml")):
        labels = tomllib.loads(path.read_text("utf-8"))
        essay = essay_from_text(labels["text"], path.name)
        found = mechanics(essay, parse(essay))
        figures.words += len(essay.words)
        left = [(small(written), small(meant)) for written, meant in labels["misspellings"]]
        figures.labelled.update(is_real(written) for written, _ in left)
        for item in (*found.spelling, *found.confused_words):
            accused = small(item.text)
            # A label may hold the word with its neighbour ("gin rummie"), or a found pair a labelled word ("could of").
            same = [pair for pair in left if pair[0] == accused]
            near = [pair for pair in left if accused in pair[0].split() or pair[0] in accused.split()]
            if not (same or near):
                figures.wrong += 1
                continue
            pair = (same or near)[0]
            left.remove(pair)
            suggestions = [small(word) for word in item.suggestions]
            real = is_real(pair[0])
            figures.found[real] += 1
            figures.first[real] += suggestions[:1] == [pair[1]]
            figures.in_five[real] += pair[1] in suggestions
    return figures


def labelled_rows() -> Iterator[str]:
    figures = in_labelled_essays()
    yield "| misspellings | labelled | noticed | intended word first | in five |"
    yield "|---|---|---|---|---|"
    for name, kinds in (("no words", [False]), ("real words, or two words", [True]), ("all", [False, True])):
        of = sum(figures.labelled[kind] for kind in kinds)
        counts = (figures.found, figures.first, figures.in_five)
        shares = " | ".join(f"{sum(count[kind] for kind in kinds) / of:.1%}" for count in counts)
        yield f"| {name} | {of} | {shares} |"
    yield ""
    yield f"{figures.words} words; precision {figures.precision:.3f};"
    yield f"{figures.false_alarms:.2f} false alarms in 1,000 words."


def small(text: str) -> str:
    return text.replace("’", "'").lower()


def is_real(written: str) -> bool:
    return all(not is_no_word(part) for part in written.split())


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
    parts += ["", "## Accusations", "", *ON_ESSAYS, *labelled_rows()]
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
