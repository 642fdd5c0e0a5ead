"""Everything known of each sentence in one table: its own facts, its relations, and the parts found so far."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rubric_kit.measures.structure.facts import Facts
from rubric_kit.measures.structure.relations import alike, relations

Table = dict[int, dict[str, float]]

FAR = 6  # sentences; from here on, further from an end of the paragraph makes no difference


def first_table(paragraphs: Sequence[Sequence[Facts]], title: Mapping[str, float]) -> Table:
    """For each sentence, by its start: facts and relations, and where its paragraph stands; ``title``: its terms."""
    related = relations(paragraphs, title)
    widest = max((r["spread"] for r in related.values()), default=0.0)
    every = [f.features for p in paragraphs for f in p]
    usual = {name: sum(f[name] for f in every) / max(1, len(every)) for name in ("past", "names")}
    table = {}
    for number, paragraph in enumerate(paragraphs):
        for facts in paragraph:
            table[facts.sentence.start] = {
                **facts.features,
                **related[facts.sentence.start],
                "spreads_most": _part_of(related[facts.sentence.start]["spread"], widest),
                "gathers_most": _part_of(
                    related[facts.sentence.start]["gathers"],
                    max(related[f.sentence.start]["gathers"] for f in paragraph),
                ),
                "past_beyond": facts.features["past"] - usual["past"],
                "names_beyond": facts.features["names"] - usual["names"],
                "first_of_only": float(len(paragraphs) == 1 and facts.index == 0),
                "last_of_only": float(len(paragraphs) == 1 and facts.index == len(paragraph) - 1),
                "after_question": float(facts.index > 0 and paragraph[facts.index - 1].features["question"]),
                "from_start": min(FAR, facts.index) / FAR,
                "from_end": min(FAR, len(paragraph) - 1 - facts.index) / FAR,
                "stance_in_last": facts.features["stance"] * (number == len(paragraphs) - 1 > 0),
                "after_announce": float(facts.index > 0 and paragraph[facts.index - 1].features["announce"]),
                "in_first": float(number == 0),
                "in_last": float(number == len(paragraphs) - 1),
                "only_paragraph": float(len(paragraphs) == 1),
                "ends_first": float(number == 0 and facts.index == len(paragraph) - 1),
                "depth_in_first": float(number == 0) * (facts.index + 1) / len(paragraph) * (len(paragraphs) > 1),
                "starts_first": float(number == 0 and facts.index == 0),
                "ends_last": float(number == len(paragraphs) - 1 and facts.index == len(paragraph) - 1),
            }
    return table


def add_thesis(table: Table, paragraphs: Sequence[Sequence[Facts]], thesis: Facts | None) -> None:
    """Add how far each sentence speaks of what the thesis speaks of."""
    for paragraph in paragraphs:
        nearest = max((alike(f, thesis) for f in paragraph if f is not thesis), default=0.0) if thesis else 0.0
        for facts in paragraph:
            row = table[facts.sentence.start]
            row["to_thesis"] = alike(facts, thesis) if thesis and facts is not thesis else 0.0
            row["echoes_most"] = _part_of(row["to_thesis"], nearest)
            row["is_thesis"] = float(facts is thesis)
            row["has_thesis"] = float(thesis is not None)
            row["before_thesis"] = float(thesis is not None and facts.sentence.start < thesis.sentence.start)


def add_topics(table: Table, paragraphs: Sequence[Sequence[Facts]], topics: Mapping[int, Facts | None]) -> None:
    """Add, for each paragraph (by number from 0), how each of its sentences stands to its topic sentence."""
    for number, paragraph in enumerate(paragraphs):
        topic = topics.get(number)
        for facts in paragraph:
            row = table[facts.sentence.start]
            row["to_topic"] = alike(facts, topic) if topic and facts is not topic else 0.0
            row["is_topic"] = float(facts is topic)
            row["has_topic"] = float(topic is not None)
            row["in_body"] = float(number in topics)


def _part_of(value: float, most: float) -> float:
    return value / most if most else 0.0
