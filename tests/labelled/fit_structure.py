"""Fit rubric_kit/measures/structure/data/weights.toml on the tuning half, and say how well it does by essay-wise folds.

    python tests/labelled/fit_structure.py [--write]

Each part is a ridge-penalised logistic model over a few named features; thresholds are those with the best accuracy
in the folds. The report half is never read here.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import numpy as np
from labelled import Labelled, half
from sklearn.linear_model import LogisticRegression
from sklearn.model_selection import GroupKFold

from rubric_kit.measures.parse import parse
from rubric_kit.measures.structure.facts import facts_of
from rubric_kit.measures.structure.find import may_restate
from rubric_kit.measures.structure.roles import ending_features, story_features
from rubric_kit.measures.structure.sentence_features import add_thesis, add_topics, first_table

TARGET = Path(__file__).parents[2] / "rubric_kit/measures/structure/data/weights.toml"
PENALTY = 0.5  # scikit-learn's C: small samples, so strong shrinkage
FOLDS = 8
CUES = [
    "announce",
    "stance",
    "reasons",
    "order",
    "example",
    "explain",
    "closing",
    "hook",
    "time",
    "background",
    "claim",
]
GRAMMAR = [
    "past",
    "modal",
    "being",
    "no_subject",
    "this_subject",
    "name_subject",
    "pronoun_subject",
    "i_subject",
    "first_person",
    "second_person",
    "clauses",
    "ideas",
    "deeds",
    "judges",
    "comparing",
    "contrast",
    "negation",
    "joined",
]
SURFACE = [
    "question",
    "exclamation",
    "quotation",
    "citation",
    "number",
    "names",
    "list_of_three",
    "because",
    "general",
    "short",
    "long",
    "if",
]
PLACE = ["first", "second", "last", "depth", "alone", "in_first", "in_last", "only_paragraph", "depth_in_first"]
RELATED = [
    "leads",
    "central",
    "spreads_most",
    "gathers_most",
    "after_question",
    "spread",
    "paragraph",
    "gathers",
    "opposite",
    "title",
    "new",
]
ONE_EACH = {"thesis", "topic_sentence", "restated_thesis", "hook", "conclusion", "story"}
SMALLEST = 0.05  # a weight below this moves a chance by about one in a hundred: left out
FEATURES = {
    "thesis": [*CUES, *GRAMMAR, *SURFACE, *PLACE, *RELATED, "ends_first", "starts_first", "ends_last"],
    "topic_sentence": [*CUES, *GRAMMAR, *SURFACE, "first", "second", "last", "depth", *RELATED, "to_thesis", "echoes_most"],
    "restated_thesis": [*CUES, *GRAMMAR, *SURFACE, "first", "second", "last", "depth", "alone", "only_paragraph", *RELATED, "to_thesis", "echoes_most"],
    "evidence": [*CUES, *GRAMMAR, *SURFACE, *PLACE, *RELATED, "to_thesis", "echoes_most", "has_thesis", "is_thesis", "to_topic", "has_topic", "is_topic", "in_body"],
    "hook": [*CUES, *GRAMMAR, *SURFACE, "spread", "title", "opposite"],
    "new_claim": [*CUES, *GRAMMAR, *SURFACE, "first", "last", "spread", "new", "to_thesis", "echoes_most"],
}  # fmt: skip


HEADER = """\
# What each feature of a sentence (or paragraph) counts for: logistic models, fitted on the essays of tests/labelled/tune by
# tests/labelled/fit_structure.py --write. Positive speaks for the part, negative against it; see DEVELOPERS.md.
"""

Case = tuple[int, tuple[int, int], dict[str, float], bool]  # essay, place to choose within, features, is it the part


def main() -> None:
    cases: dict[str, list[Case]] = {}
    for number, labelled in enumerate(half("tune")):
        collect(number, labelled, cases)
    text = "\n".join([HEADER, *(fit(part, rows) for part, rows in cases.items())])
    if "--write" in sys.argv:
        TARGET.write_text(text, encoding="utf-8")


def collect(number: int, labelled: Labelled, cases: dict[str, list[Case]]) -> None:
    """Add an essay's sentences and paragraphs to the cases of each part, the parts found earlier taken from the labels."""
    essay, labels = labelled.essay, labelled.labels
    paragraphs = facts_of(essay, parse(essay))
    table = first_table(essay, paragraphs)
    by_start = {f.sentence.start: f for p in paragraphs for f in p}

    def add(part: str, place: int, features: dict[str, float], is_it: bool) -> None:
        cases.setdefault(part, []).append((number, (number, place), dict(features), is_it))

    def starts(label: str) -> set[int]:
        return {s.start for s in labelled.sentences(label)}

    add("story", 0, story_features(list(table.values())), labels["form"] == "narrative")
    if labels["form"] == "narrative" or len(labels["roles"]) != len(paragraphs):
        return
    for i in range(1, len(paragraphs)):  # body paragraphs show what a conclusion is not
        add("conclusion", i, ending_features(paragraphs, i, table), labels["roles"][i] == "conclusion")
    thesis = starts("thesis")
    for start, row in table.items():
        add("thesis", 0, row, start in thesis)
    add_thesis(table, paragraphs, next((by_start[s] for s in thesis), None))
    topics, bodies = starts("topic_sentences"), [i for i, role in enumerate(labels["roles"]) if role == "body"]
    chosen = {i: next((f for f in paragraphs[i] if f.sentence.start in topics), None) for i in bodies}
    for i in bodies:
        for facts in paragraphs[i]:
            add("topic_sentence", i, table[facts.sentence.start], facts.sentence.start in topics)
    add_topics(table, paragraphs, chosen)
    evidence, restated, claims = starts("evidence"), starts("restated_thesis"), starts("new_claims")
    for start, row in table.items():
        add("evidence", start, row, start in evidence)
    for facts in may_restate(paragraphs, next((by_start[s] for s in thesis), None)):
        if "conclusion" in labels["roles"] or len(paragraphs) == 1:
            if thesis:
                add("restated_thesis", 0, table[facts.sentence.start], facts.sentence.start in restated)
            add("new_claim", facts.sentence.start, table[facts.sentence.start], facts.sentence.start in claims)
    if len(paragraphs) > 1:
        first = paragraphs[0][0].sentence.start
        add("hook", 0, table[first], first in starts("hook"))


