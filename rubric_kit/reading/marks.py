"""Does this mark end the sentence? One small rule for each kind of trouble; the first that knows decides."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from rubric_kit.reading.essay import Word
from rubric_kit.reading.lists import abbreviations, word_list

NUMBER_OF_ITEM = re.compile(r"\d{1,2}|[^\W\d_]")
ROMAN = re.compile(r"(?=[IVXL])(?:XL|L?X{0,3})(?:IX|IV|V?I{0,3})")
SUBJECT_WORDS = 7  # "the old man with the long beard said": the longest subject looked through for its verb
DETERMINERS = frozenset({"the", "a", "an", "my", "his", "her", "our", "their", "your", "one", "another"})
CONJUNCTIONS = frozenset({"and", "or", "but", "nor"})
PREPOSITIONS = frozenset({"at", "by", "in", "on", "from", "after", "before", "around", "about", "until", "since"})
LEAD_IN_WORDS = 4  # "In the whole U.S.": a longer stretch before the abbreviation has a verb
CLAUSE_ENDS = tuple(".!?,;:")
AUXILIARIES = frozenset({"would", "had", "used", "to"})  # between the speaker and the verb: Dick would ask
BEFORE_MEASURES = frozenset({"per", "et"})  # per cent., et al.
SHILLINGS = re.compile(r"\d{1,2}[sd]")
PRONOUNS = frozenset({"he", "she", "they", "we", "it", "you"})
UNIT_LETTERS = 3  # "12 bu.", "8 mg.": as long as an abbreviation behind a number is where no list knows it
ELLIPSIS_DOTS = 3  # two dots are a slip for one


@dataclass(frozen=True, slots=True)
class Mark:
    """A run of end marks with the closing marks after it, and what stands around it.

    words     the words of the paragraph (or list item)
    first     the place in ``words`` of the sentence's first word
    last      the place of the last word before the mark
    following the place of the first word after it, behind a citation if there is one
    run       the end marks and closers themselves
    end       where the run, or the citation behind it, is over
    quoted    None outside a quotation; else where its opening mark stands
    careful   this writer starts sentences with a capital, so a small letter means the sentence goes on
    """

    text: str
    words: tuple[Word, ...]
    first: int
    last: int
    following: int
    run: str
    end: int
    quoted: int | None
    careful: bool

    @property
    def before(self) -> str:
        return self.words[self.last].text

    @property
    def earlier(self) -> str:
        """The word before the last one, in the same paragraph; empty if there is none."""
        return self.words[self.last - 1].text if self.last else ""

    @property
    def next(self) -> str:
        return self.words[self.following].text

    @property
    def next_is_lower(self) -> bool:
        return self.next[0].islower() and not self.opens_quotation

    @property
    def next_starts_sentences(self) -> bool:
        return self.next[0].isupper() and self.next.lower() in word_list("sentence_starters")

    @property
    def opens_quotation(self) -> bool:
        return any(c in self.text[self.end : self.words[self.following].start] for c in '"“«‘')

    @property
    def opens_bracket(self) -> bool:
        return "(" in self.text[self.end : self.words[self.following].start]

    @property
    def closes_quotation(self) -> bool:
        return any(c in self.run for c in "\"”»'’")

    @property
    def runs_on(self) -> bool:
        """Does a comma or the like follow at once (Ariz., and), or a dash and a small letter (snap!—the)?"""
        behind = self.text[self.end : self.end + 1]
        return behind in tuple(",;:") or (behind in tuple("—–-") and self.next_is_lower)

    @property
    def is_ellipsis(self) -> bool:
        return ("…" in self.run or self.run.count(".") >= ELLIPSIS_DOTS) and not _asks_or_exclaims(self.run)

    @property
    def is_period(self) -> bool:
        return not self.is_ellipsis and not _asks_or_exclaims(self.run) and self.run[0] not in "—–-"

    def gap(self, place: int) -> str:
        """What stands between word ``place`` and the word after it; the paragraph's end counts as a period."""
        if place + 1 == len(self.words):
            return "."
        return self.text[self.words[place].end : self.words[place + 1].start]


