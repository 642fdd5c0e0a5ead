"""Essays to time things on: the labelled ones for tuning, and any number of essays made of their paragraphs."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

TUNE = Path(__file__).parents[1] / "labelled" / "tune"
WORDS = 430  # words of a typical essay here
SLIP_IN = 500  # words to one made-up misspelling, so that new words keep coming as they do from children


@cache
def labelled() -> tuple[str, ...]:
    """The texts of the labelled essays, those nearest to 430 words first."""
    texts = [tomllib.loads(path.read_text("utf-8"))["text"] for path in sorted(TUNE.glob("*.toml"))]
    return tuple(sorted(texts, key=lambda text: abs(len(text.split()) - WORDS)))


def made(number: int, words: int = WORDS, seed: int = 1) -> Iterator[str]:
    """Texts of at least so many words; each time the same for the same seed."""
    chance = random.Random(seed)
    paragraphs = [p for text in labelled() for p in text.split("\n\n") if len(p.split()) > 20]
    for _ in range(number):
        parts: list[str] = []
        length = 0
        while length < words:
            parts.append(_with_slips(chance.choice(paragraphs), chance))
            length += len(parts[-1].split())
        yield "\n\n".join(parts)


def _with_slips(paragraph: str, chance: random.Random) -> str:
    return " ".join(_slip(word, chance) if chance.random() < 1 / SLIP_IN else word for word in paragraph.split(" "))


def _slip(word: str, chance: random.Random) -> str:
    at = chance.randrange(len(word) + 1)
    return word[:at] + chance.choice("abcdefghijklmnopqrstuvwxyz") + word[at:]
