"""How far a writer's words reach: different words by part of speech, by how common and by how long they are."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from math import sqrt
from statistics import fmean, quantiles
from typing import TYPE_CHECKING

from rubric_kit.measures.alignment import first_tokens
from rubric_kit.measures.catalogue import Measure, by_name
from rubric_kit.measures.frequency import zipf
from rubric_kit.measures.spelling.known import is_known

if TYPE_CHECKING:
    from rubric_kit.measures.measured import Measures
    from rubric_kit.measures.parse import Parse

ZIPF = "van Heuven et al. 2014, QJEP 67(6) (scale); Speer 2022, wordfreq (list)"
CARROLL = "Carroll 1964, Language and Thought (words by the square root of twice the words)"
UNLISTED = 2.5  # Zipf given to words outside the list, whose rarest is 3
STEADY_WORDS = 100
FIRST_WORDS = 150  # few essays are shorter, so that this share of different words is not moved by length
RUN = 100  # words, the run of mean segmental measures (Johnson 1944)
STEP = 25  # words from one run to the next
CONTENT = {"nouns": "NOUN", "verbs": "VERB", "adjectives": "ADJ", "adverbs": "ADV"}
COMMON_TO = (5.5, 5.0, 4.75, 4.5, 4.0, 3.5)  # Zipf; from words that every child uses to words of one in 300,000
LONG = 9  # letters


@dataclass(frozen=True, slots=True)
class RangeCounts:
    """What the word range is worked out from.

    spoken      every word in small letters, in order
    zipfs       Zipf value of every word of letters
    type_zipfs  of every different word that is spelled right
    lemmas      Zipf value of each different lemma that is spelled right and on the list
    lemma_words lemmas of the essay, spelled right
    by_part     lemmas of content words in order, by part of speech
    long_words  different content words, spelled right, of 9 letters or more
    """

    spoken: tuple[str, ...]
    zipfs: tuple[float, ...]
    type_zipfs: tuple[float, ...]
    lemmas: tuple[float, ...]
    lemma_words: int
    by_part: dict[str, tuple[str, ...]]
    content_letters: tuple[int, ...]
    long_words: int

    @property
    def words(self) -> int:
        return len(self.spoken)

    @property
    def listed_lemmas(self) -> int:
        return len(self.lemmas)

    @property
    def content_words(self) -> int:
        return len(self.content_letters)


def range_counts(measured: Measures, parsed: Parse) -> RangeCounts:
    """Count different words; misspelled words and names are left out where commonness is judged."""
    essay = measured.essay
    wrong = {item.start for item in measured.mechanics.spelling}
    pairs = [
        (word, parsed.doc[token]) for word, token in zip(essay.words, first_tokens(essay.words, parsed), strict=True)
    ]
    spoken = tuple(word.text.lower().replace("\u2019", "'") for word in essay.words)
    letters = [word for word in spoken if word.isalpha()]
    right = [(w, t) for w, t in pairs if w.start not in wrong and t.is_alpha and t.pos_ != "PROPN"]
    lemmas = {(t.lemma_.lower(), t.pos_): zipf(t.lemma_) or zipf(t.text) for _, t in right}
    content = [t for _, t in pairs if t.pos_ in CONTENT.values() and not t.is_stop]
    known = [t for t in content if is_known(t.lower_)]
    return RangeCounts(
        spoken=spoken,
        zipfs=tuple(_zipf(word) for word in letters),
        type_zipfs=tuple(_zipf(word) for word in sorted(set(letters)) if is_known(word)),
        lemmas=tuple(sorted(value for value in lemmas.values() if value)),
        lemma_words=len({t.lemma_.lower() for _, t in pairs if is_known(t.lower_)}),
        by_part={name: tuple(t.lemma_.lower() for t in content if t.pos_ == part) for name, part in CONTENT.items()},
        content_letters=tuple(len(t.text) for t in content),
        long_words=len({t.lemma_.lower() for t in known if len(t.text) >= LONG}),
    )


def _zipf(word: str) -> float:
    return zipf(word) or UNLISTED


def root_ratio(words: Sequence[str]) -> float:
    """Different words by the square root of twice the words; steadier than their plain ratio as a text grows."""
    return len(set(words)) / sqrt(2 * len(words) + 1)


def segment_types(words: Sequence[str]) -> float:
    """Different words in runs of 100, mean."""
    starts = range(0, max(1, len(words) - RUN + 1), STEP)
    return fmean(len(set(words[start : start + RUN])) for start in starts)


def first_share(words: Sequence[str]) -> float:
    first = words[:FIRST_WORDS]
    return len(set(first)) / len(first)


def _decile(values: Sequence[float]) -> float:
    return quantiles(values, n=10, method="inclusive")[0]


def _median(values: Sequence[float]) -> float:
    return quantiles(values, n=2, method="inclusive")[0]


Row = Callable[[RangeCounts], float]


def _row(name: str, function: Row, formula: str, unit: str, source: str, **at_least: int) -> Measure[RangeCounts]:
    return Measure(name, function, formula, unit, source, at_least or {"words": 1}, {"words": STEADY_WORDS})


def _below(limit: float, counts: RangeCounts) -> float:
    return sum(value < limit for value in counts.lemmas)


def _different(part: str, counts: RangeCounts) -> float:
    return len(set(counts.by_part[part]))


def _variety(part: str, counts: RangeCounts) -> float:
    return root_ratio(counts.by_part[part])


def _rows() -> Iterable[Measure[RangeCounts]]:
    for limit in COMMON_TO:
        formula = f"different words spelled right, by lemma, rarer than Zipf {limit:g}"
        yield _row(f"words_rarer_than_{limit:g}".replace(".", "_"), partial(_below, limit), formula, "words", ZIPF)
    yield _row(
        "long_words_of_9",
        lambda c: c.long_words,
        f"different content words spelled right, by lemma, of {LONG} letters or more",
        "words",
        "after Biber 1988, feature 44",
    )
    for part in CONTENT:
        yield _row(f"different_{part}", partial(_different, part), f"different {part}, by lemma", "words", CARROLL)
        formula = f"different {part} / root of (2 x {part} + 1)"
        yield _row(f"variety_of_{part}", partial(_variety, part), formula, "ratio", CARROLL)
    yield _row("words_known", lambda c: c.lemma_words, "different lemmas spelled right", "words", CARROLL)
    yield _row(
        "root_type_token_ratio",
        lambda c: len(set(c.spoken)) / sqrt(c.words),
        "different words / root of words",
        "ratio",
        "Guiraud 1954, Les caractères statistiques du vocabulaire",
    )
    yield _row(
        "types_in_first_150",
        lambda c: first_share(c.spoken),
        f"different words / words, among the first {FIRST_WORDS}",
        "0 to 1",
        "Templin 1957, Certain Language Skills in Children",
    )
    yield _row(
        "types_in_100",
        lambda c: segment_types(c.spoken),
        f"different words in runs of {RUN}, mean",
        "words",
        "Johnson 1944, Psychological Monographs 56(2)",
        words=RUN,
    )
    yield _row("commonness_of_all", lambda c: fmean(c.zipfs or [UNLISTED]), "mean Zipf of all words", "Zipf", ZIPF)
    yield _row(
        "commonness_of_types",
        lambda c: fmean(c.type_zipfs or [UNLISTED]),
        "mean Zipf of different words spelled right",
        "Zipf",
        ZIPF,
    )
    yield _row(
        "commonness_of_rarest_tenth",
        lambda c: _decile(c.lemmas),
        "first decile of the Zipf of different lemmas",
        "Zipf",
        ZIPF,
        listed_lemmas=2,
    )
    yield _row(
        "commonness_of_middle",
        lambda c: _median(c.lemmas),
        "median Zipf of different lemmas",
        "Zipf",
        ZIPF,
        listed_lemmas=2,
    )
    yield _row(
        "content_word_length",
        lambda c: fmean(c.content_letters),
        "letters of content words, mean",
        "letters",
        "after Biber 1988, feature 44",
        content_words=1,
    )


WORD_RANGE: dict[str, Measure[RangeCounts]] = by_name(_rows())
