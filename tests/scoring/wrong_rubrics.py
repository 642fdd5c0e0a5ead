"""A rubric file and ways in which it can be wrong.

python tests/scoring/wrong_rubrics.py    # after a change of words that was meant: keeps anew what is said of each
"""

from __future__ import annotations

from pathlib import Path

from rubric_kit.errors import RubricFileError
from rubric_kit.scoring.rubric_file import parse_rubric

KEPT = Path(__file__).parent / "kept" / "rubric_messages.txt"

GOOD = """\
name = "my rubric"
form = "paragraph"
version = 2
default_grade = 5
paragraphs = [1, 2]

[percent]
1 = 60
2 = 70
3 = 85
4 = 100

[letters]
"A" = 90
"B" = 80
"C" = 0

[criterion.point]
name = "the point"
weight = 60
not_judged = "truth"
1 = "none"
2 = "hinted"
3 = "said"
4 = "said well"

[[criterion.point.look_for]]
measure = "thesis_found"
weight = 2
grade_4 = [0.2, 0.5, 0.8, 1.0]

[[criterion.point.look_for]]
measure = "length"
weight = 1
grade_4 = [20, 40, 60, 80]
grade_8 = [40, 80, 120, 160]

[criterion.care]
name = "care"
weight = 40
not_judged = "neatness"
1 = "no"
2 = "some"
3 = "much"
4 = "all"

[[criterion.care.look_for]]
measure = "misspellings_per_100_words"
weight = 1
grade_5 = [6, 4, 2, 0]
"""

