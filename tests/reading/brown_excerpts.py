"""Excerpts of 100 to 250 words from the Brown corpus (Francis and Kucera 1964), with its own division into sentences.

Whole paragraphs are taken together up to 100 words. Where the corpus divides otherwise than "what the writer ended with
. ? or !; a quotation and its "he said" are one", its division is changed, the same way in every sample:

- it ends a sentence at a semicolon or a colon: joined;
- it ends one at ? or ! before a small letter, a comma or a dash: joined;
- it ends one between "What?" and "he asked", writing "He": joined where a verb follows with which the corpus tells who
  spoke after a comma (brown_speech_verbs.txt), small letter restored;
- it writes "Yes". for "Yes." and has spaces between tokens: put back into ordinary print;
- it leaves out headings' marks and some dashes: paragraphs with a heading, and excerpts with a sentence that lacks its
  end mark, are left out.
"""

from __future__ import annotations

import hashlib
import random
import re
from collections.abc import Iterator, Sequence
from pathlib import Path

HERE = Path(__file__).parent
FICTION = "klmnpr"  # categories: general fiction, mystery, science fiction, adventure, romance, humor
LEAST, MOST = 100, 250  # words in an excerpt
OF_A_SAMPLE = {"fiction": 5, "non-fiction": 2}  # excerpts: there are three times as many samples of non-fiction
TAG_WORDS = 6  # looked through for the verb of "one of the girls said"
SUBJECTS = frozenset({"The", "His", "Her", "A", "My", "One"})  # they begin a subject of several words
PRONOUNS = frozenset({"He", "She", "They", "We", "It", "You"})
PARAGRAPH = re.compile(r"\n\s*\n\s*\n")
ENDED = re.compile(r"[.?!:;…][”’)]*$")
SPEECH_VERBS = frozenset(
    word
    for line in (HERE / "brown_speech_verbs.txt").read_text("utf-8").splitlines()
    if not line.startswith("#")
    for word in line.split()
)


def brown_excerpts(folder: Path, half: str) -> dict[str, list[tuple[str, list[list[str]]]]]:
    """Kind of text -> excerpts of one half of the samples, each with its name, paragraphs and sentences."""
    found: dict[str, list[tuple[str, list[list[str]]]]] = {kind: [] for kind in OF_A_SAMPLE}
    for sample in sorted(folder.glob("c[a-r][0-9][0-9]")):
        if half == ("report" if hashlib.sha256(sample.name.encode()).digest()[0] % 2 else "tune"):
            kind = "fiction" if sample.name[1] in FICTION else "non-fiction"
            chosen = list(_excerpts([_as_defined(p) for p in _paragraphs(sample)]))
            random.Random(sample.name).shuffle(chosen)
            found[kind] += [(sample.name, e) for e in chosen[: OF_A_SAMPLE[kind]]]
    return found


def _excerpts(paragraphs: Sequence[list[str]]) -> Iterator[list[list[str]]]:
    current: list[list[str]] = []
    length = 0
    for paragraph in paragraphs:
        words = sum(len(sentence.split()) for sentence in paragraph)
        if length + words > MOST:
            current, length = [], 0
        if words > MOST:
            continue
        current.append(paragraph)
        length += words
        if length >= LEAST:
            if all(ENDED.search(sentence) for p in current for sentence in p):
                yield current
            current, length = [], 0


def _paragraphs(sample: Path) -> Iterator[list[str]]:
    """The sentences of each paragraph that holds no heading, joined at semicolons and colons."""
    for block in PARAGRAPH.split(sample.read_text("latin-1")):
        lines = [[token.rpartition("/")[::2] for token in line.split()] for line in block.splitlines() if line.strip()]
        if lines and not any(tag.endswith("-hl") for line in lines for _, tag in line):
            yield _joined([_in_print(line) for line in lines])


def _in_print(tokens: Sequence[tuple[str, str]]) -> str:
    words = [
        word
        for place, (word, _) in enumerate(tokens)
        if not (place and word == tokens[place - 1][0] and word in tuple("?!;:"))  # the corpus doubles these
    ]
    text = " ".join(words)
    for pattern, instead in (
        (r"`` ?", "“"),
        (r" ?''", "”"),
        (r"(^| )` ", r"\1‘"),
        (r" '(?= |$)", "’"),
        (r" ([,.;:?!])(?=[ ”’)]|$)", r"\1"),
        (r" ([,.;:?!])(?=[ ”’)]|$)", r"\1"),
        (r"\( ", "("),
        (r" \)", ")"),
        (r" -- | --|-- ", "—"),
        (r"“ ", "“"),
        (r" ”", "”"),
        (r"([,.;:?!]) ([”’])", r"\1\2"),
        (r"([”’]+)([.,?!]+)", r"\2\1"),
    ):
        text = re.sub(pattern, instead, text)
    return text


def _joined(lines: Sequence[str]) -> list[str]:
    sentences: list[str] = []
    for line in lines:
        closers = re.match(r"[”’)]+", line)
        rest = line
        if sentences and closers:
            sentences[-1] += closers.group()
            rest = line[closers.end() :].lstrip(" ")
        if rest and sentences and re.search(r"[;:—,][”’]?$", sentences[-1]):
            sentences[-1] += " " + rest
        elif rest:
            sentences.append(rest)
    return sentences


def _as_defined(paragraph: Sequence[str]) -> list[str]:
    sentences: list[str] = []
    for sentence in paragraph:
        if sentences and sentence[0].islower():
            sentences[-1] += " " + sentence
        elif sentences and sentence[0] in "—,":
            sentences[-1] += sentence
        elif sentences and re.search(r"[?!]”$", sentences[-1]) and _tells_who_spoke(sentence):
            first = sentence.split()[0]
            lower = first in PRONOUNS | SUBJECTS or first.lower() in SPEECH_VERBS
            sentences[-1] += " " + (sentence[0].lower() + sentence[1:] if lower else sentence)
        else:
            sentences.append(sentence)
    return sentences


def _tells_who_spoke(sentence: str) -> bool:
    words = [word.rstrip(".") for word in re.findall(r"[\w.'-]+", sentence)[:TAG_WORDS]]
    if len(words) > 1 and words[0].lower() in SPEECH_VERBS:
        return True
    for word in words[1:]:
        if word in SPEECH_VERBS:
            return True
        if not (word[0].isupper() or words[0] in SUBJECTS or word.endswith("ly") or word in ("had", "would")):
            return False
    return False
