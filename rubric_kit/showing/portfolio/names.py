"""Names replaced by initials, wherever they stand as whole words."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from rubric_kit.measures.spelling.words import is_common
from rubric_kit.reading.lists import word_list
from rubric_kit.showing.inert import inert

NAME = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*")
LETTER = r"[^\W\d_]"
APOSTROPHE = re.compile("['’]")
PLURAL = "(?:es|s)?"  # the Pellwoods
FULL_NAME = 2  # words
KEPT = ("heading_words", "heading_labels", "days_and_months", "small_words")  # word lists of what is no name


class Names:
    """How words of the family's are told: inert, and with ``initials`` without the names of people.

    people    full names, such as those of the students
    headings  heading blocks of essays: a line with a person's name in it holds the family name too
    titles    of essays: one of two words, the first a person's name, is a name that stands where a title would

    In running text a name in small letters that is a word of its own (will, wren) stays: mostly it is meant as one.
    """

    def __init__(
        self,
        people: Iterable[str] = (),
        headings: Iterable[str] = (),
        titles: Iterable[str] = (),
        *,
        initials: bool = False,
    ) -> None:
        known = {word for name in people for word in _words(name)}
        lines = [line for heading in headings for line in heading.splitlines()]
        lines += [title for title in titles if _is_full_name(title, known)]
        beside = {word for line in lines if known & _folded(line, known) for word in _name_like(line)}
        self._any = _pattern(known | beside, re.IGNORECASE) if initials else None
        self._as_names = _pattern(known | beside) if initials else None

    def __call__(self, text: str) -> str:
        """Running text."""
        return inert(text) if self._as_names is None else self._as_names.sub(_initial, _composed(inert(text)))

    def person(self, name: str) -> str:
        """The name of a person, known or not."""
        return inert(name) if self._any is None else NAME.sub(_initial, inert(name))

    def heading(self, text: str) -> str:
        """A line of a heading block: what is neither a date nor of a course or grade is taken for a name."""
        if self._any is None:
            return inert(text)
        line = self._any.sub(_initial, _composed(inert(text)))
        return NAME.sub(lambda word: word[0] if _is_kept(word[0]) else _initial(word), line)


def _words(name: str) -> set[str]:
    """The words of a name by which a person is known, and the parts of those with hyphens."""
    whole = [word for word in NAME.findall(_composed(name)) if len(word) > 1 and not word.islower()] or [
        word for word in NAME.findall(_composed(name)) if len(word) > 1
    ]
    return {part for word in whole for part in (word, *word.split("-")) if len(part) > 1}


def _is_full_name(title: str, known: set[str]) -> bool:
    words = _composed(title).split()
    return len(words) == FULL_NAME and bool(_folded(words[0], known))


def _folded(line: str, known: set[str]) -> set[str]:
    """Which of the known words stand in a line."""
    here = {word.casefold() for word in NAME.findall(_composed(line))}
    return {word for word in known if word.casefold() in here}


def _name_like(line: str) -> set[str]:
    return {word for word in NAME.findall(_composed(line)) if len(word) > 1 and not _is_kept(word)}


def _is_kept(word: str) -> bool:
    return len(word) == 1 or any(word.lower() in word_list(name) for name in KEPT)


def _pattern(names: Iterable[str], flags: re.RegexFlag = re.NOFLAG) -> re.Pattern[str]:
    """Any of the names as a whole word, longer ones first; without IGNORECASE as a name is written: Ann, ANN, and ann
    where that is no word.
    """
    forms = {form for name in names for form in (name, name.upper(), name.capitalize(), *_small(name))}
    each = "|".join(APOSTROPHE.sub("['’]", re.escape(form)) for form in sorted(forms, key=lambda f: (-len(f), f)))
    return re.compile(rf"(?<!{LETTER})(?:{each or '(?!)'}){PLURAL}(?!{LETTER})", flags)


def _small(name: str) -> tuple[str, ...]:
    return () if is_common(name.lower()) else (name.lower(),)


def _initial(found: re.Match[str]) -> str:
    """W. for Wren, A.-M. for Anne-Marie, without a period of its own before one."""
    letters = "-".join(f"{part[0].upper()}." for part in found[0].split("-"))
    return letters.removesuffix(".") if found.string[found.end() : found.end() + 1] == "." else letters


def _composed(text: str) -> str:
    """Letters with their accents in one, as names are looked for."""
    return unicodedata.normalize("NFC", text)
