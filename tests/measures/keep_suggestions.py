"""What is suggested for children's misspellings, kept so that no change of it goes unnoticed.

    python tests/measures/keep_suggestions.py    # after a change that was meant: keeps it anew; look at the difference

Kept is what the program suggests, right or wrong: how often it is right is in spelling_figures.md.
"""

from __future__ import annotations

from pathlib import Path

from rubric_kit.measures.spelling.ranking import weighed

HERE = Path(__file__).parent
SLIPS = HERE / "childrens_slips.tsv"
KEPT = HERE / "kept_suggestions.tsv"
SHOWN = 5  # suggestions, the likeliest first
NEIGHBOURS = (("the", "of"), ("an", ""), ("to", "the"), ("", ""))  # words before and after, in turn


def suggestions_text() -> str:
    """A line for each misspelling: the words before and after it, and what is suggested, with its weight."""
    lines = [line for line in SLIPS.read_text("utf-8").splitlines() if line and not line.startswith("#")]
    return "".join(_line(line.split("\t")[0], n) for n, line in enumerate(lines))


def _line(written: str, n: int) -> str:
    before, after = NEIGHBOURS[n % len(NEIGHBOURS)]
    found = ", ".join(f"{each.word} {each.weight:.2f}" for each in weighed(written, before, after)[:SHOWN])
    return f"{before}\t{written}\t{after}\t{found}\n"


if __name__ == "__main__":
    KEPT.write_text(suggestions_text(), "utf-8")
