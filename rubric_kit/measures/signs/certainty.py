"""How sure the tagger is of each word's part of speech: phrasing that it was not taught leaves it in doubt."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from rubric_kit.measures.pipeline import pipeline

if TYPE_CHECKING:
    from rubric_kit.measures.parse import Parse

LEAST_CHANCE = 1e-9  # keeps the logarithm finite


class Doubt(NamedTuple):
    """Of one word.

    chance   of its likeliest part of speech (Penn Treebank tag), 0 to 1
    entropy  over all parts of speech, in nats: 0 where there is no doubt
    """

    chance: float
    entropy: float


def doubts(parsed: Parse) -> tuple[Doubt, ...]:
    """The tagger's doubt about each word of letters, in order."""
    import numpy as np

    letters = [token.i for token in parsed.doc if token.is_alpha]
    if not letters:
        return ()
    # The pipeline's tagger gives scores that are not yet chances (its model is a softmax left unnormalized).
    tagger: Any = pipeline().get_pipe("tagger")
    scores = tagger.model.predict([parsed.doc])[0][letters].astype(np.float64)
    odds = np.exp(scores - scores.max(axis=1, keepdims=True))
    chances = odds / odds.sum(axis=1, keepdims=True)
    entropies = -(chances * np.log(chances + LEAST_CHANCE)).sum(axis=1)
    return tuple(Doubt(*pair) for pair in zip(chances.max(axis=1).tolist(), entropies.tolist(), strict=True))