def fit(part: str, rows: list[Case]) -> str:
    names = FEATURES.get(part) or sorted(rows[0][2])
    x = np.array([[row[2][name] for name in names] for row in rows])
    y = np.array([row[3] for row in rows])
    groups = np.array([row[0] for row in rows])
    model = LogisticRegression(C=PENALTY, max_iter=5000)
    held_out = np.zeros(len(y))
    for learn, test in GroupKFold(min(FOLDS, len(set(groups)))).split(x, y, groups):
        if len(set(y[learn])) == 2:
            held_out[test] = model.fit(x[learn], y[learn]).predict_proba(x[test])[:, 1]
    threshold, figure = best_threshold(held_out, [row[1] for row in rows], y, part in ONE_EACH)
    model.fit(x, y)
    print(f"{part:16} {len(y):4} cases, {y.sum():3} of them the part; in folds {figure:.3f} at {threshold:.2f}")
    weights = sorted(zip(names, model.coef_[0], strict=True), key=lambda w: -abs(w[1]))
    lines = [f"{name} = {weight:.3f}" for name, weight in weights if abs(weight) >= SMALLEST]
    return "\n".join(
        [
            f"[{part}]",
            f"intercept = {model.intercept_[0]:.3f}",
            f"threshold = {threshold:.2f}",
            f"[{part}.weight]",
            *lines,
            "",
        ]
    )


def best_threshold(chances: Any, places: list[tuple[int, int]], y: Any, one_each: bool) -> tuple[float, float]:
    """The threshold with the best share of places right (the best sentence, or rightly none), or else the best F1."""
    figures = []
    for threshold in np.arange(0.05, 0.95, 0.01):
        if one_each:
            right = 0
            for place in set(places):
                inside = [i for i, p in enumerate(places) if p == place]
                best = max(inside, key=lambda i: chances[i])
                said = {best} if chances[best] >= threshold else set()
                truth = {i for i in inside if y[i]}
                right += bool(said & truth) if truth else not said
            figures.append((right / len(set(places)), threshold))
        else:
            said = chances >= threshold
            both = (said & y).sum()
            figures.append((2 * both / max(1, said.sum() + y.sum()), threshold))
    top = max(figure for figure, _ in figures)
    at = [threshold for figure, threshold in figures if figure == top]
    return float(np.median(at)), top


if __name__ == "__main__":
    main()