def _asks_or_exclaims(run: str) -> bool:
    return any(c in run for c in "?!‽？！؟")


def ends_sentence(mark: Mark) -> bool:
    """True if the sentence is over at this mark, one with words before and after it in its paragraph."""
    return next((answer for rule in RULES if (answer := rule(mark)) is not None), True)


def _runs_on(mark: Mark) -> bool | None:
    return False if mark.runs_on else None


def _list_number(mark: Mark) -> bool | None:
    """The period of "1." or "a." in front of a list item."""
    if mark.run not in (".", ".)") or not NUMBER_OF_ITEM.fullmatch(mark.before):
        return None
    if mark.last == mark.first or "\n" in mark.gap(mark.last - 1):
        return False
    in_a_row = mark.gap(mark.last - 1).rstrip()[-1:] in (",", ":", ";") or mark.earlier.lower() in CONJUNCTIONS
    return False if in_a_row and mark.next_is_lower and mark.before.isdigit() else None


def _abbreviation(mark: Mark) -> bool | None:
    """A period that belongs to an abbreviation, ending the sentence only where the abbreviation can."""
    if not mark.is_period or mark.closes_quotation:
        return None
    stem = mark.before.rstrip(".")
    if _next_is_initial(mark) and f"{stem}.{mark.next}".lower() in abbreviations():
        return False
    if _follows_initial(mark) and f"{mark.earlier}.{stem}".lower() in abbreviations():
        stem = f"{mark.earlier}.{stem}"
    if mark.earlier and _is_lead_in(mark) and (stem in abbreviations() or "." in stem):
        return False
    kind = abbreviations().get(stem) or abbreviations().get(stem.lower())
    if kind is None and "." in stem and stem.replace(".", "").isalpha() and mark.before.endswith("."):
        kind = "name"
    return KINDS[kind](mark) if kind else _unknown_unit(mark, stem)


def _unknown_unit(mark: Mark, stem: str) -> bool | None:
    """A short word between a number and a small letter (12 bu. of), or shillings and pence (4s. 6d. a year)."""
    if not mark.careful:
        return None
    after_number = mark.earlier[-1:].isdigit() and stem.isalpha() and len(stem) <= UNIT_LETTERS
    pence = SHILLINGS.fullmatch(stem) is not None
    return False if (mark.next_is_lower and (after_number or pence)) or (pence and mark.next[0].isdigit()) else None


def _is_lead_in(mark: Mark) -> bool:
    """Is all there is so far a phrase of place or time, such as "At 5 a.m." or "In the U.S."?"""
    return mark.words[mark.first].text.lower() in PREPOSITIONS and mark.last - mark.first < LEAD_IN_WORDS


def _inner(mark: Mark) -> bool | None:
    return False


def _number(mark: Mark) -> bool | None:
    return False if mark.next[0].isdigit() or (mark.next != "I" and ROMAN.fullmatch(mark.next.upper())) else None


def _name(mark: Mark) -> bool | None:
    return mark.next_starts_sentences or mark.opens_quotation


def _free(mark: Mark) -> bool | None:
    if mark.next[0].isdigit() and (mark.opens_bracket or (mark.earlier[-1:].isdigit() and "." not in mark.before)):
        return False  # et al. (2009), 6 ft. 3 in.
    return not mark.next_is_lower and mark.next.lower() not in word_list("days_and_months")


def _era(mark: Mark) -> bool | None:
    return False if mark.next[0].isdigit() else _free(mark)


def _measure(mark: Mark) -> bool | None:
    return _free(mark) if mark.earlier[-1:].isdigit() or mark.earlier.lower() in BEFORE_MEASURES else None


KINDS: dict[str, Callable[[Mark], bool | None]] = {
    "inner": _inner,
    "number": _number,
    "name": _name,
    "free": _free,
    "era": _era,
    "measure": _measure,
}


