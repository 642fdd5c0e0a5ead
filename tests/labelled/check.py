"""Check that every label of the essays in a folder fits its text: ``python tests/labelled/check.py FOLDER``.

An error means that a label cannot be right; a note asks for a second look. Exit code 1 where there are errors.
"""

from __future__ import annotations

import re
import sys
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

FORMS = {"paragraph", "three-paragraph", "five-paragraph", "narrative"}
ROLES = {"introduction", "body", "conclusion", "other"}
CRITERIA = {"focus", "organization", "evidence", "sentences", "conventions"}
LABELS = {
    "grade": int,
    "form": str,
    "about": str,
    "text": str,
    "roles": list,
    "hook": str,
    "thesis": str,
    "topic_sentences": list,
    "evidence": list,
    "restated_thesis": str,
    "new_claims": list,
    "transitions": list,
    "misspellings": list,
    "run_ons": list,
    "fragments": list,
    "capitals": list,
    "repeated_words": list,
    "levels": dict,
}
GRADES = range(3, 10)
LEVELS = range(1, 5)
HEADING_WORDS = 10  # the longest title or heading line in these essays has fewer words
WRAPPED = range(50, 91)  # characters in a line of a hard-wrapped paragraph that goes on below
SENTENCE_START = re.compile(r"""(^|\n|[.?!…]["”'’)]*\s)\s*$""")
SENTENCE_END = re.compile(r"""[.?!…]["”'’)]*$""")


def main(folder: Path) -> int:
    paths = sorted(folder.glob("*.toml"))
    failed = False
    for path in paths:
        essay = tomllib.loads(path.read_text("utf-8"))
        errors = check_keys(essay) or [*check_values(essay), *check_sentences(essay), *check_words(essay)]
        failed |= bool(errors)
        for line in errors or [f"note: {note}" for note in notes(essay)]:
            print(f"{path.name}: {line}")
    print(f"{len(paths)} essays in {folder}, {'with errors' if failed else 'no errors'}")
    return int(failed or not paths)


def check_keys(essay: dict[str, Any]) -> list[str]:
    errors = [f"no '{key}'" for key in LABELS if key not in essay]
    errors += [f"'{key}' is no label" for key in essay if key not in LABELS]
    return errors + [
        f"'{key}' is not of type {kind.__name__}"
        for key, kind in LABELS.items()
        if key in essay and not isinstance(essay[key], kind)
    ]


def check_values(essay: dict[str, Any]) -> list[str]:
    errors = []
    if essay["form"] not in FORMS:
        errors.append(f"form {essay['form']!r} is none of {sorted(FORMS)}")
    if essay["grade"] not in GRADES:
        errors.append(f"grade {essay['grade']} is outside 3 to 9")
    if set(essay["levels"]) != CRITERIA or any(level not in LEVELS for level in essay["levels"].values()):
        errors.append(f"levels must give 1 to 4 for each of {sorted(CRITERIA)}")
    errors += [f"role {role!r} is none of {sorted(ROLES)}" for role in essay["roles"] if role not in ROLES]
    blocks = paragraphs(essay["text"])
    if len(blocks) != len(essay["roles"]):
        starts = [block[:30] for block in blocks]
        errors.append(f"{len(essay['roles'])} roles for {len(blocks)} paragraphs: {starts}")
    bodies = essay["roles"].count("body")
    if len(essay["topic_sentences"]) != bodies:
        errors.append(f"{len(essay['topic_sentences'])} topic sentences for {bodies} body paragraphs")
    return errors


def check_sentences(essay: dict[str, Any]) -> list[str]:
    """Each stands in the text exactly once; all but evidence (which may be a clause) are whole sentences."""
    whole = [essay["hook"], essay["thesis"], essay["restated_thesis"], *essay["topic_sentences"]]
    whole += [*essay["new_claims"], *essay["run_ons"], *essay["fragments"]]
    errors = []
    for label in [*whole, *essay["evidence"]]:
        found = essay["text"].count(label)
        if label and found != 1:
            errors.append(f"stands {found} times in the text: {label!r}")
    for label in filter(None, whole):
        before, _, after = essay["text"].partition(label)
        ended = SENTENCE_END.search(label) or not after or after.startswith("\n")
        if not SENTENCE_START.search(before) or not ended:
            errors.append(f"is no whole sentence: {label!r}")
    return errors


def check_words(essay: dict[str, Any]) -> list[str]:
    """Words are listed as they stand, in the order of the text."""
    errors = []
    for name, labels in word_labels(essay).items():
        place = 0
        for label in labels:
            found = whole_word(label).search(essay["text"], place)
            if found:
                place = found.end()
            else:
                errors.append(f"{name}: {label!r} is not in the text, or not in this order")
    errors += [f"misspellings: {pair} is no pair of two forms" for pair in essay["misspellings"] if not is_pair(pair)]
    return errors


def notes(essay: dict[str, Any]) -> list[str]:
    return [
        f"{name}: {label!r} is labelled {times} of the {found} times it is in the text"
        for name, labels in word_labels(essay).items()
        for label, times in Counter(labels).items()
        if (found := len(whole_word(label).findall(essay["text"]))) > times
    ]


def word_labels(essay: dict[str, Any]) -> dict[str, list[str]]:
    return {
        "transitions": essay["transitions"],
        "misspellings": [pair[0] for pair in essay["misspellings"]],
        "capitals": essay["capitals"],
        "repeated_words": essay["repeated_words"],
    }


def whole_word(label: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w'’]){re.escape(label)}(?!\w|['’]\w)")


def is_pair(pair: Any) -> bool:
    return isinstance(pair, list) and len(pair) == len(set(pair)) == 2 and all(isinstance(form, str) for form in pair)


def paragraphs(text: str) -> list[str]:
    """Blocks by blank line, indent, or a new line that is no hard wrap, without the heading block and the title."""
    blocks: list[str] = []
    previous = ""
    for line in text.splitlines():
        if not line.strip():
            previous = ""
        elif previous and not line[0].isspace() and len(previous) in WRAPPED:
            blocks[-1] += f"\n{line}"
            previous = line
        else:
            blocks.append(line)
            previous = line
    while blocks and len(blocks[0].split()) < HEADING_WORDS and not blocks[0].rstrip().endswith("."):
        del blocks[0]
    return blocks


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: python tests/labelled/check.py FOLDER")
    sys.exit(main(Path(sys.argv[1])))
