"""Rubric files: the shipped ones by name, a parent's own by path; what is wrong in one, at which line, and the fix."""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Mapping
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any

from rubric_kit.errors import RubricFileError
from rubric_kit.scoring.rubric import GRADES, LEVELS, Criterion, LookFor, Rubric

FORMS = ("paragraph", "three-paragraph", "five-paragraph", "narrative")
LARGEST = 1_000_000  # bytes; the shipped rubrics have about 6,000
WHOLE = 100  # what the criteria's weights add up to
SLACK = 0.01  # so that thirds written as 33.3 pass
NUMBERS = "four numbers, for levels 1, 2, 3 and 4, all rising or all falling, such as [0.2, 0.5, 0.8, 1.0]"


def shipped(form: str) -> str:
    """The text of the shipped rubric for a form (KeyError for an unknown one)."""
    if form not in FORMS:
        raise KeyError(form)
    return (files("rubric_kit.rubrics") / f"{form}.toml").read_text("utf-8")


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
    name = Path(path).name
    try:
        raw = Path(path).read_bytes()[: LARGEST + 1]
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
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
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
            self.fail("[criterion", "there is no criterion. Add a [criterion.NAME] table")
        read = tuple(self.criterion(key, part) for key, part in criteria.items())
        total = sum(c.weight for c in read)
        if abs(total - WHOLE) > SLACK * len(read):
            self.fail(
                "weight", f"the criteria's weights add up to {total:g}, not 100. Change one 'weight'", table="criterion"
            )
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
            self.fail(key, f"'{key}' must be a table of its own, [{where}]", table="criterion")
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
            look_for=tuple(self.look_for(key, part) for part in looks),
        )

    def look_for(self, key: str, table: Any) -> LookFor:
        where = f"criterion.{key}.look_for"
        measure = self.entry(table, "measure", str, "the name of a measure in quotes", where)
        weight = self.entry(table, "weight", float, "a number above 0", where)
        if weight <= 0:
            self.fail("weight", f"the weight of '{measure}' is {weight:g}. Give a number above 0", where)
        expected = {}
        for entry, values in table.items():
            if match := re.fullmatch(r"grade_(\d+)", entry):
                expected[self.grade(int(match[1]), entry, where)] = self.values(measure, entry, values, where)
            elif entry not in ("measure", "weight"):
                self.fail(
                    entry, f"'{entry}' is not known here. Use measure, weight and grade_4, grade_8 and so on", where
                )
        if not expected:
            self.fail("measure", f"'{measure}' has no grade_N line. Add one: {NUMBERS}", where)
        return LookFor(measure, weight, expected)

    def values(self, measure: str, entry: str, values: Any, where: str) -> tuple[float, float, float, float]:
        numbers = isinstance(values, list) and len(values) == len(LEVELS) and all(_is_number(v) for v in values)
        if not numbers or not (_rises(values) or _rises(values[::-1])):
            self.fail(entry, f"'{entry}' of '{measure}' must be {NUMBERS}", where)
        one, two, three, four = (float(v) for v in values)
        return one, two, three, four

    def paragraphs(self, table: dict[str, Any]) -> tuple[int, int]:
        values = self.entry(table, "paragraphs", list, "the fewest and the most, such as [5, 5]")
        if len(values) != 2 or not all(isinstance(v, int) and v > 0 for v in values) or values[0] > values[1]:
            self.fail("paragraphs", "'paragraphs' must be the fewest and the most, such as [5, 5]")
        return values[0], values[1]

    def percent(self, table: dict[str, Any]) -> Mapping[int, float]:
        part = self.entry(table, "percent", dict, "a [percent] table with lines for 1, 2, 3 and 4")
        worth = {n: self.entry(part, str(n), float, f"what level {n} is worth out of 100", "percent") for n in LEVELS}
        values = list(worth.values())
        if not _rises(values) or values[0] < 0 or values[-1] > WHOLE:
            self.fail("1", "the percents must rise from level 1 to level 4, between 0 and 100", "percent")
        return worth

    def letters(self, table: dict[str, Any]) -> tuple[tuple[float, str], ...]:
        part = self.entry(table, "letters", dict, 'a [letters] table with lines such as "A" = 93')
        pairs = [(self.entry(part, letter, float, "the least percent for it", "letters"), letter) for letter in part]
        if not pairs:
            self.fail("[letters", 'there is no letter. Add lines such as "A" = 93')
        if len({least for least, _ in pairs}) < len(pairs):
            self.fail("[letters", "two letters begin at the same percent. Change one")
        return tuple(sorted(pairs, reverse=True))

    def grade(self, grade: int, entry: str, where: str = "") -> int:
        if grade not in GRADES:
            self.fail(entry, f"'{entry}' names grade {grade}. Give a grade from {GRADES[0]} to {GRADES[-1]}", where)
        return grade

    def entry(self, table: Any, key: str, kind: type, wanted: str, where: str = "") -> Any:
        inside = f" in [{where}]" if where else ""
        if not isinstance(table, dict) or key not in table:
            self.fail(f"[{where}" if where else "", f"'{key}' is missing{inside}. Add it: {wanted}")
        value = table[key]
        if kind is float and _is_number(value):
            return float(value)
        if not isinstance(value, kind) or isinstance(value, bool):
            self.fail(key, f"'{key}'{inside} must be {wanted}", where)
        return value

    def fail(self, key: str, problem: str, table: str = "") -> Any:
        raise RubricFileError(f"{self.name}, line {self.line(key, table)}: {problem}.")

    def line(self, key: str, table: str) -> int:
        """The line (from 1) of a key within a table, or of the table, or 1."""
        at = 0
        if table:
            at = next((i for i, line in enumerate(self.lines) if line.strip().lstrip("[").startswith(table)), 0)
        pattern = re.compile(
            rf'\s*"?{re.escape(key)}"?\s*(?:=|\]|\.|$)' if not key.startswith("[") else rf"\s*\[?{re.escape(key)}"
        )
        return next((i + 1 for i in range(at, len(self.lines)) if pattern.match(self.lines[i])), at + 1)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < float("inf")


def _rises(values: list[float]) -> bool:
    return all(low < high for low, high in pairwise(values))