def _initial(mark: Mark) -> bool | None:
    """The period after a single capital or a Roman numeral: J. K. Smith, T. rex, Henry VIII. had."""
    if not mark.is_period or mark.closes_quotation or not mark.before[0].isupper():
        return None
    single = len(mark.before) == 1 and (
        _follows_initial(mark) or mark.earlier.lower() not in word_list("letter_labels")
    )
    if mark.next_is_lower:
        numeral = ROMAN.fullmatch(mark.before) and (len(mark.before) > 1 or mark.earlier[:1].isupper())
        return False if numeral or (single and mark.before != "I") else None
    if len(mark.before) == 1 and _next_is_initial(mark):
        return False
    if not single:
        return None
    if mark.before == "I" and mark.earlier.lower() not in word_list("given_names"):
        return None
    return False if not mark.next_starts_sentences else None


def _follows_initial(mark: Mark) -> bool:
    """Is the word before it an initial too: the Rev. A. W. Smith?"""
    return len(mark.earlier) == 1 and mark.earlier.isalpha() and mark.gap(mark.last - 1).startswith(".")


def _next_is_initial(mark: Mark) -> bool:
    return len(mark.next) == 1 and mark.next.isalpha() and mark.gap(mark.following).startswith(".")


def _ellipsis(mark: Mark) -> bool | None:
    """Dots end a sentence before a capital, unless three stand behind a word that cannot."""
    if not mark.is_ellipsis:
        return None
    pause = mark.run.count(".") <= ELLIPSIS_DOTS and mark.before.lower() in word_list("unfinished")
    return False if mark.next_is_lower or pause else None


def _quotation(mark: Mark) -> bool | None:
    """A quotation and its "he said" are one sentence, whatever mark stands inside the quotation."""
    if not mark.closes_quotation:
        return None
    leads = mark.quoted is None or mark.words[mark.first].start > mark.quoted
    if mark.next_is_lower:
        return False if leads or not mark.is_period or mark.next in CONJUNCTIONS or _is_tag(mark) else None
    return False if leads and not mark.opens_quotation and _is_tag(mark) else None


def _is_tag(mark: Mark) -> bool:
    """Do the next words tell who spoke? After a period only if the verb ends the clause: "Yes." He said.

    The same after a careful writer's pronoun with a capital, which mostly begins a sentence: "Go!" She called the dog.
    """
    long_subject = mark.next.lower() in DETERMINERS
    unsure = mark.is_period or (mark.careful and mark.next.lower() in PRONOUNS and not mark.next_is_lower)
    for place in range(mark.following, min(mark.following + SUBJECT_WORDS, len(mark.words))):
        word = mark.words[place].text
        behind = mark.gap(place).strip()[:1]
        if place > mark.following and word.lower() in word_list("speech_verbs"):
            unsure = unsure or word.lower() in word_list("also_speech_verbs")
            return not unsure or behind in CLAUSE_ENDS
        in_subject = place == mark.following or long_subject or word[0].isupper() or word.endswith("ly")
        in_subject = in_subject or word.lower() in AUXILIARIES
        if not in_subject or (behind in CLAUSE_ENDS and word.lower() not in abbreviations()):
            return False
    return False


def _exclamation(mark: Mark) -> bool | None:
    """A small letter after ? or !: "Oh! what a day", "Bang! went the gun", "a bear? or a wolf?" go on.

    But outside a quotation "Why? because" is a slip even of those who use capitals.
    """
    if mark.is_period or not mark.next_is_lower:
        return None
    one_word = mark.last == mark.first and mark.before[0].isupper()
    goes_on = mark.next in CONJUNCTIONS or mark.next in word_list("speech_verbs")
    within = mark.careful and (mark.quoted is not None or "?" not in mark.run or goes_on)
    return False if one_word or within else None


def _bracket(mark: Mark) -> bool | None:
    """A mark inside brackets or stars in the middle of a sentence: (it was cold.) and"""
    return False if mark.run[-1] in ")]*_" and mark.next_is_lower else None


RULES: tuple[Callable[[Mark], bool | None], ...] = (
    _runs_on,
    _list_number,
    _abbreviation,
    _initial,
    _ellipsis,
    _quotation,
    _exclamation,
    _bracket,
)
