"""Everything measured of one essay, and the one function that measures it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rubric_kit.measures.catalogue import Measure, Result, run
from rubric_kit.measures.counts import Counts, count
from rubric_kit.measures.curriculum import CURRICULUM, curriculum_of
from rubric_kit.measures.found import Found
from rubric_kit.measures.mechanics import Mechanics, mechanics
from rubric_kit.measures.mechanics.run_ons import joins
from rubric_kit.measures.mechanics_rates import MECHANICS, mechanics_counts
from rubric_kit.measures.neighbours import neighbours, odd_pairs
from rubric_kit.measures.parse import Parse, parse
from rubric_kit.measures.readability import READABILITY
from rubric_kit.measures.structure.counts import STRUCTURE, structure_counts
from rubric_kit.measures.structure.find import structure
from rubric_kit.measures.structure.parts import Structure
from rubric_kit.measures.syntax import SYNTAX, syntax_counts
from rubric_kit.measures.vocabulary import VOCABULARY, vocabulary_counts
from rubric_kit.reading import Essay

if TYPE_CHECKING:
    import pandas as pd

FAMILIES: Mapping[str, Mapping[str, Measure[Any]]] = {
    "readability": READABILITY,
    "structure": STRUCTURE,
    "syntax": SYNTAX,
    "vocabulary": VOCABULARY,
    "mechanics": MECHANICS,
    "curriculum": CURRICULUM,
}
COLUMNS = ["measure", "value", "unit", "source", "why_not", "note"]
DEFAULT_FORM = "five-paragraph"


@dataclass(frozen=True, slots=True, repr=False)
class Measures(Mapping[str, Result]):
    """Results by name of measure, with the counts and the found items that they come from.

    form  the form of task that the structure was read for
    """

    essay: Essay
    form: str
    counts: Counts
    structure: Structure
    mechanics: Mechanics
    odd_pairs: tuple[Found, ...]
    results: Mapping[str, Result]

    def __getitem__(self, name: str) -> Result:
        return self.results[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.results)

    def __len__(self) -> int:
        return len(self.results)

    def __repr__(self) -> str:
        return f"<Measures of {self.essay.source}: {len(self)} results>"

    def family(self, name: str) -> dict[str, Result]:
        """The results of one family: readability, structure, syntax, vocabulary, mechanics or curriculum."""
        return {measure: self.results[measure] for measure in FAMILIES[name]}

    def frame(self) -> pd.DataFrame:
        """A tidy table, one row a measure: with NaN where a value cannot be said."""
        import pandas as pd

        rows = [(r.name, r.value, r.unit, r.source, r.why_not, r.note) for r in self.results.values()]
        return pd.DataFrame(rows, columns=COLUMNS).astype({"value": float})

    def _repr_html_(self) -> str:
        return str(self.frame().to_html(index=False, float_format="%.2f", na_rep="cannot say"))


def measure(essay: Essay, form: str = DEFAULT_FORM) -> Measures:
    """Measure an essay handed in for a form of task: paragraph, three-paragraph, five-paragraph or narrative."""
    return measure_parsed(essay, form, parse(essay))


def measure_parsed(essay: Essay, form: str, parsed: Parse) -> Measures:
    """Everything measured of an essay that is parsed already."""
    slips = mechanics(essay, parsed)
    parts = structure(essay, parsed, form)
    counts = count(essay)
    pairs = tuple(neighbours(essay, {found.start for found in slips.spelling}))
    bases = {
        "readability": counts,
        "structure": structure_counts(essay, parts, form, parsed.tree),
        "syntax": syntax_counts(essay, parsed),
        "vocabulary": vocabulary_counts(essay, parsed, slips.spelling, pairs),
        "mechanics": mechanics_counts(essay, slips),
        "curriculum": curriculum_of(essay, slips, joins(parsed)),
    }
    results = {name: run(row, bases[family]) for family, table in FAMILIES.items() for name, row in table.items()}
    return Measures(essay, form, counts, parts, slips, odd_pairs(essay, pairs), results)
