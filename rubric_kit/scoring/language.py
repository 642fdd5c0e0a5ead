"""Only English can be scored: a text in another language, or a mere list, is told so instead of being judged."""

from __future__ import annotations

from rubric_kit.errors import RubricKitError
from rubric_kit.reading import Essay

# The least share of spaCy's English stop words among an essay's words: half of the least in 338 labelled essays (0.52);
# passages in ten other languages with our letters have at most 0.21, a poem 0.35. tests/scoring/test_language.py
LEAST_LITTLE_WORDS = 0.25
ENOUGH_WORDS = 25  # below this a few missing little words are chance
LAST_LATIN = "\u024f"  # the end of Unicode's block Latin Extended-B


class NotEnglishError(RubricKitError):
    """A text is not in English, or not in sentences."""


def check_english(essay: Essay) -> None:
    """Raises NotEnglishError where few letters are Latin or few words are the little words of English."""
    written = "".join(word.text for word in essay.words)
    foreign = sum(c > LAST_LATIN and c.isalpha() for c in written) if not written.isascii() else 0
    if foreign * 2 > sum(map(str.isalpha, written)):
        raise NotEnglishError(f"{essay.source}: it is not written in English letters. Hand in an essay in English.")
    share = share_of_little_words(essay)
    if len(essay.words) >= ENOUGH_WORDS and share < LEAST_LITTLE_WORDS:
        raise NotEnglishError(
            f"{essay.source}: it does not read like English sentences: only {share:.0%} of its words are little words "
            "such as the, and, of. Hand in an essay in English, in whole sentences."
        )


def share_of_little_words(essay: Essay) -> float:
    """The share (0 to 1) of the words that are English stop words; of "it's" only the first part counts."""
    from spacy.lang.en.stop_words import STOP_WORDS

    words = [word.text.lower().replace("\u2019", "'").partition("'")[0] for word in essay.words]
    return sum(word in STOP_WORDS for word in words) / max(1, len(words))
