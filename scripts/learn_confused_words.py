"""Learn the weights that tell easily confused words apart, from correctly spelled text.

    python scripts/learn_confused_words.py CLEAN_TEXT... > rubric_kit/measures/mechanics/data/confusion_weights.tsv

CLEAN_TEXT is plain text, one sentence or paragraph a line. Every occurrence of a word in a confusion set gives two examples:
the sentence as it stands and the sentence with another word of the set in its place (so that the tags around a
slip are learned as the tagger really gives them). One logistic regression a set, L1 (few weights); the threshold of
each pair "written, better" is the lowest that falsely accuses at most FALSE_ALARMS of the held-out clean occurrences.
"""

from __future__ import annotations

import random
import re
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from sklearn.feature_extraction import DictVectorizer
from sklearn.linear_model import LogisticRegression

from rubric_kit.measures.mechanics.confused import confusion_sets
from rubric_kit.measures.mechanics.context import around, features, tagged
from rubric_kit.measures.parse import PLAIN, pipeline

WORD = re.compile(r"[A-Za-z]+(?:'[A-Za-z]+)?")
MOST_EXAMPLES = 5000  # of one word; more of "to" and "and" teach nothing new
LEAST_EXAMPLES = 25  # of a word, below which nothing is learned about it
HELD_OUT = 5  # every fifth line is kept for the thresholds
FALSE_ALARMS = 0.0008  # of clean occurrences; writers slip in about 1 of 20, so this keeps 95 of 100 accusations right
LEAST_MARGIN = 2.0  # log odds; never accuse on less
LEAST_WEIGHT = 0.05
REGULARISATION = 0.35  # sklearn's C; chosen on held-out lines among 0.1, 0.35, 1
# Full forms give many more places for the contractions, which clean prose seldom has.
CONTRACTIONS = {
    "they are": "they're", "it is": "it's", "you are": "you're", "who is": "who's", "we are": "we're", "i will": "I'll",
    "i shall": "I'll", "we will": "we'll", "we shall": "we'll", "let us": "let's", "he is": "he's", "there is": "there's",
    "it has been": "it's been", "he has been": "he's been",
}  # fmt: skip
FULL_FORM = re.compile(rf"\b({'|'.join(CONTRACTIONS)})\b(?= [a-z])", re.IGNORECASE)


def main(paths: list[Path]) -> None:
    lines = [line.translate(PLAIN).strip() for path in paths for line in path.read_text("utf-8").splitlines()]
    lines = [line for line in lines if line]
    rng = random.Random(1)
    sets = confusion_sets()
    texts, examples = [], []
    for text, start, end, name, true, held_out in occurrences(lines, rng):
        others = [word for word in sets[name] if word != true]
        for written in (true, rng.choice(others)):
            shown = written.capitalize() if text[start].isupper() else written
            texts.append(text[:start] + shown + text[end:])
            examples.append((start, start + len(shown), name, true, written, held_out))
    rows = defaultdict(list)
    docs = pipeline().pipe(texts, disable=["parser", "lemmatizer"], batch_size=256)
    for (start, end, name, true, written, held_out), doc in zip(examples, docs, strict=True):
        left, right = around(tagged(doc), start, end)
        rows[name].append((dict.fromkeys(features(left, right), 1.0), true, written, held_out))
    print(
        "# Learned by scripts/learn_confused_words.py from public-domain novels and the Brown corpus (redistribution permitted)."
    )
    print("# Rows: set, 'threshold', written, better, log odds; or set, feature, word, weight.")
    for name in sets:
        learn(name, rows[name])


def occurrences(lines: list[str], rng: random.Random) -> Iterator[tuple[str, int, int, str, str, bool]]:
    """Text, start, end, set, word, held out; at most MOST_EXAMPLES of each word, from all over the text."""
    found = defaultdict(list)
    home = {(name, word.lower()): word for name, words in confusion_sets().items() for word in words}
    by_word = defaultdict(list)
    for (name, low), word in home.items():
        by_word[low].append((name, word))
    for number, line in enumerate(lines):
        contracted = FULL_FORM.sub(lambda m: _like(CONTRACTIONS[m[1].lower()], m[1]), line)
        for text in {line, contracted}:
            for match in WORD.finditer(text):
                if text is not line and "'" not in match[0]:
                    continue
                for name, word in by_word.get(match[0].lower(), ()):
                    found[name, word].append((text, *match.span(), name, word, number % HELD_OUT == 0))
    for places in found.values():
        if len(places) >= LEAST_EXAMPLES:
            yield from rng.sample(places, min(len(places), MOST_EXAMPLES))


def _like(word: str, model: str) -> str:
    return word[0].upper() + word[1:] if model[0].isupper() else word


def learn(name: str, rows: list[tuple[dict[str, float], str, str, bool]]) -> None:
    """Print the thresholds and the weights of one set."""
    train = [row for row in rows if not row[3]]
    held = [row for row in rows if row[3]]
    common = {f for f, n in Counter(f for row in train for f in row[0]).items() if n >= 6}
    only = [{f: 1.0 for f in row[0] if f in common} for row in train]
    vectors = DictVectorizer()
    x = vectors.fit_transform(only)
    truth = [row[1] for row in train]
    counts = Counter(truth)
    weights = np.array([(max(counts.values()) / counts[t]) ** 0.5 for t in truth])
    model = LogisticRegression(C=REGULARISATION, solver="liblinear", penalty="l1", max_iter=300)
    classes = sorted(counts)
    names = vectors.get_feature_names_out()
    table: dict[str, dict[str, float]] = {}
    for word in classes if len(classes) > 2 else classes[:1]:
        model.fit(x, [t == word for t in truth], sample_weight=weights)
        table[word] = {"bias": float(model.intercept_[0])} | {
            f: round(float(w), 2) for f, w in zip(names, model.coef_[0], strict=True) if abs(w) >= LEAST_WEIGHT
        }
    if len(classes) == 2:
        table[classes[1]] = {}
    report = []
    for written in classes:
        for better in classes:
            if written == better:
                continue
            clean = [_odds(r[0], table, written, better) for r in held if r[1] == written == r[2]]
            slips = [_odds(r[0], table, written, better) for r in held if r[1] == better and r[2] == written]
            if not clean or not slips:
                continue
            allowed = int(FALSE_ALARMS * len(clean))
            threshold = max(LEAST_MARGIN, sorted(clean)[-1 - allowed] + 0.01)
            caught = sum(s >= threshold for s in slips) / len(slips)
            report.append(f"{written}>{better} {caught:.2f} ({len(slips)}/{len(clean)}) at {threshold:.1f}")
            print(name, "threshold", written, better, f"{threshold:.2f}", sep="\t")
    for word, ws in table.items():
        for feature, weight in ws.items():
            print(name, feature, word, f"{weight:.2f}", sep="\t")
    print(name, {w: len(t) for w, t in table.items()}, "; ".join(report), file=sys.stderr)


def _odds(seen: dict[str, float], table: dict[str, dict[str, float]], written: str, better: str) -> float:
    def score(word: str) -> float:
        return table[word].get("bias", 0.0) + sum(table[word].get(f, 0.0) for f in seen)

    return score(better) - score(written)


if __name__ == "__main__":
    main([Path(p) for p in sys.argv[1:]])
