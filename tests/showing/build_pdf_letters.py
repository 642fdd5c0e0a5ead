"""Write rubric_kit/showing/data/pdf_letters.txt: the characters that the fonts inside Typst can draw.

    python tests/showing/build_pdf_letters.py

Needs fonttools. The fonts stand one after the other inside Typst's compiled module; they are found by how a font file
begins, and those that the templates name are asked for their characters.
"""

import io
import re
from itertools import count, groupby
from pathlib import Path

import typst
from fontTools.ttLib import TTFont, TTLibError

FONTS = {("Libertinus Serif", "Regular"), ("NewComputerModernMath", "Regular"), ("DejaVu Sans Mono", "Book")}
LARGEST = 6_000_000  # bytes of a font
OUT = Path(__file__).parents[2] / "rubric_kit" / "showing" / "data" / "pdf_letters.txt"
HEAD = """\
# The characters that the fonts inside Typst can draw (Libertinus Serif, New Computer Modern Math, DejaVu Sans Mono, as
# the templates name them), in ranges of hexadecimal code points. Read from the fonts of typst {version} by
# tests/showing/build_pdf_letters.py. Facts about the fonts; no part of them is here.
"""


def main() -> None:
    module = next(Path(typst.__file__).parent.glob("*.so")).read_bytes()
    found: dict[tuple[str, str], set[int]] = {}
    for place in re.finditer(rb"OTTO\x00|\x00\x01\x00\x00\x00[\x08-\x1e]", module):
        try:
            font = TTFont(io.BytesIO(module[place.start() : place.start() + LARGEST]), lazy=True)
            named = font["name"].getDebugName(1), font["name"].getDebugName(2)
            letters = set(font.getBestCmap())
        except (TTLibError, KeyError, ValueError, AssertionError, TypeError):
            continue  # bytes that look like a beginning
        if named in FONTS:
            found[named] = letters
    missing = FONTS - found.keys()
    if missing:
        raise SystemExit(f"Not found in Typst: {missing}")
    codes = sorted(set().union(*found.values()))
    placed = zip(count(), codes, strict=False)
    ranges = [[code for _, code in group] for _, group in groupby(placed, lambda p: p[1] - p[0])]
    lines = [f"{run[0]:04x}-{run[-1]:04x}" if len(run) > 1 else f"{run[0]:04x}" for run in ranges]
    OUT.write_text(HEAD.format(version=typst.__version__) + "\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    main()
