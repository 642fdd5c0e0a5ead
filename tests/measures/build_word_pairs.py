"""Write how often one word follows another, for telling what was meant by what stands beside it.

The counts are those of frequency_bigramdictionary_en_243_342.txt in the PyPI package symspellpy (6.9; MIT licence),
which took them from the Google Books Ngram data (Michel et al. 2011, version 2; Creative Commons Attribution 3.0). Run
from the project's root:

    python tests/measures/build_word_pairs.py
"""

from __future__ import annotations

import gzip
import math
from collections import defaultdict
from importlib.resources import files
from pathlib import Path

from rubric_kit.measures.frequency import zipf_of_words

TABLE = Path("rubric_kit/measures/spelling/data/word_pairs.txt.gz")
# Of all pairs that the counts were cut from: "of the" is counted 177 thousand million times and makes up 0.9% of the
# running pairs of English prose (0.97% in the Brown corpus).
ALL = 2.0e13
RAREST = -64  # 10 x log10 of the rarest pair's share; leaving out another half of them ranked words worse
HEADER = """\
# How often a word follows another: the first word, then the words after it by 10 x log10 of their share of all
# pairs. Source: frequency_bigramdictionary_en_243_342.txt of the package symspellpy (MIT; W. Garbe's SymSpell), cut
# from the Google Books Ngram data, version 2 (Michel et al. 2011), Creative Commons Attribution 3.0. Pairs rarer than
# the last level are left out. Made by tests/measures/build_word_pairs.py.
"""


def main() -> None:
    source = (files("symspellpy") / "frequency_bigramdictionary_en_243_342.txt").read_text("utf-8")
    rows: dict[str, dict[int, list[str]]] = defaultdict(lambda: defaultdict(list))
    for line in source.splitlines():
        first, second, count = line.split()
        share = round(10 * math.log10(int(count) / ALL))
        if share >= RAREST and first in zipf_of_words() and second in zipf_of_words():
            rows[first][share].append(second)
    lines = []
    for first in sorted(rows):
        levels = (f"{level} {' '.join(sorted(rows[first][level]))}" for level in sorted(rows[first], reverse=True))
        lines.append("\t".join((first, *levels)))
    TABLE.write_bytes(gzip.compress((HEADER + "\n".join(lines) + "\n").encode(), 9, mtime=0))
    print(len(lines), "first words,", TABLE.stat().st_size, "bytes")


if __name__ == "__main__":
    main()
