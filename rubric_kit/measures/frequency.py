"""How common a word is, on the Zipf scale, from wordfreq's short list.

Only the list is read (10 ms): importing wordfreq itself costs 0.2 to 0.4 s for language tags and text repair that plain
English words don't need. tests/measures/test_frequency.py compares the two.
"""

from __future__ import annotations

import gzip
import importlib.util
from functools import cache
from pathlib import Path

LIST = Path("data") / "small_en.msgpack.gz"
# A list item at place i holds the words of -i centibels, i hundredths of a power of ten below one word in one.
ZIPF_OF_ONE = 9.0  # Zipf: log10 of uses in a thousand million words (van Heuven et al. 2014)
ZIPF_OF_THE_RAREST = 3.0  # what the short list stops at; a word outside it is rarer, or no word


@cache
def zipf_of_words() -> dict[str, float]:
    """Zipf value of each of the 29,000 commonest English words and forms, in small letters; 3.0 to 7.7."""
    import msgpack

    spec = importlib.util.find_spec("wordfreq")
    if spec is None or not spec.submodule_search_locations:
        raise ImportError("wordfreq is not installed; run: pip install 'wordfreq>=3.1,<4'")
    with gzip.open(Path(spec.submodule_search_locations[0]) / LIST) as packed:
        _header, *by_centibel = msgpack.load(packed)
    return {word: ZIPF_OF_ONE - i / 100 for i, words in enumerate(by_centibel) for word in words}


def zipf(word: str) -> float | None:
    """Zipf value of a word, or None outside the list. A hyphenated word is as rare as its rarest part."""
    values = [zipf_of_words().get(part) for part in word.lower().replace("\u2019", "'").split("-") if part]
    known = [value for value in values if value is not None]
    return min(known) if known and len(known) == len(values) else None
