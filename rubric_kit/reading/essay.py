"""The parts of an essay, each known by its place in the child's own text."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import chain


@dataclass(frozen=True, slots=True)
class Word:
    """One word; ``essay.text[start:end] == text``."""

    start: int
    end: int
    text: str


@dataclass(frozen=True, slots=True)
class Sentence:
    """What the child ended with . ? or ! or with the paragraph; offsets in characters."""

    start: int
    end: int
    words: tuple[Word, ...]


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A block by the child's own layout; offsets in characters."""

    start: int
    end: int
    sentences: tuple[Sentence, ...]

    @property
    def words(self) -> Iterator[Word]:
        return (word for sentence in self.sentences for word in sentence.words)


@dataclass(frozen=True, slots=True)
class Block:
    """The title or the heading block (name, date, course): shown, but never counted."""

    start: int
    end: int
    text: str


@dataclass(frozen=True)  # without slots, so that its sentences and words are gathered only once
class Essay:
    """A handed-in text. Nothing is normalised away: ``text[part.start:part.end]`` is what the child wrote."""

    text: str
    title: Block | None
    heading: Block | None
    paragraphs: tuple[Paragraph, ...]
    source: str

    @cached_property
    def sentences(self) -> tuple[Sentence, ...]:
        return tuple(chain.from_iterable(paragraph.sentences for paragraph in self.paragraphs))

    @cached_property
    def words(self) -> tuple[Word, ...]:
        return tuple(chain.from_iterable(sentence.words for sentence in self.sentences))

    @cached_property
    def written(self) -> tuple[str, ...]:
        """The text of each word, in order."""
        return tuple([word.text for word in self.words])

    @cached_property
    def uses(self) -> Mapping[str, int]:
        """Each distinct word, as written, with how often it is used."""
        return Counter(self.written)
