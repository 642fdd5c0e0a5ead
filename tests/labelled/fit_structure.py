"""Fit rubric_kit/measures/structure/data/weights.toml on the tuning half, and say how well it does by essay-wise folds.

    python tests/labelled/fit_structure.py [--write]

Each part is a ridge-penalised choice model over named features, those kept that help on essays held out; thresholds
are those with the best accuracy in the folds. Takes some minutes. The report half is never read here.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import numpy as np
from labelled import Labelled, half
from scipy.optimize import minimize
from sklearn.model_selection import GroupKFold

from rubric_kit.measures.parse import parse
from rubric_kit.measures.structure.facts import facts_of
from rubric_kit.measures.structure.find import may_restate
from rubric_kit.measures.structure.roles import ending_features, story_features
from rubric_kit.measures.structure.sentence_features import add_thesis, add_topics, first_table

TARGET = Path(__file__).parents[2] / "rubric_kit/measures/structure/data/weights.toml"
RIDGE = 5.0  # on standardised features; 3 and 10 do about as well in the folds
TINY = 1e-9
FEWEST = 6  # features
STEP = 8  # one in eight of the features may go at a time
NEARLY = 0.005  # cuts this near the best figure are taken as equally good, and the middle one is used
MARGIN = 0.5
FOLDS = 6
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
    "noun_subject",
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
    "content",
    "short",
    "long",
    "if",
]
PLACE = ["first", "second", "last", "depth", "alone", "in_first", "in_last", "only_paragraph", "depth_in_first", "first_of_only", "last_of_only"]
RELATED = [
    "past_beyond",
    "names_beyond",
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
FEATURES = {
    "thesis": [*CUES, *GRAMMAR, *SURFACE, *PLACE, *RELATED, "ends_first", "starts_first", "ends_last"],
    "topic_sentence": [*CUES, *GRAMMAR, *SURFACE, "first", "second", "last", "depth", *RELATED, "to_thesis", "echoes_most"],
    "restated_thesis": [*CUES, *GRAMMAR, *SURFACE, "first", "second", "last", "depth", "alone", "only_paragraph", *RELATED, "to_thesis", "echoes_most"],
    "evidence": [*CUES, *GRAMMAR, *SURFACE, *PLACE, *RELATED, "to_thesis", "echoes_most", "has_thesis", "is_thesis", "to_topic", "has_topic", "is_topic", "in_body"],
    "hook": [*CUES, *GRAMMAR, *SURFACE, "spread", "title", "opposite"],
    "new_claim": [*CUES, *GRAMMAR, *SURFACE, "first", "last", "spread", "new", "to_thesis", "echoes_most"],
}  # fmt: skip


HEADER = """\
# What each feature of a sentence (or paragraph) counts for, fitted on the essays of tests/labelled/tune by
# tests/labelled/fit_structure.py --write. Positive speaks for the part, negative against it; see DEVELOPERS.md.
"""

Folds = list[tuple[Any, Any]]
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
        at_end = {"at_end": float(i == len(paragraphs) - 1)}
        add("conclusion", i, ending_features(paragraphs, i, table) | at_end, labels["roles"][i] == "conclusion")
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
    names = FEATURES.get(part) or sorted(rows[0][2].keys() - {"at_end"})
    raw = np.array([[row[2][name] for name in names] for row in rows])
    spread = raw.std(axis=0) + TINY
    x = (raw - raw.mean(axis=0)) / spread
    y = np.array([row[3] for row in rows])
    places = np.unique([f"{a} {b}" for _, (a, b), _, _ in rows], return_inverse=True)[1]
    if part not in ONE_EACH:
        places = np.arange(len(y))
    folds = list(GroupKFold(FOLDS).split(x, y, np.array([row[0] for row in rows])))
    kept = select(x, y, places, folds)
    scores, _ = held_out(x[:, kept], y, places, folds)
    asked = np.array([row[2].get("at_end", 1.0) > 0 for row in rows])  # only last paragraphs are asked to be endings
    cut, figure = best_cut(scores[asked], places[asked], y[asked], part)
    weights = choose(x[:, kept], y, places)
    per_unit = weights[:-1] / spread[kept]
    intercept = weights[-1] - raw[:, kept].mean(axis=0) @ per_unit
    print(f"{part:16} {len(y):5} cases, {y.sum():4} the part, {len(kept)} features; in folds {figure:.3f} at {cut:.2f}")
    order = sorted(range(len(kept)), key=lambda i: -abs(weights[i]))
    lines = [f"{names[kept[i]]} = {per_unit[i]:.3f}" for i in order]
    threshold = 1 / (1 + np.exp(-cut))
    head = [f"[{part}]", f"intercept = {intercept:.3f}", f"threshold = {threshold:.3f}", f"[{part}.weight]"]
    return "\n".join([*head, *lines, ""])


def select(x: Any, y: Any, places: Any, folds: Folds) -> list[int]:
    """The columns worth keeping: backward elimination by the likelihood of the essays held out of each fold."""
    kept = list(range(x.shape[1]))
    _, now = held_out(x, y, places, folds)
    while len(kept) > FEWEST:
        without = {c: held_out(x[:, [k for k in kept if k != c]], y, places, folds)[1] for c in kept}
        gains = sorted((c for c in kept if without[c] > now), key=lambda c: -without[c])
        dropped = gains[: max(1, len(kept) // STEP)]
        after = [c for c in kept if c not in dropped]
        _, then = held_out(x[:, after], y, places, folds)
        if not dropped or then < now:
            break
        kept, now = after, then
    return kept


def held_out(x: Any, y: Any, places: Any, folds: Folds) -> tuple[Any, float]:
    """Scores of every case by the model of the other folds, and the log likelihood of what was chosen."""
    scores, total = np.zeros(len(y)), 0.0
    for learn, test in folds:
        weights = choose(x[learn], y[learn], places[learn])
        scores[test] = x[test] @ weights[:-1] + weights[-1]
    last = places.max() + 1
    odds = np.exp(np.clip(scores, -30, 30))
    sums = 1 + np.bincount(places, odds, last)
    right = np.bincount(places, odds * y, last) / np.maximum(1, np.bincount(places, y, last))
    total = np.log(np.where(right > 0, right, 1) / sums).sum()
    return scores, float(total)


def choose(x: Any, y: Any, places: Any) -> Any:
    """Ridge-penalised conditional logit (McFadden 1974): each place chooses one of its sentences, or none of them.

    Returns a weight for each column of x, then the intercept of being chosen against none. With one case to a place
    this is ordinary logistic regression.
    """
    columns, last = x.shape[1], places.max() + 1
    chosen = np.zeros(last, bool)
    chosen[places[y]] = True
    present = np.isin(np.arange(last), places)
    times = np.bincount(places, y, last)
    share = y / np.maximum(1, times[places])

    def loss(weights: Any) -> tuple[float, Any]:
        scores = x @ weights[:-1] + weights[-1]
        top = np.zeros(last)
        np.maximum.at(top, places, scores)
        odds = np.exp(scores - top[places])
        none = np.exp(-top)
        total = none + np.bincount(places, odds, last)
        chance = odds / total[places]
        likelihood = share @ np.log(chance + TINY) + np.log(none / total + TINY)[present & ~chosen].sum()
        slope = share - chance
        gradient = np.append(x.T @ slope - RIDGE * weights[:-1], slope.sum())
        return RIDGE * (weights[:-1] @ weights[:-1]) / 2 - likelihood, -gradient

    return minimize(loss, np.zeros(columns + 1), jac=True, method="L-BFGS-B").x


def best_cut(scores: Any, places: Any, y: Any, part: str) -> tuple[float, float]:
    """The score from which the part is said to be there: best share of places right, or best F1 where there may be many.

    A story is only said where no essay of the folds would be called one: the mistake costs every other part.
    """
    if part == "story":
        cut = scores[~y].max() + MARGIN
        return float(cut), float(((scores >= cut) == y).mean())
    figures = [(_figure(scores, places, y, cut, part in ONE_EACH), cut) for cut in np.arange(-4, 4, 0.05)]
    top = max(figure for figure, _ in figures)
    return float(np.median([cut for figure, cut in figures if figure > top - NEARLY])), top


def _figure(scores: Any, places: Any, y: Any, cut: float, one_each: bool) -> float:
    said = scores >= cut
    if not one_each:
        return float(2 * (said & y).sum() / max(1, said.sum() + y.sum()))
    right = 0
    for place in np.unique(places):
        inside = np.flatnonzero(places == place)
        best = inside[scores[inside].argmax()]
        right += bool(said[best] and y[best]) if y[inside].any() else not said[best]
    return right / len(np.unique(places))


if __name__ == "__main__":
    main()
