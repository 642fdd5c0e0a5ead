"""Which tests run a line of the package, cheapest first, from one run of them under coverage (see run.py)."""

from __future__ import annotations

import ast
import json
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

import coverage
from mutants import Mutant

CACHES = {"cache", "lru_cache", "cached_property"}
# Tests of how long something takes: on a busy machine they may fail of themselves.
TIMED = ("tests/hostile/test_traps.py", "tests/hostile/test_patterns.py")


@dataclass(frozen=True, slots=True)
class Part:
    """A function or a statement outside of functions: names it mentions, names it gives, and whether it runs once."""

    file: str
    lines: range
    mentions: frozenset[str]
    gives: frozenset[str]
    once: bool


class Covering:
    """Tests by file and line.

    What is worked out once in a process (constants, tables read at first use, what a module of tests shares) is run by
    the first test that asks for it only, so the tests of whatever uses it count as well.
    """

    def __init__(self, root: Path, data: Path, times: Path) -> None:
        self.root = root
        self._data = coverage.CoverageData(str(data))
        self._data.read()
        rows = json.loads(times.read_text("utf-8"))
        of_all = set.intersection(*(set(row["shared"]) for row in rows.values()))  # costs nothing more
        self._shared: dict[str, list[str]] = {n: [f for f in r["shared"] if f not in of_all] for n, r in rows.items()}
        self._call: dict[str, float] = {n: row["seconds"] for n, row in rows.items() if not n.startswith(TIMED)}
        self._setup: dict[str, float] = defaultdict(float)  # of what is shared, by its name
        self._sharers: dict[str, set[str]] = defaultdict(set)
        for name, row in rows.items():
            for fixture in self._shared[name]:
                self._setup[fixture] = max(self._setup[fixture], row["setup"])
                self._sharers[fixture].add(name)
        self._lines: dict[str, dict[int, list[str]]] = {}
        self._named: dict[str, frozenset[str]] = {}

    def of(self, mutant: Mutant) -> list[str]:
        """Those that run its statement; where it runs once only, then those that name it or run what uses it."""
        direct = self._running(mutant.file, range(mutant.first, mutant.last + 1))
        home = [part for part in self._parts if part.file == mutant.file and mutant.first in part.lines and part.once]
        gives = {name for part in home for name in part.gives}
        naming = {name for name in self._call if gives & self._names_in(name.partition("::")[0])}
        users = {t for part in self._users(gives) for t in self._running(part.file, part.lines)}
        return self._cheapest(direct) + self._cheapest(naming - direct) + self._cheapest(users - direct - naming)

    def runs_when_imported(self, mutant: Mutant) -> bool:
        """Is its statement run before any test, as what builds a table is?"""
        self._running(mutant.file, ())
        return any("" in self._lines[mutant.file].get(line, ()) for line in range(mutant.first, mutant.last + 1))

    def tests_in(self, file: str) -> list[str]:
        """All that were recorded of a file of tests."""
        return self._cheapest(name for name in self._call if name.startswith(f"{file}::"))

    def within(self, tests: Iterable[str], seconds: float) -> Iterator[str]:
        """As many of the tests, in their order, as take so long together."""
        paid: set[str] = set()
        for name in tests:
            new = [fixture for fixture in self._shared[name] if fixture not in paid]
            seconds -= self._call[name] + sum(self._setup[fixture] for fixture in new)
            if seconds < 0:
                return
            paid.update(new)
            yield name

    def _cheapest(self, tests: Iterable[str]) -> list[str]:
        def cost(name: str) -> tuple[float, str]:
            return self._call[name] + sum(self._setup[fixture] for fixture in self._shared[name]), name

        return sorted(tests, key=cost)

    def _running(self, file: str, lines: Iterable[int]) -> set[str]:
        if file not in self._lines:
            self._lines[file] = self._data.contexts_by_lineno(str(self.root / file))
        contexts = {c for line in lines for c in self._lines[file].get(line, ())}
        found = {context.rpartition("|")[0] for context in contexts}
        for context in contexts:
            if context.endswith("|setup"):
                for fixture in self._shared.get(context.removesuffix("|setup"), ()):
                    found |= self._sharers[fixture]
        return found & self._call.keys()

    def _users(self, names: set[str]) -> list[Part]:
        """What mentions the names; where that runs once as well, what mentions it, and so on."""
        known = set(names)
        while True:
            users = [part for part in self._parts if part.mentions & known]
            more = {name for part in users if part.once for name in part.gives} - known
            if not more:
                return users
            known |= more

    def _names_in(self, file: str) -> frozenset[str]:
        if file not in self._named:
            tree = ast.parse((self.root / file).read_text("utf-8"))
            self._named[file] = frozenset(n.id for n in ast.walk(tree) if isinstance(n, ast.Name))
        return self._named[file]

    @cached_property
    def _parts(self) -> list[Part]:
        """All of the package; a function that only parts that run once mention runs once as well."""
        parts = self._read_parts()
        while True:
            often = {name for part in parts if not part.once for name in part.mentions - part.gives}
            often |= {name for part in parts for name in part.gives if not any(name in p.mentions for p in parts)}
            settled = [part if part.once else replace(part, once=not part.gives & often) for part in parts]
            if settled == parts:
                return parts
            parts = settled

    def _read_parts(self) -> list[Part]:
        parts = []
        for path in sorted((self.root / "rubric_kit").rglob("*.py")):
            file = path.relative_to(self.root).as_posix()
            for outer in ast.parse(path.read_text("utf-8")).body:
                for node in outer.body if isinstance(outer, ast.ClassDef) else [outer]:
                    lines = range(node.lineno, (node.end_lineno or node.lineno) + 1)
                    names = {n.id for n in ast.walk(node) if isinstance(n, ast.Name)}
                    mentions = frozenset(names | {n.attr for n in ast.walk(node) if isinstance(n, ast.Attribute)})
                    if isinstance(node, ast.FunctionDef):
                        marks = {n.id for d in node.decorator_list for n in ast.walk(d) if isinstance(n, ast.Name)}
                        parts.append(Part(file, lines, mentions, frozenset({node.name}), bool(marks & CACHES)))
                    elif isinstance(node, ast.Assign | ast.AnnAssign):
                        targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                        gives = {n.id for t in targets for n in ast.walk(t) if isinstance(n, ast.Name)}
                        parts.append(Part(file, lines, mentions, frozenset(gives), True))
        return parts
