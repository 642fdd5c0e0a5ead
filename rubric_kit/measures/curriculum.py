"""Curriculum-based measures of writing (Deno, Mirkin & Marston 1982), for younger children.

The published probe is a story starter with three minutes to write. An essay written without a clock has no
norms: there, these are counts to compare with the same child's earlier work, and no cut scores.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from rubric_kit.measures.catalogue import Measure, by_name
from rubric_kit.measures.found import Found
from rubric_kit.measures.mechanics import Mechanics
from rubric_kit.measures.spelling.known import is_known, plain
from rubric_kit.reading import Essay, Sentence, Word
from rubric_kit.reading.words import find_words

END_MARKS = (".", "?", "!", "\u2026")
CLOSERS = " \t\r\n\u00a0\"'\u2019\u201d)*_"  # may stand after the end mark
FIRST_AT_FAULT, LAST_AT_FAULT = {"a/an"}, {"subject and verb", "repeated word"}  # kinds of slip that hold two words
STEADY_WORDS = 22  # the 25th percentile of one district's grade 3 in autumn; a shorter piece says little


@dataclass(frozen=True, slots=True)
class CurriculumCounts:
    """Words written, words spelled correctly, and writing sequences, correct ones and all there are."""

    words_written: int
    words_spelled_correctly: int
    correct_writing_sequences: int
    writing_sequences: int


def curriculum_of(essay: Essay, found: Mechanics, breaks: Collection[int]) -> CurriculumCounts:
    """Score an essay by what the finders of mechanics found in it; ``breaks`` as in curriculum_counts."""
    slips = list(_words_at_fault(found))
    not_words = [slip for slip in slips if any(not is_known(plain(part)) for part in slip.text.split())]
    return curriculum_counts(essay, not_words, slips, breaks)


def _words_at_fault(found: Mechanics) -> Iterator[Found]:
    """The slips, those on two words narrowed to the one that is wrong: the second "the", the verb, the article."""
    slips = chain(found.spelling, found.confused_words, found.capitals, found.agreement, found.repeated_words)
    for slip in slips:
        if slip.kind in FIRST_AT_FAULT:
            word = slip.text.split()[0]
            yield replace(slip, text=word, end=slip.start + len(word))
        elif slip.kind in LAST_AT_FAULT:
            word = slip.text.split()[-1]
            yield replace(slip, text=word, start=slip.end - len(word))
        else:
            yield slip


def curriculum_counts(
    essay: Essay, misspelled: Iterable[Found], slips: Iterable[Found] = (), breaks: Collection[int] = ()
) -> CurriculumCounts:
    """Score an essay by the published rules. The title counts; the heading (name, date) does not.

    misspelled  words that are no English words: they count neither as spelled correctly nor in any correct sequence
    slips       other words that don't fit where they stand (a wrong real word, a missing capital, an agreement slip, a
                word written twice): in no correct sequence, yet spelled correctly, since that ignores the context
    breaks      offsets of words that should have opened a sentence, in a run-on: no correct sequence leads to them

    A sequence is a pair of neighbours that are both right: start and first word, word and word, last word and end mark.
    A first word without its capital is in no correct sequence, as a name without one. Commas and quotation marks are
    not judged.
    """
    title = find_words(essay.text, essay.title.start, essay.title.end) if essay.title else ()
    words = [*title, *essay.words]
    not_words = _covered(words, misspelled)
    wrong = not_words | _covered(words, slips)
    sentences = [sentence for sentence in essay.sentences if sentence.words]
    runs = [sentence.words for sentence in sentences] + ([title] if title else [])
    wrong |= {run[0].start for run in runs if run[0].text[0].islower()}
    correct = sum(_correct_in(run, wrong, breaks) for run in runs)
    correct += sum(_is_ended(essay.text, sentence) and sentence.words[-1].start not in wrong for sentence in sentences)
    spelled = sum(word.start not in not_words for word in words)
    return CurriculumCounts(len(words), spelled, correct, writing_sequences=len(words) + len(sentences))


def _covered(words: Sequence[Word], items: Iterable[Found]) -> set[int]:
    """Starts of the words that the found items touch."""
    starts = [word.start for word in words]
    covered: set[int] = set()
    for item in items:
        first = max(0, bisect_right(starts, item.start) - 1)
        for place in range(first, len(words)):
            word = words[place]
            if word.start >= item.end:
                break
            if word.end > item.start:
                covered.add(word.start)
    return covered


def _correct_in(run: Sequence[Word], wrong: Collection[int], breaks: Collection[int]) -> int:
    """Correct sequences from the start of a run of words to its last word."""
    right = [True, *(word.start not in wrong for word in run)]
    return sum(
        before and after and word.start not in breaks
        for before, after, word in zip(right, right[1:], run, strict=False)
    )


def _is_ended(text: str, sentence: Sentence) -> bool:
    return text[sentence.start : sentence.end].rstrip(CLOSERS).endswith(END_MARKS)


def words_written(counts: CurriculumCounts) -> float:
    return counts.words_written


def words_spelled_correctly(counts: CurriculumCounts) -> float:
    return counts.words_spelled_correctly


def correct_writing_sequences(counts: CurriculumCounts) -> float:
    return counts.correct_writing_sequences


def spelled_correctly_share(counts: CurriculumCounts) -> float:
    return counts.words_spelled_correctly / counts.words_written


def correct_sequence_share(counts: CurriculumCounts) -> float:
    return counts.correct_writing_sequences / counts.writing_sequences


def correct_minus_incorrect_sequences(counts: CurriculumCounts) -> float:
    return 2 * counts.correct_writing_sequences - counts.writing_sequences


_DENO = "Deno, Mirkin & Marston 1982, Exceptional Children 48(4)"
_VIDEEN = "Videen, Deno & Marston 1982, University of Minnesota IRLD Research Report 84"
_JEWELL = "Jewell & Malecki 2005, School Psychology Review 34(1)"
_ESPIN = "Espin et al. 2000, Journal of Special Education 34(3)"
_WANTS = {"at_least": {"words_written": 1}, "wants": {"words_written": STEADY_WORDS}}

CURRICULUM: dict[str, Measure[CurriculumCounts]] = by_name(
    [
        Measure("words_written", words_written, "groups of letters, misspelled ones included", "words", _DENO),
        Measure(
            "words_spelled_correctly",
            words_spelled_correctly,
            "words that can stand alone as English words, whether or not they fit",
            "words",
            _DENO,
        ),
        Measure(
            "correct_writing_sequences",
            correct_writing_sequences,
            "pairs of neighbours (start, word, end mark) both right in spelling, capital, grammar and sense",
            "sequences",
            _VIDEEN,
        ),
        Measure(
            "spelled_correctly_share",
            spelled_correctly_share,
            "words spelled correctly / words written",
            "0 to 1",
            _JEWELL,
            **_WANTS,
        ),
        Measure(
            "correct_sequence_share",
            correct_sequence_share,
            "correct writing sequences / writing sequences",
            "0 to 1",
            _JEWELL,
            **_WANTS,
        ),
        Measure(
            "correct_minus_incorrect_sequences",
            correct_minus_incorrect_sequences,
            "correct - incorrect writing sequences",
            "sequences",
            _ESPIN,
            **_WANTS,
        ),
    ]
)
