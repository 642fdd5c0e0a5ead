"""Rubric files: the shipped ones by name, a parent's own by path; what is wrong in one, at which line, and the fix."""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Collection, Mapping, Sequence
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any, NoReturn

from rubric_kit.errors import RubricFileError
from rubric_kit.measures.measured import FAMILIES
from rubric_kit.reading.files import printable
from rubric_kit.scoring.advice import advice
from rubric_kit.scoring.rubric import GRADES, LEVELS, Criterion, LookFor, Rubric

FORMS = ("paragraph", "three-paragraph", "five-paragraph", "narrative")
LARGEST = 1_000_000  # bytes; the shipped rubrics have about 6,000
WHOLE = 100  # what the criteria's weights add up to
SLACK = 0.01  # so that thirds written as 33.3 pass
BEYOND = 1e9  # no measure, weight or percent comes near
RISING, FALLING = "rising", "falling"
TOP = ("name", "form", "version", "default_grade", "paragraphs", "percent", "letters", "criterion")
OF_CRITERION = ("name", "weight", "not_judged", *map(str, LEVELS), "look_for")
HEAD = re.compile(r"""\s*\[\[?[\w\s."'-]+\]\]?\s*(?:#.*)?$""")
HEAD_NAME = re.compile(r"[\[\]\s\"']")
NUMBERS = "four numbers, for levels 1, 2, 3 and 4, all rising or all falling, such as [0.2, 0.5, 0.8, 1.0]"


def shipped(form: str) -> str:
    """The text of the shipped rubric for a form (KeyError for an unknown one)."""
    if form not in FORMS:
        raise KeyError(form)
    return (files("rubric_kit.rubrics") / f"{form}.toml").read_text("utf-8")


@cache
def load_form(form: str) -> Rubric:
    """The shipped rubric for a form.

    Raises RubricFileError for a form that is not shipped.
    """
    if form not in FORMS:
        raise RubricFileError(f"There is no form '{form}'. Choose one of: {', '.join(FORMS)}.")
    return parse_rubric(shipped(form), f"{form}.toml")


def load_file(path: str | os.PathLike[str]) -> Rubric:
    """A parent's own rubric.

    Raises RubricFileError when it cannot be read or used, with the line and the fix.
    """
    name = printable(Path(path).name)
    try:
        if not Path(path).is_file():  # reading a pipe or a device could wait for ever
            raise RubricFileError(f"{name}: there is no such file. Check the name and the folder.")
        with open(path, "rb") as file:
            raw = file.read(LARGEST + 1)
    except OSError as error:
        raise RubricFileError(f"{name}: the rubric cannot be opened ({error.strerror}). Check the name.") from error
    if len(raw) > LARGEST:
        raise RubricFileError(f"{name}: too large for a rubric. Start from a copy: rubric-kit rubric copy.")
    try:
        return parse_rubric(raw.decode("utf-8-sig"), name)
    except UnicodeDecodeError as error:
        raise RubricFileError(f"{name}: not plain text in UTF-8. Save it again as plain text (UTF-8).") from error


def parse_rubric(text: str, name: str) -> Rubric:
    """The rubric in a text; ``name`` is what errors call the file.

    Raises RubricFileError with the line and the fix.
    """
    if not text.strip():
        raise RubricFileError(f"{name}, line 1: there is nothing in it. Start from a copy: rubric-kit rubric copy.")
    try:
        table = tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # also numbers of thousands of digits, brackets within brackets
        at = re.search(r"line (\d+)", str(error))
        line = at[1] if at else len(text.splitlines())  # "at end of document" names no line
        what = str(error).partition(" (at")[0]
        raise RubricFileError(
            f"{name}, line {line}: not written as TOML ({what}). Compare the line with a shipped rubric."
        ) from error
    return _Reader(text, name).rubric(table)


