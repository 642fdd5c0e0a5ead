"""Every way of changing one thing in a file of the package, by the operators of mutmut (``pip install mutmut``).

mutmut itself leaves out decorated functions (here all that read a table once, all properties) and everything outside
functions (here the constants and the tables of measures), so only its operators are used. Left out here: types,
docstrings, imports, decorators, what only a type checker reads, and calls of ``len`` and ``isinstance``, as in mutmut;
and UTF-8 for utf-8, which is the same to Python.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from random import Random

import libcst as cst
import libcst.matchers as m
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.mutators import mutation_operators

OUT_OF_FUNCTIONS = "(module)"
TYPES_ONLY = m.If(test=m.Name("TYPE_CHECKING"))
NEVER = (
    m.Annotation()
    | m.Import()
    | m.ImportFrom()
    | m.Decorator()
    | TYPES_ONLY
    | m.Call(func=m.Name("len") | m.Name("isinstance") | m.Name("TypeVar") | m.Name("cast"))
    | m.Subscript(value=m.Name("Literal"))
    | m.Assign(targets=[m.AssignTarget(m.Name("__all__") | m.Name("__slots__"))])
    | m.Expr(value=m.SimpleString() | m.ConcatenatedString())
    | m.SimpleStatementLine(body=[m.Expr(value=m.SimpleString())])
)


@dataclass(frozen=True, slots=True)
class Mutant:
    """One changed thing: where it is and the lines before and after.

    file             from the project's root
    scope            name of the function, with its class or outer function, or "(module)"
    first, last      lines of the statement that holds it
    was, became      that statement's changed lines, blanks at their ends taken off
    code             the whole file with the change
    """

    file: str
    scope: str
    first: int
    last: int
    was: str
    became: str
    code: str

    @property
    def key(self) -> tuple[str, str, str, str]:
        """What it is known by while other lines come and go."""
        return self.file, self.scope, self.was, self.became


Place = tuple[cst.CSTNode, cst.CSTNode, str, int, int]  # node, changed node, scope, first line, last line


class _Places(cst.CSTVisitor):
    METADATA_DEPENDENCIES = (PositionProvider,)

    def __init__(self) -> None:
        self.found: list[Place] = []
        self._scope: list[str] = []
        self._statements: list[tuple[int, int]] = []

    def on_visit(self, node: cst.CSTNode) -> bool:
        if m.matches(node, NEVER):
            return False
        if isinstance(node, cst.BaseSmallStatement | cst.BaseCompoundStatement):
            self._statements.append(self._lines(node))
        if isinstance(node, cst.FunctionDef | cst.ClassDef):
            self._scope.append(node.name.value)
        if self._statements:
            for kind, operator in mutation_operators:
                if isinstance(node, kind):
                    for changed in operator(node):
                        scope = ".".join(self._scope) or OUT_OF_FUNCTIONS
                        self.found.append((node, changed, scope, *self._statements[-1]))
        return True

    def on_leave(self, original_node: cst.CSTNode) -> None:
        if m.matches(original_node, NEVER):
            return
        if isinstance(original_node, cst.BaseSmallStatement | cst.BaseCompoundStatement):
            self._statements.pop()
        if isinstance(original_node, cst.FunctionDef | cst.ClassDef):
            self._scope.pop()

    def _lines(self, node: cst.CSTNode) -> tuple[int, int]:
        place = self.get_metadata(PositionProvider, node)
        inside = getattr(node, "body", None)  # of "if" and "for" the first line, up to its colon
        if isinstance(inside, cst.BaseSuite):
            return place.start.line, max(place.start.line, self.get_metadata(PositionProvider, inside).start.line - 1)
        return place.start.line, place.end.line


def mutants_of(path: Path, root: Path, draw: Random, wanted: int) -> list[Mutant]:
    """So many of one file, drawn at random, each one Python and none twice."""
    text, module, places = _places(path)
    drawn: dict[str, Mutant] = {}
    for node, changed, scope, first, last in draw.sample(places, len(places)):
        if len(drawn) == wanted:
            break
        code = _code(module, node, changed)
        if code is not None and code.replace('"UTF-8"', '"utf-8"') != text:
            was, became = _changed_lines(text, code)
            drawn[code] = Mutant(path.relative_to(root).as_posix(), scope, first, last, was, became, code)
    return list(drawn.values())


def places_in(path: Path) -> int:
    """How many there are to draw from."""
    return len(_places(path)[2])


def _places(path: Path) -> tuple[str, cst.Module, list[Place]]:
    text = path.read_text("utf-8")
    wrapper = MetadataWrapper(cst.parse_module(text))
    places = _Places()
    wrapper.visit(places)
    return text, wrapper.module, places.found


def _changed_lines(text: str, code: str) -> tuple[str, str]:
    before, after = text.splitlines(), code.splitlines()
    pairs = list(zip(before, after, strict=False))
    head = next((n for n, (a, b) in enumerate(pairs) if a != b), len(pairs))
    tail = next((n for n, (a, b) in enumerate(zip(before[::-1], after[::-1], strict=False)) if a != b), 0)
    tail = min(tail, len(before) - head - 1, len(after) - head - 1)
    was, became = (" ".join(line.strip() for line in lines[head : len(lines) - tail]) for lines in (before, after))
    return was, became


def _code(module: cst.Module, node: cst.CSTNode, changed: cst.CSTNode) -> str | None:
    """The file with one node changed; None where that is no Python."""
    try:
        code = module.deep_replace(node, changed).code  # type: ignore[arg-type]
        compile(code, "mutant", "exec", dont_inherit=True)
    except (SyntaxError, ValueError, TypeError, cst.CSTValidationError):
        return None
    return code
