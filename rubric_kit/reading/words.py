"""Words by Flesch's rule: contractions, hyphenated words, numbers, abbreviations and & are one word each.

Source: Flesch, R. (1979), How to Write Plain English, ch. 2. Where the rule is silent: a slash and a dash separate
words (and/or is two), except in a number (3/4 is one); an address, a file name and an e-mail address are one word;
emoji, emoticons and lone punctuation are none; an apostrophe belongs to the word it begins ('twas) or ends (dogs').
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache
from sys import intern

from rubric_kit.reading.essay import Word
from rubric_kit.reading.lists import word_list

APOSTROPHES = "'’‘ʼ´`＇"
HYPHENS = "\\-\u2010\u2011"
ALPHABETS_WITH_MARKS = range(0x300, 0x3100)  # accents, Hebrew, Arabic and Indic vowel signs: all below the CJK blocks
ADDRESS = r"[^\s<>\"“”()]*[^\s<>\"“”().,!?;:'’]"
EMOTICON = r"(?<!\w)(?:[:;=]['-]?[)(DPpOo3/\\|*\[\]]|<3+|\^_\^)(?!\w)"


@cache
def _word_pattern() -> re.Pattern[str]:
    """One alternative for each shape of word; each tries a place once, so that the scan stays linear."""
    marks = "".join(c for c in map(chr, ALPHABETS_WITH_MARKS) if unicodedata.category(c) in ("Mn", "Mc"))
    run = rf"[^\W_]+(?:[{marks}\u00ad\u200c\u200d]+[^\W_]*)*"
    joint = rf"(?:[{APOSTROPHES}{HYPHENS}&]|(?<=\d)[.,:/](?=\d))"
    endings, elisions = "|".join(word_list("web_endings")), "|".join(word_list("elisions"))
    shapes = {
        "url": rf"(?:https?://|www\.){ADDRESS}",
        "email": r"(?<![\w.+-])[\w.+-]++@[\w-]++(?:\.[\w-]++)+",
        "domain": rf"(?<![\w.-])[A-Za-z0-9_-]++(?:\.[A-Za-z0-9_-]++)*\.(?:{endings})\b(?:/{ADDRESS})?",
        "emoticon": EMOTICON,
        "dotted": r"(?<![\w.])(?:Ph\.D\b|(?:[^\W\d_]\.)+[^\W\d_](?!\w))\.?",
        "elision": rf"(?<!\w)[{APOSTROPHES}](?:(?i:{elisions})|\d\ds)(?!\w)(?:(?<=n)['’])?",
        "plain": rf"[$£€¥]?(?:(?<![\w.])\.(?=\d))?{run}(?:{joint}{run})*(?:(?<=\d)(?:[%¢]|°[CF]?(?!\w)))?",
        "ampersand": "&",
    }
    return re.compile("|".join(f"(?P<{shape}>{pattern})" for shape, pattern in shapes.items()))


def find_words(text: str, start: int, end: int) -> tuple[Word, ...]:
    """The words of ``text[start:end]``, one paragraph or less, in order, with offsets into ``text``."""
    words = []
    quoting = False  # inside single quotation marks: the apostrophe after a word closes them
    done = start
    for match in _word_pattern().finditer(text, start, end):
        if match.lastgroup == "emoticon":
            continue
        first, last = match.span()
        if match.lastgroup == "plain":
            gap = text[done:first]
            quoting = gap[-1:] in ("'", "‘") or (quoting and not any(c in gap for c in "'’"))
            if last < end and text[last] in "'’" and text[last - 1].isalpha():
                last += not quoting
                quoting = False
        # One string for all uses of a word: they are looked up in many tables, which then need not compare letters.
        words.append(Word(first, last, intern(text[first:last])))
        done = last
    return tuple(words)