class _Reader:
    """Checks a parsed table piece by piece; knows the text, to name the line of what is wrong."""

    def __init__(self, text: str, name: str) -> None:
        self.lines = text.splitlines()
        self.name = name

    def rubric(self, table: dict[str, Any]) -> Rubric:
        criteria = self.entry(table, "criterion", dict, "at least one [criterion.NAME] table")
        if not criteria:
            self.fail("", "there is no criterion. Add a [criterion.NAME] table", "criterion")
        self.only(table, TOP)
        read = tuple(self.criterion(key, part) for key, part in criteria.items())
        total = sum(c.weight for c in read)
        if abs(total - WHOLE) > SLACK * len(read):
            first = f"criterion.{next(iter(criteria))}"
            self.fail("weight", f"the criteria's weights add up to {total:g}, not 100. Change one 'weight'", first)
        form = self.entry(table, "form", str, "one of: " + ", ".join(FORMS))
        if form not in FORMS:
            self.fail("form", f"'form' is '{form}'. Choose one of: {', '.join(FORMS)}")
        return Rubric(
            name=self.entry(table, "name", str, "a name in quotes"),
            form=form,
            version=self.entry(table, "version", int, "a whole number"),
            default_grade=self.grade(self.entry(table, "default_grade", int, "a grade from 3 to 9"), "default_grade"),
            paragraphs=self.paragraphs(table),
            percent=self.percent(table),
            letters=self.letters(table),
            criteria=read,
            source=self.name,
        )

    def criterion(self, key: str, table: Any) -> Criterion:
        where = f"criterion.{key}"
        if not isinstance(table, dict):
            self.fail(key, f"'{key}' must be a table of its own, [{where}]", "criterion")
        self.only(table, OF_CRITERION, where)
        weight = self.entry(table, "weight", float, "a number above 0", where)
        if not 0 < weight <= WHOLE:
            self.fail("weight", f"the weight is {weight:g}. Give a number above 0, up to 100", where)
        looks = self.entry(table, "look_for", list, f"at least one [[{where}.look_for]] table", where)
        if not looks:
            self.fail("look_for", f"there is nothing to look for. Add a [[{where}.look_for]] table", where)
        return Criterion(
            key=key,
            name=self.entry(table, "name", str, "a name in quotes", where),
            weight=weight,
            descriptors={
                n: self.entry(table, str(n), str, f"a descriptor for level {n} in quotes", where) for n in LEVELS
            },
            not_judged=self.entry(table, "not_judged", str, "a few words in quotes", where),
            look_for=tuple(self.look_for(f"{where}.look_for", nth, part) for nth, part in enumerate(looks)),
        )

    def look_for(self, where: str, nth: int, table: Any) -> LookFor:
        measure = self.entry(table, "measure", str, "the name of a measure in quotes", where, nth)
        if measure not in _measures():
            near = get_close_matches(measure, _measures(), n=3, cutoff=0.5)
            like = f"Did you mean {' or '.join(near)}? " if near else ""
            self.fail(
                "measure", f"there is no measure '{measure}'. {like}All are listed by: rubric-kit rubric measures",
                where, nth,
            )  # fmt: skip
        weight = self.entry(table, "weight", float, "a number above 0", where, nth)
        if weight <= 0:
            self.fail("weight", f"the weight of '{measure}' is {weight:g}. Give a number above 0", where, nth)
        expected = {}
        for entry, values in table.items():
            if match := re.fullmatch(r"grade_(\d+)", entry):
                grade = self.grade(int(match[1][:3]), entry, where, nth)
                expected[grade] = self.values(measure, entry, values, where, nth)
            elif entry not in ("measure", "weight"):
                known = "measure, weight and grade_4, grade_8 and so on"
                self.fail(entry, f"'{entry}' is not known here. Use {known}", where, nth)
        if not expected:
            self.fail("measure", f"'{measure}' has no grade_N line. Add one: {NUMBERS}", where, nth)
        look = LookFor(measure, weight, expected)
        ways = {grade: _way(look.at_grade(grade)) for grade in GRADES}
        off = next((grade for grade, way in ways.items() if way != ways[min(expected)] or not way), None)
        if off is not None:
            self.fail(
                f"grade_{off if off in expected else max(expected)}",
                f"the numbers for '{measure}' at grade {off} do not go the way of those at grade {min(expected)}. "
                f"Let every line rise, or every line fall, or add a line grade_{off}",
                where, nth,
            )  # fmt: skip
        return look

    def values(self, measure: str, entry: str, values: Any, where: str, nth: int) -> tuple[float, float, float, float]:
        numbers = isinstance(values, list) and len(values) == len(LEVELS) and all(_is_number(v) for v in values)
        if not numbers or not _way(values):
            self.fail(entry, f"'{entry}' of '{measure}' must be {NUMBERS}", where, nth)
        one, two, three, four = (float(v) for v in values)
        return one, two, three, four

    def paragraphs(self, table: dict[str, Any]) -> tuple[int, int]:
        values = self.entry(table, "paragraphs", list, "the fewest and the most, such as [5, 5]")
        if len(values) != 2 or not all(type(v) is int and v > 0 for v in values) or values[0] > values[1]:
            self.fail("paragraphs", "'paragraphs' must be the fewest and the most, such as [5, 5]")
        return values[0], values[1]

    def percent(self, table: dict[str, Any]) -> Mapping[int, float]:
        part = self.entry(table, "percent", dict, "a [percent] table with lines for 1, 2, 3 and 4")
        worth = {n: self.entry(part, str(n), float, f"what level {n} is worth out of 100", "percent") for n in LEVELS}
        values = list(worth.values())
        self.only(part, [str(n) for n in LEVELS], "percent")
        if _way(values) != RISING or values[0] < 0 or values[-1] > WHOLE:
            self.fail("1", "the percents must rise from level 1 to level 4, between 0 and 100", "percent")
        return worth

    def letters(self, table: dict[str, Any]) -> tuple[tuple[float, str], ...]:
        part = self.entry(table, "letters", dict, 'a [letters] table with lines such as "A" = 93')
        pairs = [(self.entry(part, letter, float, "the least percent for it", "letters"), letter) for letter in part]
        if not pairs:
            self.fail("", 'there is no letter. Add lines such as "A" = 93', "letters")
        if len({least for least, _ in pairs}) < len(pairs):
            self.fail("", "two letters begin at the same percent. Change one", "letters")
        return tuple(sorted(pairs, reverse=True))

    def grade(self, grade: int, entry: str, where: str = "", nth: int = 0) -> int:
        if grade not in GRADES:
            what = f"'{entry}' names grade {grade}. Give a grade from {GRADES[0]} to {GRADES[-1]}"
            self.fail(entry, what, where, nth)
        return grade

    def entry(self, table: Any, key: str, kind: type, wanted: str, where: str = "", nth: int = 0) -> Any:
        inside = f" in [{where}]" if where else ""
        if not isinstance(table, dict) or key not in table:
            self.fail("", f"'{key}' is missing{inside}. Add it: {wanted}", where, nth)
        value = table[key]
        if kind is float and _is_number(value):
            return float(value)
        if not isinstance(value, kind) or isinstance(value, bool) or kind is float:
            self.fail(key, f"'{key}'{inside} must be {wanted}", where, nth)
        return value

    def only(self, table: dict[str, Any], known: Collection[str], where: str = "") -> None:
        for key in table:
            if key not in known:
                self.fail(key, f"'{key}' is not known here. Use {', '.join(known)}", where)

    def fail(self, key: str, problem: str, table: str = "", nth: int = 0) -> NoReturn:
        raise RubricFileError(printable(f"{self.name}, line {self.line(key, table, nth)}: {problem}."))

    def line(self, key: str, table: str, nth: int) -> int:
        """The line (from 1) of a key in the nth table of that name (from 0), else of the table's head, else 1."""
        heads = [i for i, line in enumerate(self.lines) if HEAD.match(line)]
        named = [i for i in heads if HEAD_NAME.sub("", self.lines[i].partition("#")[0]) == table]
        at = named[min(nth, len(named) - 1)] if named else -1
        end = next((i for i in heads if i > at), len(self.lines))
        own = re.compile(rf"""\s*["']?{re.escape(key)}["']?\s*[=.]""")
        within = (i for i in range(at + 1, end) if key and own.match(self.lines[i]))
        child = (i for i in heads if key and HEAD_NAME.sub("", self.lines[i]).startswith(f"{table}.{key}".lstrip(".")))
        return next(within, next(child, max(at, 0))) + 1


@cache
def _measures() -> tuple[str, ...]:
    """The measures that a rubric may look for: those that there is something to say about."""
    return tuple(sorted({name for table in FAMILIES.values() for name in table} & advice().keys()))


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < BEYOND


def _way(values: Sequence[float]) -> str:
    """Whether numbers rise or fall all the way; "" for neither."""
    if all(low < high for low, high in pairwise(values)):
        return RISING
    return FALLING if all(high > low for high, low in pairwise(values)) else ""