# What is replaced (the nth time it stands there), by what, which line is named, and what the message says.
WRONG = {
    "no TOML": ('name = "my rubric"', "name = my rubric", 1, "not written as TOML"),
    "an open string": ('form = "paragraph"', 'form = "paragraph', 2, "not written as TOML"),
    "an open bracket": ("grade_5 = [6, 4, 2, 0]", "grade_5 = [6, 4, 2, 0", 50, "not written as TOML"),
    "a doubled key": ("version = 2", "version = 2\nversion = 3", 4, "not written as TOML"),
    "a doubled table": ("[criterion.care]", "[criterion.point]", 38, "not written as TOML"),
    "a word for a number": ("version = 2", 'version = "two"', 3, "'version' must be a whole number"),
    "yes for a number": ("version = 2", "version = true", 3, "'version' must be a whole number"),
    "a number for a name": ('name = "my rubric"', "name = 7", 1, "'name' must be a name in quotes"),
    "no name": ('name = "my rubric"\n', "", 1, "'name' is missing"),
    "an unknown form": ('form = "paragraph"', 'form = "poem"', 2, "Choose one of: paragraph"),
    "grade too high": ("default_grade = 5", "default_grade = 12", 4, "a grade from 3 to 9"),
    "grade too low": ("default_grade = 5", "default_grade = 2", 4, "a grade from 3 to 9"),
    "one number of paragraphs": ("paragraphs = [1, 2]", "paragraphs = [1]", 5, "the fewest and the most"),
    "paragraphs turned about": ("paragraphs = [1, 2]", "paragraphs = [2, 1]", 5, "the fewest and the most"),
    "yes for paragraphs": ("paragraphs = [1, 2]", "paragraphs = [true, 2]", 5, "the fewest and the most"),
    "no percent": ("[percent]\n1 = 60\n2 = 70\n3 = 85\n4 = 100\n", "", 1, "'percent' is missing"),
    "a percent short": ("4 = 100\n", "", 7, "'4' is missing in [percent]"),
    "a fifth level": ("4 = 100", "4 = 99\n5 = 100", 12, "'5' is not known here"),
    "percents that fall": ("2 = 70", "2 = 50", 8, "the percents must rise"),
    "a percent below 0": ("1 = 60", "1 = -1", 8, "between 0 and 100"),
    "a percent above 100": ("4 = 100", "4 = 101", 8, "between 0 and 100"),
    "a percent in words": ("3 = 85", '3 = "85"', 10, "'3' in [percent] must be"),
    "no letters": ('"A" = 90\n"B" = 80\n"C" = 0\n', "", 13, "there is no letter"),
    "two letters at one percent": ('"B" = 80', '"B" = 90', 13, "two letters begin at the same percent"),
    "a letter in words": ('"B" = 80', '"B" = "eighty"', 15, "'B' in [letters] must be"),
    "weights short of 100": ("weight = 60", "weight = 50", 20, "add up to 90, not 100"),
    "a weight of nothing": ("weight = 60", "weight = 0", 20, "Give a number above 0"),
    "a weight beyond": ("weight = 60", "weight = 160", 20, "Give a number above 0, up to 100"),
    "a weight that is no number": ("weight = 60", "weight = nan", 20, "must be a number above 0"),
    "an endless weight": ("weight = 60", "weight = inf", 20, "must be a number above 0"),
    "a weight of 400 digits": ("weight = 60", f"weight = {'9' * 400}", 20, "must be a number above 0"),
    "a weight of 5000 digits": ("weight = 60", f"weight = {'9' * 5000}", None, "not written as TOML"),
    "a descriptor short": ('3 = "much"\n', "", 38, "'3' is missing in [criterion.care]"),
    "a descriptor of numbers": ('3 = "much"', "3 = 3", 44, "a descriptor for level 3"),
    "nothing said of judging": ('not_judged = "neatness"\n', "", 38, "'not_judged' is missing"),
    "an unknown key above": ("version = 2", "version = 2\nauthor = 'me'", 4, "'author' is not known here"),
    "an unknown key in a criterion": ('1 = "no"', '1 = "no"\nnotes = "mine"', 43, "'notes' is not known here"),
    "an unknown key to look for": ("grade_5 = ", "grade5 = ", 50, "Use measure, weight and grade_4"),
    "an unknown measure": ('"length"', '"lenght"', 33, "there is no measure 'lenght'. Did you mean length"),
    "a measure of nothing like": ('"length"', '"qqq"', 33, "rubric-kit rubric measures"),
    "no measure": ('measure = "length"\n', "", 32, "'measure' is missing in [criterion.point.look_for]"),
    "a look without weight": ("weight = 1\ngrade_4", "grade_4", 32, "'weight' is missing"),
    "a look of negative weight": ("weight = 1\ngrade_5", "weight = -1\ngrade_5", 49, "Give a number above 0"),
    "a look without a row": ("grade_5 = [6, 4, 2, 0]\n", "", 48, "has no grade_N line"),
    "three numbers": ("[20, 40, 60, 80]", "[20, 40, 60]", 35, "four numbers"),
    "a word among numbers": ("[20, 40, 60, 80]", '[20, 40, "60", 80]', 35, "four numbers"),
    "a row that turns": ("[40, 80, 120, 160]", "[40, 80, 60, 160]", 36, "all rising or all falling"),
    "a row that stands": ("[40, 80, 120, 160]", "[40, 80, 80, 160]", 36, "all rising or all falling"),
    "rows of two ways": ("[40, 80, 120, 160]", "[160, 120, 80, 40]", 36, "Let every line rise"),
    "rows that cross later": ("[40, 80, 120, 160]", "[60, 61, 62, 63]", 36, "add a line grade_9"),
    "a row for grade 12": ("grade_8", "grade_12", 36, "a grade from 3 to 9"),
    "a row for an endless grade": ("grade_8", f"grade_{'8' * 5000}", 36, "a grade from 3 to 9"),
    "a criterion that is no table": ("[criterion.care]", "[criterion]\nsense = 3\n[criterion.care]", 39, "a table"),
    "a look that is no table": ("[[criterion.care.look_for]]", "[criterion.care.look_for]", 47, "at least one"),
}  # fmt: skip


def messages() -> str:
    """What is said of each, a line for each; what Python says of wrong TOML is left out, as it goes by its version."""
    cases = {case: row for case, row in WRONG.items() if "TOML" not in row[3] and "endless grade" not in case}
    return "".join(f"{case}: {_message(old, new)}\n" for case, (old, new, *_) in cases.items())


def _message(old: str, new: str) -> str:
    try:
        parse_rubric(GOOD.replace(old, new, 1), "mine.toml")
    except RubricFileError as error:
        return str(error)
    return "nothing"


if __name__ == "__main__":
    KEPT.write_text(messages(), "utf-8")
