"""Every regular expression of the package, with how it is used, and texts on which a careless one takes for ever."""

from __future__ import annotations

import ast
import os
import re
import sys
from collections.abc import Iterable, Iterator
from importlib import import_module
from pathlib import Path
from re import _constants as code  # type: ignore[attr-defined]
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any

import rubric_kit

ROOT = Path(rubric_kit.__file__).parent
AT_ONE_PLACE = frozenset({"match", "fullmatch"})
ALL_ALONG = frozenset({"sub", "subn", "search", "findall", "finditer", "split"})
USES = AT_ONE_PLACE | ALL_ALONG
Place = tuple[str, int]  # a file below ROOT, and the line on which a call begins

# Units of text that come again and again, beside those made from the pattern itself.
UNITS = (
    "a", " ", "\t", "\n", "-", "'", ".", "1", "(", '"', "a ", "A ", "a.", "a-", "1.", ". ", '"a', 'a" ', "A. ", "a@",
    "www.", "[1", "a, ", "  a", " .", "’", "“a”", "a\n", "- a\n", "\n\n", "#", "*a", "_", "!?", "<", "[a](", "![",
    "---\n", "...", "! ", "it's ", "I ", "é", "\u00a0", "\u200d", "<!--", "\\", "{", "haha", "a@b.c", "Mr. ", "and ",
)  # fmt: skip
ENDS = ("", "\0", "!\n")
MOST_PUMPS = 40  # of one pattern; the long lists of phrases have hundreds that are alike


def written() -> dict[Place, re.Pattern[str] | None]:
    """Where the package calls a function of ``re`` that takes a pattern; the pattern, where it stands there in full."""
    places: dict[Place, re.Pattern[str] | None] = {}
    for file, tree in _trees():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and (function := _of_re(node.func)):
                first = node.args[0]
                in_full = isinstance(first, ast.Constant) and function != "compile"  # what is compiled is caught
                places[file, node.lineno] = re.compile(ast.literal_eval(first)) if in_full else None
    return places


def uses() -> dict[Place, frozenset[str]]:
    """How each pattern is used: by the method called on its name, wherever that is; else, in a loop, all along."""
    named: dict[str, set[Place]] = {}
    methods: dict[str, set[str]] = {}
    found: dict[Place, frozenset[str]] = {}
    for file, tree in _trees():
        for node in ast.walk(tree):
            if isinstance(node, ast.Assign) and isinstance(node.value, ast.Call):
                if _of_re(node.value.func) == "compile" and isinstance(node.targets[0], ast.Name):
                    named.setdefault(node.targets[0].id, set()).add((file, node.value.lineno))
            elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.attr in USES:
                methods.setdefault(node.value.id, set()).add(node.attr)
            if isinstance(node, ast.Call) and (how := _of_re(node.func)) in USES:
                found[file, node.lineno] = frozenset({how})
    for name, places in named.items():
        found |= dict.fromkeys(places, frozenset(methods.get(name, ALL_ALONG)))
    return found


def compiled() -> dict[Place, set[re.Pattern[str]]]:
    """The patterns that importing every module compiles, and that its cached functions without arguments make.

    To be called in a process of its own, in which no part of the package has been imported.
    """
    found: dict[Place, set[re.Pattern[str]]] = {}
    whole = re._compile  # type: ignore[attr-defined]  # every function of re goes through it

    def compile_and_note(pattern: Any, flags: Any) -> Any:
        made = whole(pattern, flags)
        caller = sys._getframe(2)
        if caller.f_code.co_filename.startswith(f"{ROOT}{os.sep}"):
            place = Path(caller.f_code.co_filename).relative_to(ROOT).as_posix(), caller.f_lineno
            found.setdefault(place, set()).add(made)
        return made

    re._compile = compile_and_note  # type: ignore[attr-defined]
    try:
        for path in sorted(ROOT.rglob("*.py")):
            name = ".".join(path.relative_to(ROOT.parent).with_suffix("").parts).removesuffix(".__init__")
            for value in list(vars(import_module(name)).values()):
                made_once = getattr(value, "__wrapped__", None)
                if hasattr(value, "cache_clear") and made_once and made_once.__code__.co_argcount == 0:
                    value()
    finally:
        re._compile = whole  # type: ignore[attr-defined]
    return found


