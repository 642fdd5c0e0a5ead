"""Words that join clauses, and the marks around them: shared by run-ons and fragments."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

from rapidfuzz.distance import OSA

MARKS_OF_SPEECH = frozenset({'"', "``", "''"})
SLIPS_IN_BECAUSE = 2  # letters; the joining word that children misspell most: "becouse", "becuz", "becas"
LEAST_BECAUSE = 5  # letters


@cache
def sentence_words(name: str) -> frozenset[str]:
    """One list of ``data/sentence_words.toml``."""
    lists = tomllib.loads((files("rubric_kit.measures.mechanics") / "data" / "sentence_words.toml").read_text("utf-8"))
    return frozenset(lists[name].split())


@cache
def joins_clauses(word: str) -> bool:
    """A conjunction, a relative or a question word, or a misspelled one; ``word`` in small letters."""
    if word in sentence_words("joiners"):
        return True
    return (
        len(word) >= LEAST_BECAUSE
        and word.startswith(("bec", "beac"))
        and word[:5] not in {"becom", "becam"}
        and OSA.distance(word, "because") <= SLIPS_IN_BECAUSE
    )
