"""Real words that stand for others beside certain words: "I cold not", "best fiend", "an then"."""

from __future__ import annotations

from collections import defaultdict
from functools import cache
from typing import NamedTuple

from rubric_kit.measures.spelling.known import table_rows

ANY = "-"


class Rule(NamedTuple):
    """What is meant where the word before and the word after are among these (None: any), and the one before is not."""

    meant: str
    before: frozenset[str] | None
    after: frozenset[str] | None
    not_before: frozenset[str]


def meant_here(word: str, before: str, after: str) -> str | None:
    """The word that is meant, or None where ``word`` may be right; all in plain small letters, "" for no neighbour."""
    for rule in _rules().get(word, ()):
        if before in rule.not_before:
            continue
        if (rule.before is None or before in rule.before) and (rule.after is None or after in rule.after):
            return rule.meant
    return None


def has_rules(word: str) -> bool:
    """May ``meant_here`` have something to say of this word, in plain small letters?"""
    return word in _rules()


@cache
def _rules() -> dict[str, list[Rule]]:
    lists: dict[str, str] = {}
    rules = defaultdict(list)
    for row in table_rows("in_context.tsv"):
        columns = row.split("\t")
        if row.startswith("$"):
            lists[columns[0]] = columns[1]
            continue
        written, meant, before, after, not_before = (_spelled_out(column, lists) for column in columns)
        rules[" ".join(written)].append(Rule(" ".join(meant), _some(before), _some(after), frozenset(not_before)))
    return dict(rules)


def _spelled_out(column: str, lists: dict[str, str]) -> list[str]:
    return [word for part in column.split() for word in lists.get(part, part).split()]


def _some(words: list[str]) -> frozenset[str] | None:
    return None if words == [ANY] else frozenset(words)