def attacks(pattern: re.Pattern[str], length: int) -> Iterator[str]:
    """Texts of about that length: what may come again and again in the pattern does, and then does not fit."""
    tree = parser.parse(pattern.pattern, pattern.flags)
    pumps = list(dict.fromkeys(_pumps(tree, "")))[:MOST_PUMPS]
    whole = _sample(tree) or "a"
    for before, unit in (*pumps, *(("", unit) for unit in (*UNITS, whole, whole + " "))):
        times = length // len(unit) + 1
        for end in ENDS:
            yield before + unit * times + end
        if before:
            yield (before + unit) * (length // len(before + unit) + 1)


def _trees() -> Iterator[tuple[str, ast.Module]]:
    for path in sorted(ROOT.rglob("*.py")):
        yield path.relative_to(ROOT).as_posix(), ast.parse(path.read_text("utf-8"))


def _of_re(node: ast.expr) -> str:
    """The name of a function of the module ``re``, else nothing."""
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "re":
        return node.attr if node.attr in {*USES, "compile"} else ""
    return ""


REPEATS = (code.MAX_REPEAT, code.MIN_REPEAT, code.POSSESSIVE_REPEAT)


def _pumps(tree: Iterable[Any], before: str) -> Iterator[tuple[str, str]]:
    """What may come any number of times, and a text that leads up to it."""
    for kind, value in tree:
        if kind in REPEATS:
            if value[1] is code.MAXREPEAT or value[1] >= 30:
                yield before, _sample(value[2]) or "a"
                yield from ((before, character) for character in _characters(value[2]))
            yield from _pumps(value[2], before)
        for inner in _inner(kind, value):
            yield from _pumps(inner, before)
        before += _one(kind, value)


def _inner(kind: Any, value: Any) -> list[Any]:
    if kind is code.BRANCH:
        return list(value[1])
    if kind is code.SUBPATTERN:
        return [value[3]]
    if kind is code.ATOMIC_GROUP:
        return [value]
    return [value[1]] if kind in (code.ASSERT, code.ASSERT_NOT) else []


def _sample(tree: Iterable[Any]) -> str:
    """A text that the tree fits, look-around and references aside."""
    return "".join(_one(kind, value) for kind, value in tree)


def _one(kind: Any, value: Any) -> str:
    if kind is code.LITERAL:
        return chr(value)
    if kind in (code.NOT_LITERAL, code.ANY):
        return "b" if value == ord("a") else "a"
    if kind is code.IN:
        return next(c for c in (*_listed(value), *"aA1 -.'\n,é", "?") if re.match(_class(value), c) or c == "?")
    if kind in REPEATS:
        return _sample(value[2]) * max(value[0], 1)
    return _sample(inner[0]) if kind not in (code.ASSERT, code.ASSERT_NOT) and (inner := _inner(kind, value)) else ""


CATEGORIES = {
    code.CATEGORY_DIGIT: r"\d", code.CATEGORY_NOT_DIGIT: r"\D", code.CATEGORY_SPACE: r"\s",
    code.CATEGORY_NOT_SPACE: r"\S", code.CATEGORY_WORD: r"\w", code.CATEGORY_NOT_WORD: r"\W",
}  # fmt: skip


def _class(members: list[Any]) -> str:
    """A parsed set of characters, as it is written."""
    parts = []
    for kind, value in members:
        if kind is code.LITERAL:
            parts.append(re.escape(chr(value)))
        elif kind is code.RANGE:
            parts.append(f"{re.escape(chr(value[0]))}-{re.escape(chr(value[1]))}")
        elif kind is code.CATEGORY:
            parts.append(CATEGORIES[value])
    return f"[{'^' if members[0][0] is code.NEGATE else ''}{''.join(parts)}]"


def _listed(members: list[Any]) -> list[str]:
    return [
        chr(value if kind is code.LITERAL else value[0])
        for kind, value in members
        if kind in (code.LITERAL, code.RANGE)
    ]


def _characters(tree: Iterable[Any]) -> Iterator[str]:
    for kind, value in tree:
        if kind is code.IN and value[0][0] is not code.NEGATE:
            yield from _listed(value)[:8]
