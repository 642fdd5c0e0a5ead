"""Easily confused words: right spellings of the wrong word, words cut in two, "could of".

Which word of a set belongs in a place is decided by what stands around it (``context``), with weights learned from
correct text by ``tests/measures/build_confusion_weights.py``. Nothing is said unless the odds against the child's word
pass a threshold, set for each pair of words so that of the right uses hardly any is accused.
"""

from __future__ import annotations

import tomllib
from collections import defaultdict
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple

from rubric_kit.measures.mechanics.context import around, features, tagged
from rubric_kit.measures.mechanics.places import Places
from rubric_kit.measures.mechanics.word_slips import pattern_of, word_slips
from rubric_kit.measures.remembered import Remembered

if TYPE_CHECKING:
    from rubric_kit.measures.found import Found
    from rubric_kit.measures.mechanics.context import Tagged
    from rubric_kit.measures.parse import Parse
    from rubric_kit.reading import Essay, Word

DATA = files("rubric_kit.measures.mechanics") / "data"


class Weights(NamedTuple):
    """What was learned about one set.

    of         feature to (word of the set, weight), the feature "bias" always counts
    threshold  (written, better) to the log odds from which the writing of the one for the other is accused
    """

    of: dict[str, list[tuple[str, float]]]
    threshold: dict[tuple[str, str], float]


@cache
def confusion_sets() -> dict[str, dict[str, str]]:
    """Set name ("their/there/they're") to its words, each with its meaning."""
    rows = tomllib.loads((DATA / "confusion_sets.toml").read_text("utf-8"))["set"]
    return {"/".join(words): words for words in rows}


@cache
def _sets_of() -> dict[str, list[tuple[str, str]]]:
    """A word in small letters to its sets: (set name, the word as the set writes it)."""
    found = defaultdict(list)
    for name, words in confusion_sets().items():
        for word in words:
            found[word.lower()].append((name, word))
    return dict(found)


@cache
def _rows() -> dict[str, list[str]]:
    """Set name to its rows, unread: an essay has words of few sets, and all the rows take long."""
    found = defaultdict(list)
    for line in (DATA / "confusion_weights.tsv").read_text("utf-8").splitlines():
        if not line.startswith("#"):
            name, _, row = line.partition("\t")
            found[name].append(row)
    return dict(found)


@cache
def _weights(name: str) -> Weights:
    """What was learned about a set; empty where nothing was."""
    weights = Weights({}, {})
    for row in _rows().get(name, ()):
        feature, *rest = row.split("\t")
        if feature == "threshold":
            written, better, odds = rest
            weights.threshold[written, better] = float(odds)
        else:
            word, weight = rest
            weights.of.setdefault(feature, []).append((word, float(weight)))
    return weights


def confused_words(essay: Essay, parse: Parse) -> tuple[Found, ...]:
    """Words written for others that sound or look like them, with the right word as suggestion, in order of the text.

    The kind is "written/meant" ("there/their"), "word in two" ("any body"), "of for have" ("could of") or
    "apostrophe missing" ("cant", "my dads car").
    """
    places = Places(essay)
    found = list(word_slips(essay, parse, places))
    taken = {place for item in found for place in range(item.start, item.end)}
    for sentence, span in zip(essay.sentences, parse.sentences, strict=True):
        row = None
        for word in sentence.words:
            low = _CONFUSED[word.text]
            if low and word.start not in taken and pattern_of(essay, sentence, word) != low:
                row = row or tagged(parse.tree, range(span.start, span.end))
                item = _judge(places, row, word, low)
                if item:
                    found.append(item)
    return tuple(sorted(found, key=lambda item: item.start))


def _confused(word: str) -> str:
    """The word in small letters if it is in any set, else ""."""
    low = word.lower().replace("’", "'")
    return low if low in _sets_of() else ""


_CONFUSED = Remembered(_confused)


def _judge(places: Places, row: Tagged, word: Word, low: str) -> Found | None:
    """The claim about one word, if its neighbours are against it in any of its sets."""
    seen = ["bias", *features(*around(row, word.start, word.end))]
    best: tuple[float, str, str] | None = None
    for name, written in _sets_of()[low]:
        weights = _weights(name)
        scores = dict.fromkeys(confusion_sets()[name], 0.0)
        for listed in filter(None, map(weights.of.get, seen)):
            for candidate, weight in listed:
                scores[candidate] += weight
        for better, score in scores.items():
            beyond = score - scores[written] - weights.threshold.get((written, better), float("inf"))
            if beyond >= 0 and (best is None or score - scores[written] > best[0]):
                best = (score - scores[written], name, better)
    if best is None:
        return None
    _, name, better = best
    shown = better[0].upper() + better[1:] if word.text[0].isupper() else better
    meaning = confusion_sets()[name][better]
    why = f"“{word.text}” should probably be “{shown}”: {meaning}."
    kind = f"{low}/{better}"
    return places.found(word.start, word.end, kind, why, (shown,))
