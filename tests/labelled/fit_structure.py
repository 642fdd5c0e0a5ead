"""Fit rubric_kit/measures/structure/data/weights.toml on the tuning half, and say how well it does by other writers.

    python tests/labelled/fit_structure.py [--write]

Each part is a ridge-penalised choice model over named features, those kept that help on essays held out; thresholds
are those with the best accuracy in the folds. Takes some minutes. The report half is never read here.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from labelled import Labelled, half
from scipy.optimize import minimize
from sklearn.model_selection import GroupKFold

from rubric_kit.measures.meaning import terms
from rubric_kit.measures.parse import parse
from rubric_kit.measures.structure.facts import Facts, facts_of
from rubric_kit.measures.structure.find import may_restate
from rubric_kit.measures.structure.roles import ending_features, story_features
from rubric_kit.measures.structure.sentence_features import Table, add_thesis, add_topics, first_table

TARGET = Path(__file__).parents[2] / "rubric_kit/measures/structure/data/weights.toml"
RIDGE = 10.0  # on standardised features; 3 and 25 do about as well in the folds
TINY = 1e-9
FEWEST = 6  # features
STEP = 8  # one in eight of the features may go at a time
NEARLY = 0.005  # cuts this near the best figure are taken as equally good, and the middle one is used
MARGIN = 0.5
FOLDS = 7  # by writer: essays of one hand are alike
CUES = [
    "evaluates",
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
    "urges",
    "others",
    "occasion",
    "within",
    "lesson",
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
PLACE = [
    "first",
    "second",
    "last",
    "depth",
    "alone",
    "in_first",
    "in_last",
    "only_paragraph",
    "depth_in_first",
    "first_of_only",
    "last_of_only",
    "from_start",
    "from_end",
    "stance_in_last",
]
RELATED = [
    "about",
    "past_beyond",
    "names_beyond",
    "leads",
    "central",
    "spreads_most",
    "gathers_most",
    "after_question",
    "after_announce",
    "spread",
    "paragraph",
    "gathers",
    "opposite",
    "title",
    "new",
]
ONE_EACH = {"thesis", "topic_sentence", "restated_thesis", "hook", "conclusion", "story"}
ALL = [*CUES, *GRAMMAR, *SURFACE, *RELATED]
WHERE = ["first", "second", "last", "depth", "from_start", "from_end"]
TO_THESIS = ["to_thesis", "echoes_most"]
TO_OTHERS = [*TO_THESIS, "has_thesis", "is_thesis", "to_topic", "has_topic", "is_topic", "in_body"]
FEATURES = {
    "thesis": [*ALL, *PLACE, "ends_first", "starts_first", "ends_last"],
    "topic_sentence": [*ALL, *WHERE, *TO_THESIS],
    "restated_thesis": [*ALL, *WHERE, "alone", "only_paragraph", *TO_THESIS],
    "evidence": [*ALL, *PLACE, *TO_OTHERS],
    "hook": [*CUES, *GRAMMAR, *SURFACE, "spread", "title", "opposite"],
    "new_claim": [*CUES, *GRAMMAR, *SURFACE, *WHERE, "spread", "new", *TO_THESIS],
}


HEADER = """\
# What each feature of a sentence (or paragraph) counts for, fitted on the essays of tests/labelled/tune by
# tests/labelled/fit_structure.py --write. Positive speaks for the part, negative against it; see DEVELOPERS.md.
"""

Folds = list[tuple[Any, Any]]


class Case(NamedTuple):
    """A sentence or paragraph that may be a part: essay, place to choose within, where it starts, what is so of it."""

    essay: int
    place: int
    start: int
    features: dict[str, float]
    is_it: bool


@dataclass
class Sentences:
    """One labelled essay with the features of its sentences, to which the parts found so far are added."""

    number: int
    labelled: Labelled
    paragraphs: tuple[tuple[Facts, ...], ...]
    table: Table

    @property
    def argues(self) -> bool:
        """Whether it is asked for the parts of an essay, and its paragraphs are those of its labels."""
        labels = self.labelled.labels
        return labels["form"] != "narrative" and len(labels["roles"]) == len(self.paragraphs) and not self.tells_a_story

    @property
    def tells_a_story(self) -> bool:
        """Also where it was handed in as an essay; of one block it cannot be said by the roles."""
        roles = self.labelled.labels["roles"]
        return len(roles) > 1 and set(roles) == {"other"}

    @property
    def bodies(self) -> list[int]:
        return [i for i, role in enumerate(self.labelled.labels["roles"]) if role == "body"]

    def starts(self, label: str) -> set[int]:
        return {s.start for s in self.labelled.sentences(label)}

    def at(self, starts: set[int]) -> Facts | None:
        """The sentence that starts at one of these places."""
        return next((f for p in self.paragraphs for f in p if f.sentence.start in starts), None)

    def case(self, place: int, facts: Facts, label: str) -> Case:
        start = facts.sentence.start
        return Case(self.number, place, start, dict(self.table[start]), start in self.starts(label))


def main() -> None:
    every = list(read_half())
    essays = [e for e in every if e.argues]
    writer = {
        e.number: e.labelled.name.split("_")[0].zfill(4)[:2] for e in every
    }  # each writer's files share a hundred
    lines = [HEADER]

    def learn(part: str, cases: list[Case]) -> dict[tuple[int, int], int]:
        text, chosen = fit(part, cases, writer)
        lines.append(text)
        return chosen

    learn("story", [story_case(e) for e in every if len(e.paragraphs) > 1])
    learn("conclusion", [c for e in essays for c in conclusion_cases(e)])
    # Later parts lean on the thesis and the topic sentences: they are learned beside those that were found on essays
    # held out, not beside the labelled ones, so that they know how often these are mistaken.
    theses = learn("thesis", [e.case(0, f, "thesis") for e in essays for p in e.paragraphs for f in p])
    thesis_of = {e.number: e.at({theses[e.number, 0]} if (e.number, 0) in theses else set()) for e in essays}
    for e in essays:
        add_thesis(e.table, e.paragraphs, thesis_of[e.number])
    topics = learn(
        "topic_sentence", [e.case(i, f, "topic_sentences") for e in essays for i in e.bodies for f in e.paragraphs[i]]
    )
    for e in essays:
        found = {i: e.at({topics[e.number, i]} if (e.number, i) in topics else set()) for i in e.bodies}
        add_topics(e.table, e.paragraphs, found)
    learn("evidence", [e.case(f.sentence.start, f, "evidence") for e in essays for p in e.paragraphs for f in p])
    ending = [e for e in essays if "conclusion" in e.labelled.labels["roles"] or len(e.paragraphs) == 1]
    candidates = [(e, f) for e in ending for f in may_restate(e.paragraphs, thesis_of[e.number])]
    learn("restated_thesis", [e.case(0, f, "restated_thesis") for e, f in candidates if thesis_of[e.number]])
    learn("new_claim", [e.case(f.sentence.start, f, "new_claims") for e, f in candidates])
    learn("hook", [e.case(0, e.paragraphs[0][0], "hook") for e in essays if len(e.paragraphs) > 1])
    if "--write" in sys.argv:
        TARGET.write_text("\n".join(lines), encoding="utf-8")


def read_half() -> Iterator[Sentences]:
    for number, labelled in enumerate(half("tune")):
        parsed = parse(labelled.essay)
        paragraphs = facts_of(labelled.essay, parsed)
        yield Sentences(number, labelled, paragraphs, first_table(paragraphs, terms(parsed.title)))


def story_case(e: Sentences) -> Case:
    return Case(e.number, 0, 0, story_features(list(e.table.values())), e.tells_a_story)


def conclusion_cases(e: Sentences) -> Iterator[Case]:
    """Every paragraph but the first: body paragraphs show what a conclusion is not."""
    for i in range(1, len(e.paragraphs)):
        at_end = {"at_end": float(i == len(e.paragraphs) - 1)}
        is_it = e.labelled.labels["roles"][i] == "conclusion"
        yield Case(e.number, i, i, ending_features(e.paragraphs, i, e.table) | at_end, is_it)


def fit(part: str, rows: list[Case], writer: dict[int, str]) -> tuple[str, dict[tuple[int, int], int]]:
    """The part's section of the file; and, for each place, where the sentence starts that the others' model chooses."""
    names = FEATURES.get(part) or sorted(rows[0].features.keys() - {"at_end"})
    raw = np.array([[row.features[name] for name in names] for row in rows])
    spread = raw.std(axis=0) + TINY
    x = (raw - raw.mean(axis=0)) / spread
    y = np.array([row.is_it for row in rows])
    places = np.unique([f"{row.essay} {row.place}" for row in rows], return_inverse=True)[1]
    if part not in ONE_EACH:
        places = np.arange(len(y))
    writers = np.array([writer[row.essay] for row in rows])
    folds = list(GroupKFold(min(FOLDS, len(set(writers)))).split(x, y, writers))
    kept = select(x, y, places, folds)
    scores, _ = held_out(x[:, kept], y, places, folds)
    asked = np.array(
        [row.features.get("at_end", 1.0) > 0 for row in rows]
    )  # only last paragraphs are asked to be endings
    cut, figure = best_cut(scores[asked], places[asked], y[asked], part)
    chosen: dict[tuple[int, int], int] = {}
    for i in sorted(np.flatnonzero(scores >= cut), key=lambda i: scores[i]):
        chosen[rows[i].essay, rows[i].place] = rows[i].start
    weights = choose(x[:, kept], y, places)
    per_unit = weights[:-1] / spread[kept]
    intercept = weights[-1] - raw[:, kept].mean(axis=0) @ per_unit
    print(f"{part:16} {len(y):5} cases, {y.sum():4} the part, {len(kept)} features; in folds {figure:.3f} at {cut:.2f}")
    order = sorted(range(len(kept)), key=lambda i: -abs(weights[i]))
    lines = [f"{names[kept[i]]} = {per_unit[i]:.3f}" for i in order]
    threshold = 1 / (1 + np.exp(-cut))
    head = [f"[{part}]", f"intercept = {intercept:.3f}", f"threshold = {threshold:.3f}", f"[{part}.weight]"]
    return "\n".join([*head, *lines, ""]), chosen


def select(x: Any, y: Any, places: Any, folds: Folds) -> list[int]:
    """The columns worth keeping: backward elimination by the likelihood of the essays of writers held out."""
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
    """From which score the part is said to be there: best share of places right, or best F1 where there may be many.

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
