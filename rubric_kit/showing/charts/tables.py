"""Pieces from the records as tidy tables, one row a piece and criterion, measure, part or kind of slip.

All have the columns of WHO; excused tasks are left out. Give the pieces of one child: charts are about one child.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from rubric_kit.growth.steadiness import Remark, Steadiness, steadiness
from rubric_kit.records.family import Family
from rubric_kit.records.pieces import Piece
from rubric_kit.records.rereading import pairs
from rubric_kit.showing.labels import labels

if TYPE_CHECKING:
    import pandas as pd

# piece: the draft's number in the records; draft: 1 for the first; last: whether it is the task's last draft
WHO = ["piece", "task", "date", "title", "form", "grade", "draft", "last"]


def levels_table(pieces: Iterable[Piece]) -> pd.DataFrame:
    """WHO and: criterion, name, weight, own (the reader's level), proposed, level (the one that counts), blind (whether
    the reader marked before seeing the proposal). What is not there is NaN.
    """

    def rows(piece: Piece) -> Iterable[Sequence[Any]]:
        proposals = {row["key"]: row for row in piece.body.get("criteria", ())}
        blind = piece.mark is not None and not piece.mark.seen_proposal
        for key in dict.fromkeys([*proposals, *piece.own]):
            row = proposals.get(key, {})
            own, level = piece.own.get(key), piece.levels.get(key)
            yield key, row.get("name", key), row.get("weight", 1.0), own, row.get("level"), level, blind

    columns = ["criterion", "name", "weight", "own", "proposed", "level", "blind"]
    return _table(pieces, rows, columns, ("weight", "own", "proposed", "level"))


def overall_table(levels: pd.DataFrame) -> pd.DataFrame:
    """From a levels_table: WHO and value (the weighted mean of the levels that count, 1 to 4) and marked (whether they
    are the reader's), one row for the last draft of each task.
    """
    counted = levels[levels["last"].astype(bool) & levels["level"].notna()].copy()
    counted["share"] = counted["weight"] * counted["level"]
    by_piece = counted.groupby(WHO, sort=False, as_index=False).agg(
        share=("share", "sum"), weight=("weight", "sum"), own=("own", "count")
    )
    by_piece["value"] = by_piece["share"] / by_piece["weight"]
    by_piece["marked"] = by_piece["own"] > 0
    return by_piece[[*WHO, "value", "marked"]].sort_values(["date", "piece"], ignore_index=True)


def measures_table(pieces: Iterable[Piece], names: Iterable[str]) -> pd.DataFrame:
    """WHO and: measure, value (NaN where it could not be said)."""
    wanted = list(names)
    return _table(pieces, lambda piece: [(m, piece.measure(m)) for m in wanted], ["measure", "value"], ("value",))


def parts_table(pieces: Iterable[Piece]) -> pd.DataFrame:
    """WHO and: part, share (1 in place, 0 not found, between them in some paragraphs only; NaN where the form does not
    ask for it), in the order of data/charts.toml.
    """

    def rows(piece: Piece) -> Iterable[Sequence[Any]]:
        found = piece.body.get("structure", {})
        for key, row in words()["parts"].items() if found else ():
            yield row["label"], _FOUND[key](found) if piece.form in row["forms"] else None

    return _table(pieces, rows, ["part", "share"], ("share",))


def slips_table(pieces: Iterable[Piece]) -> pd.DataFrame:
    """WHO and: kind, slips, words, rate (slips per 100 words; NaN for a piece without words)."""

    def rows(piece: Piece) -> Iterable[Sequence[Any]]:
        found, words = piece.body.get("mechanics", {}), piece.body.get("counts", {}).get("words", 0)
        for key, label in labels("mechanics").items() if found else ():
            slips = len(found.get(key, ()))
            yield label.heading, slips, words, 100 * slips / words if words else None

    return _table(pieces, rows, ["kind", "slips", "words", "rate"], ("slips", "words", "rate"))


def terms_table(family: Family) -> pd.DataFrame:
    """name, begins, ends."""
    import pandas as pd

    rows = [(t.name, pd.Timestamp(t.begins), pd.Timestamp(t.ends)) for t in family.terms.all()]
    return pd.DataFrame(rows, columns=["name", "begins", "ends"]).sort_values("begins", ignore_index=True)


def reader_steadiness(family: Family) -> Steadiness:
    """What the family's second markings show of the reader."""
    return steadiness(Remark(p.again_on, p.criterion, p.first, p.again) for p in pairs(family))


@cache
def words() -> Mapping[str, Mapping[str, Any]]:
    """The parts that a form asks for, and how measures are called: data/charts.toml."""
    return tomllib.loads((files("rubric_kit.showing") / "data" / "charts.toml").read_text("utf-8"))


def _table(
    pieces: Iterable[Piece],
    rows: Callable[[Piece], Iterable[Sequence[Any]]],
    columns: list[str],
    numbers: Sequence[str],
) -> pd.DataFrame:
    import pandas as pd

    counted = sorted((p for p in pieces if not p.assignment.excused), key=lambda p: (p.date, p.draft.id))
    last = {p.assignment.id: p.draft.id for p in sorted(counted, key=lambda p: p.draft.number)}
    found = [(*_who(piece, last), *row) for piece in counted for row in rows(piece)]
    table = pd.DataFrame(found, columns=[*WHO, *columns])
    return table.astype({"date": "datetime64[s]", "last": bool} | dict.fromkeys(numbers, float))


def _who(piece: Piece, last: Mapping[int, int]) -> tuple[Any, ...]:
    draft, a = piece.draft, piece.assignment
    who = (draft.id, a.id, piece.date, piece.task.title, piece.form, piece.grade, draft.number)
    return (*who, last[a.id] == draft.id)


def _bodies(structure: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    return [p for p in structure["paragraphs"] if p["role"] == "body"]


def _joined(structure: Mapping[str, Any]) -> float:
    """The share of paragraphs after the first that hold a transition; of a single paragraph, whether it holds one."""
    numbers = [p["number"] for p in structure["paragraphs"]]
    holding = {t["paragraph"] for t in structure["transitions"]}
    return _share(n in holding for n in numbers[1:] or numbers)


def _share(each: Iterable[bool]) -> float:
    """0 where there is nothing to look at: an essay without body paragraphs has no evidence in them."""
    found = list(each)
    return sum(found) / len(found) if found else 0.0


# How much of a part is there, from the sheet's structure (scoring/as_json.py).
_FOUND: Mapping[str, Callable[[Mapping[str, Any]], float | None]] = {
    "hook": lambda s: float(s["hook"] is not None),
    "thesis": lambda s: float(s["thesis"] is not None),
    "topic_sentences": lambda s: _share(p["topic_sentence"] is not None for p in _bodies(s)),
    "evidence": lambda s: _share(p["evidence"] > 0 for p in _bodies(s)),
    "explanation": lambda s: _share(p["explanation"] > 0 for p in _bodies(s)),
    "transitions": _joined,
    "restated_thesis": lambda s: float(s["restated_thesis"] is not None),
    "conclusion": lambda s: float(any(p["role"] == "conclusion" for p in s["paragraphs"])),
    "closing_thought": lambda s: float(s["closing_thought"] is not None),
}
