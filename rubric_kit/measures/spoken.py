"""What a word, number, symbol or abbreviation is read aloud as: "$15" is "fifteen dollars"."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from functools import cache
from importlib.resources import files

# fmt: off
ONES = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]
TENS = ["zero", "ten", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
# fmt: on
GROUPS = ((10**12, "trillion"), (10**9, "billion"), (10**6, "million"), (1000, "thousand"), (100, "hundred"))
MOST_DIGITS = 15  # a longer figure is read digit by digit, as a telephone number is
ORDINALS = {"one": "first", "two": "second", "three": "third", "five": "fifth", "eight": "eighth", "nine": "ninth"}
ORDINALS |= {"twelve": "twelfth"}
YEARS = range(1100, 2100)  # four figures without a comma in this range are read as a year
HUNDRED = 100

NUMBER = r"\d+(?:,\d{3})*"
TOKEN = re.compile(
    rf"""(?P<money>(?P<sign>[$£€]){NUMBER}(?:\.\d+)?)
    | (?P<time>\d{{1,2}}:\d\d(?!\d))
    | (?P<fraction>\d+/\d+)
    | (?P<ordinal>{NUMBER}(?:st|nd|rd|th)(?![^\W_]))
    | (?P<decade>\d+(?:'?s)(?![^\W_]))
    | (?P<decimal>{NUMBER}\.\d+)
    | (?P<number>{NUMBER})
    | (?P<letters>(?:[^\W\d_]|')+)
    | (?P<symbol>[&+%@=\#$£€¢°])""",
    re.VERBOSE | re.IGNORECASE,
)
DOTTED = re.compile(r"(?:[^\W\d_]\.)+[^\W\d_]?\.?")


def read_aloud(word: str) -> list[str]:
    """The words, in letters only, that a word is said as; [] for mere punctuation."""
    if "." in word and DOTTED.fullmatch(word):
        return [letter for letter in word.lower() if letter != "."]
    abbreviation = abbreviations().get(word.lower().rstrip("."))
    if abbreviation and (word.endswith(".") or not abbreviation.needs_dot):
        return abbreviation.words.split()
    if word.isascii() and word.isalpha():
        return [word]  # as most are
    parts = []
    for token in TOKEN.finditer(word):
        kind = token.lastgroup if token.lastgroup != "sign" else "money"
        said = READERS[str(kind)](token.group())
        parts += said.replace("-", " ").split()
    return parts


class Abbreviation:
    """What an abbreviation is read as, and whether it is one only with its full stop (``no.``)."""

    def __init__(self, words: str, needs_dot: bool) -> None:
        self.words = words
        self.needs_dot = needs_dot


@cache
def abbreviations() -> dict[str, Abbreviation]:
    """Abbreviations in lower case without the last full stop."""
    table = tomllib.loads((files("rubric_kit.measures") / "data" / "abbreviations.toml").read_text("utf-8"))
    return {
        short: Abbreviation(words, needs_dot=kind == "with_full_stop")
        for kind, rows in table.items()
        for short, words in rows.items()
    }


def cardinal(number: int) -> str:
    """A whole number in words, without "and": 1492 is "one thousand four hundred ninety-two"."""
    for size, name in GROUPS:
        if number >= size:
            rest = number % size
            return f"{cardinal(number // size)} {name}" + (f" {cardinal(rest)}" if rest else "")
    if number < len(ONES):
        return ONES[number]
    tens, ones = divmod(number, 10)
    return TENS[tens] + (f"-{ONES[ones]}" if ones else "")


def ordinal(number: int) -> str:
    """21 is "twenty-first"."""
    head, mark, last = _split_last(cardinal(number))
    if last.endswith("y"):
        return f"{head}{mark}{last[:-1]}ieth"
    return f"{head}{mark}{ORDINALS.get(last, last + 'th')}"


def _split_last(words: str) -> tuple[str, str, str]:
    match = re.search(r"[ -](?=[a-z]+$)", words)
    return (words[: match.start()], match.group(), words[match.end() :]) if match else ("", "", words)


def _figure(figures: str) -> str:
    digits = figures.replace(",", "")
    if len(digits) > MOST_DIGITS or (len(digits) > 1 and digits[0] == "0"):
        return _digit_by_digit(digits)
    number = int(digits)
    if figures == digits and number in YEARS and not 2000 <= number < 2010:
        century, year = divmod(number, HUNDRED)
        if not year:
            return f"{cardinal(century)} hundred"
        return f"{cardinal(century)} {f'oh {cardinal(year)}' if year < 10 else cardinal(year)}"
    return cardinal(number)


def _digit_by_digit(digits: str) -> str:
    return " ".join(ONES[int(digit)] for digit in digits)


def _money(text: str) -> str:
    unit, cent = {"$": ("dollar", "cent"), "£": ("pound", "penny"), "€": ("euro", "cent")}[text[0]]
    whole, _, part = text[1:].partition(".")
    number = whole.replace(",", "")
    said = cardinal(int(number)) if len(number) <= MOST_DIGITS else _digit_by_digit(number)
    said += f" {unit}" if number == "1" else f" {unit}s"
    if len(part) == 2 and int(part):
        cents = "pence" if cent == "penny" and int(part) != 1 else cent if int(part) == 1 else f"{cent}s"
        said += f" and {cardinal(int(part))} {cents}"
    return said


def _time(text: str) -> str:
    hour, minute = (int(part) for part in text.split(":"))
    if not minute:
        return f"{cardinal(hour)} o'clock"
    return f"{cardinal(hour)} {f'oh {cardinal(minute)}' if minute < 10 else cardinal(minute)}"


def _fraction(text: str) -> str:
    above, below = (int(part[:MOST_DIGITS]) for part in text.split("/"))
    name = {2: "half", 4: "quarter"}.get(below) or ordinal(below)
    plural = "halves" if name == "half" else f"{name}s"
    return f"{cardinal(above)} {name if above == 1 else plural}"


def _ordinal(text: str) -> str:
    return ordinal(int(text[:-2].replace(",", "")[:MOST_DIGITS]))


def _decade(text: str) -> str:
    head, mark, last = _split_last(_figure(text.rstrip("sS'")))
    plural = f"{last[:-1]}ies" if last.endswith("y") else f"{last}es" if last.endswith("x") else f"{last}s"
    return f"{head}{mark}{plural}"


def _decimal(text: str) -> str:
    whole, _, part = text.partition(".")
    return f"{cardinal(int(whole.replace(',', '')[:MOST_DIGITS]))} point {_digit_by_digit(part)}"


SYMBOLS = {"&": "and", "+": "plus", "%": "percent", "@": "at", "=": "equals", "#": "number"}
SYMBOLS |= {"$": "dollar", "£": "pound", "€": "euro", "¢": "cents", "°": "degrees"}
READERS: dict[str, Callable[[str], str]] = {
    "money": _money,
    "time": _time,
    "fraction": _fraction,
    "ordinal": _ordinal,
    "decade": _decade,
    "decimal": _decimal,
    "number": _figure,
    "letters": lambda text: text.strip("'") and text,
    "symbol": SYMBOLS.__getitem__,
}
