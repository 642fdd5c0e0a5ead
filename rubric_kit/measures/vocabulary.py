"""Which words a child uses: how varied, how common, how long, how abstract, how soon repeated."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from statistics import mean

from rubric_kit.measures.alignment import first_tokens
from rubric_kit.measures.catalogue import Measure, by_name
from rubric_kit.measures.diversity import HDD_SAMPLE, MATTR_WINDOW, hdd, mattr, mtld, type_token_ratio
from rubric_kit.measures.found import Found
from rubric_kit.measures.frequency import ZIPF_OF_THE_RAREST, zipf
from rubric_kit.measures.neighbours import Neighbours
from rubric_kit.measures.parse import Parse
from rubric_kit.measures.remembered import Remembered
from rubric_kit.measures.tree import Tree
from rubric_kit.reading import Essay, Word

CONTENT = frozenset({"NOUN", "VERB", "ADJ", "ADV"})
NOUNS = frozenset({"NN", "NNS"})
# Words of Zipf 4 and up are of high frequency (van Heuven, Mandera, Keuleers & Brysbaert 2014, QJEP 67(6)).
LESS_COMMON_BELOW = 4.0
# Words back: about a sentence and a half of a child's, within which a reader still hears the first.
REPEAT_SPAN = 20
# McCarthy & Jarvis 2010 and Koizumi 2012 find MTLD and HD-D steady from about 100 words.
STEADY_WORDS = 100
# A share of 0.1 among 50 words has a standard error of 0.04; among fewer it says little.
STEADY_CONTENT_WORDS = 50
LONG = 7  # letters; from here a word is seldom one of those that every child uses


@dataclass(frozen=True, slots=True)
class VocabularyCounts:
    """What the vocabulary measures are worked out from. Content words are nouns, verbs, adjectives and adverbs that
    carry meaning; names and misspelled words are left out of the judgement of what is common.

    tokens       every word in small letters, in order
    letters      letters and digits in all words
    commonness   Zipf value of each content word known to the list (its own or its lemma's, the higher)
    content      content words
    judged       content words whose commonness can be judged
    less_common  of those, the words rarer than Zipf 4
    abstract     nouns that name an idea, quality or act, told by their ending
    repeated     content words that stand again within 20 words
    long         lemmas of the judged words of 7 letters or more
    strains      of each pair of neighbouring words: how many powers of ten rarer than chance, 0 where it is not
    """

    tokens: tuple[str, ...]
    letters: int
    commonness: tuple[float, ...]
    content: tuple[Word, ...]
    judged: tuple[Word, ...]
    less_common: tuple[Word, ...]
    abstract: tuple[Word, ...]
    repeated: tuple[Word, ...]
    long: frozenset[str]
    strains: tuple[float, ...]

    @property
    def words(self) -> int:
        return len(self.tokens)

    @property
    def content_words(self) -> int:
        return len(self.content)

    @property
    def judged_words(self) -> int:
        return len(self.judged)

    @property
    def known_words(self) -> int:
        return len(self.commonness)

    @property
    def pairs(self) -> int:
        return len(self.strains)

    @property
    def repeats(self) -> int:
        """Words that stand in the essay already."""
        return len(self.tokens) - len(set(self.tokens))


def vocabulary_counts(
    essay: Essay, parse: Parse, misspelled: Iterable[Found] = (), pairs: Iterable[Neighbours] = ()
) -> VocabularyCounts:
    """Count the words of an essay; ``misspelled`` words are no rare words, and are left out there."""
    words = essay.words
    wrong = {found.start for found in misspelled}
    tree = parse.tree
    content: list[tuple[Word, int]] = []
    repeated = []
    last_seen: dict[str, int] = {}
    for place, (word, token) in enumerate(zip(words, first_tokens(words, parse), strict=True)):
        if tree.kinds[token] not in CONTENT or tree.stops[token]:
            continue
        content.append((word, token))
        lemma = tree.lemmas[token].lower()
        if place - last_seen.get(lemma, -REPEAT_SPAN - 1) <= REPEAT_SPAN:
            repeated.append(word)
        last_seen[lemma] = place
    judged = [(word, _zipf_of(word, tree.lemmas[token])) for word, token in content if word.start not in wrong]
    return VocabularyCounts(
        tokens=tuple(word.text.lower().replace("\u2019", "'") for word in words),
        letters=sum(sum(map(str.isalnum, word.text)) for word in words),
        commonness=tuple(value for _, value in judged if value is not None),
        content=tuple(word for word, _ in content),
        judged=tuple(word for word, _ in judged),
        less_common=tuple(word for word, value in judged if (value or 0) < LESS_COMMON_BELOW),
        abstract=tuple(word for word, token in content if word.start not in wrong and _is_abstract(tree, token)),
        repeated=tuple(repeated),
        long=frozenset(
            tree.lemmas[token].lower() for word, token in content if word.start not in wrong and len(word.text) >= LONG
        ),
        strains=tuple([pair.strain for pair in pairs]),
    )


def _zipf_of(word: Word, lemma: str) -> float | None:
    """An inflected form is as common as its lemma: "gobbled" as "gobble"."""
    values = [value for value in (_ZIPF[word.text], _ZIPF[lemma]) if value is not None]
    return max(values, default=None)


_ZIPF = Remembered(zipf)


def _is_abstract(tree: Tree, token: int) -> bool:
    lemma = tree.lemmas[token].lower()
    return tree.tags[token] in NOUNS and lemma.endswith(_abstract_endings()) and lemma not in _concrete_nouns()


@cache
def _abstract_endings() -> tuple[str, ...]:
    return tuple(_abstract_nouns()["endings"].split())


@cache
def _concrete_nouns() -> frozenset[str]:
    return frozenset(_abstract_nouns()["concrete"].split())


@cache
def _abstract_nouns() -> dict[str, str]:
    return tomllib.loads((files("rubric_kit.measures") / "data" / "abstract_nouns.toml").read_text("utf-8"))


def moving_average_type_token_ratio(counts: VocabularyCounts) -> float:
    return mattr(counts.tokens)


def textual_lexical_diversity(counts: VocabularyCounts) -> float:
    return mtld(counts.tokens)


def hypergeometric_diversity(counts: VocabularyCounts) -> float:
    return hdd(counts.tokens)


def plain_type_token_ratio(counts: VocabularyCounts) -> float:
    return type_token_ratio(counts.tokens)


def less_common_share(counts: VocabularyCounts) -> float:
    return len(counts.less_common) / counts.judged_words


def mean_commonness(counts: VocabularyCounts) -> float:
    return mean(counts.commonness)


def word_length(counts: VocabularyCounts) -> float:
    return counts.letters / counts.words


def abstract_nouns_per_hundred(counts: VocabularyCounts) -> float:
    return 100 * len(counts.abstract) / counts.words


def content_share(counts: VocabularyCounts) -> float:
    return counts.content_words / counts.words


def close_repetition(counts: VocabularyCounts) -> float:
    return len(counts.repeated) / counts.content_words


VOCABULARY: dict[str, Measure[VocabularyCounts]] = by_name(
    [
        Measure(
            "mattr",
            moving_average_type_token_ratio,
            f"mean of types / tokens over all runs of {MATTR_WINDOW} words",
            "0 to 1",
            "Covington & McFall 2010, Journal of Quantitative Linguistics 17(2)",
            at_least={"words": MATTR_WINDOW},
            wants={"words": STEADY_WORDS},
        ),
        Measure(
            "mtld",
            textual_lexical_diversity,
            "words / factors at a type-token ratio of 0.72, mean of forwards and backwards",
            "words",
            "McCarthy & Jarvis 2010, Behavior Research Methods 42(2)",
            at_least={"words": 1, "repeats": 1},
            wants={"words": STEADY_WORDS},
        ),
        Measure(
            "hdd",
            hypergeometric_diversity,
            f"sum over types of the chance to stand in a draw of {HDD_SAMPLE} words, / {HDD_SAMPLE}",
            "0 to 1",
            "McCarthy & Jarvis 2007, Language Testing 24(4)",
            at_least={"words": HDD_SAMPLE},
            wants={"words": STEADY_WORDS},
        ),
        Measure(
            "type_token_ratio",
            plain_type_token_ratio,
            "types / tokens (falls as the text grows: compare only essays of one length)",
            "0 to 1",
            "Templin 1957, Certain Language Skills in Children",
            at_least={"words": 1},
            wants={"words": MATTR_WINDOW},
        ),
        Measure(
            "less_common_share",
            less_common_share,
            f"content words rarer than Zipf {LESS_COMMON_BELOW:g} / content words spelled right",
            "0 to 1",
            "van Heuven et al. 2014, QJEP 67(6) (scale); Speer 2022, wordfreq (list)",
            at_least={"judged_words": 1},
            wants={"judged_words": STEADY_CONTENT_WORDS},
        ),
        Measure(
            "mean_commonness",
            mean_commonness,
            f"mean Zipf of content words on the list (rarest {ZIPF_OF_THE_RAREST:g}); one point is ten times as common",
            "Zipf",
            "van Heuven et al. 2014, QJEP 67(6) (scale); Speer 2022, wordfreq (list)",
            at_least={"known_words": 1},
            wants={"known_words": STEADY_CONTENT_WORDS},
        ),
        Measure(
            "word_length",
            word_length,
            "letters and digits / words",
            "letters",
            "Biber 1988, Variation across Speech and Writing, feature 44",
            at_least={"words": 1},
            wants={"words": MATTR_WINDOW},
        ),
        Measure(
            "long_words",
            lambda counts: len(counts.long),
            f"different content words spelled right, by lemma, of {LONG} letters or more",
            "words",
            "after Biber 1988, Variation across Speech and Writing, feature 44",
            at_least={"words": 1},
            wants={"words": STEADY_WORDS},
        ),
        Measure(
            "abstract_nouns_per_hundred",
            abstract_nouns_per_hundred,
            "100 x nouns in -tion, -ment, -ness, -ity and the like / words",
            "per 100 words",
            "after Biber 1988, Variation across Speech and Writing, feature 14",
            at_least={"words": 1},
            wants={"words": STEADY_WORDS},
        ),
        Measure(
            "content_share",
            content_share,
            "content words / words",
            "0 to 1",
            "Ure 1971 (lexical density)",
            at_least={"words": 1},
            wants={"words": MATTR_WINDOW},
        ),
        Measure(
            "close_repetition",
            close_repetition,
            f"content words that stand again within {REPEAT_SPAN} words / content words",
            "0 to 1",
            "own; plain counts over the parse",
            at_least={"content_words": 1},
            wants={"content_words": STEADY_CONTENT_WORDS},
        ),
        Measure(
            "strain_per_100_pairs",
            lambda counts: 100 * sum(counts.strains) / counts.pairs,
            "100 x sum of log10 (share by chance / share in print), where above 0 / pairs of neighbouring words",
            "per 100 pairs",
            "after Church & Hanks 1990, Computational Linguistics 16(1); shares, Michel et al. 2011",
            at_least={"pairs": 1},
            wants={"pairs": STEADY_WORDS},
        ),
    ]
)
