"""Two children's records for the pages of the notebooks, made once and copied."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

import rubric_kit as rk
from rubric_kit.records.family import Family
from rubric_kit.records.tasks import Version

CRITERIA = ("focus", "organization", "evidence", "sentences", "conventions")
PIECES = 7
ANN, BEN, CORA = "Ann <b>Ashe</b>", "Ben", "Cora"
ESSAY = """Owls at Night

Owls are built for hunting at night because of their eyes and their <script>window.ran=1</script> wings.

First, owls see well in the dark. For example, an owl's eyes are 100 times as sharp as ours. This shows that they can \
find a mouse with very little light.

In the end, eyes and wings make owls the best night hunters. I hope I see one soon.
"""


@pytest.fixture(scope="session")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Ann (grade 6): seven three-paragraph pieces whose organization rises from 1 to 4, one goal. Ben: one piece,
    scored and not marked. Cora: nothing handed in.
    """
    folder = tmp_path_factory.mktemp("kept") / "family"
    with rk.begin(folder) as family:
        family.terms.add("autumn", date(2025, 9, 1), date(2026, 1, 16))
        ann, ben, _ = (family.students.add(n, grade=6, school_year="2025-26") for n in (ANN, BEN, CORA))
        for n in range(PIECES):
            draft = hand_in(family, ann.id, n)
            levels = dict.fromkeys(CRITERIA, 3) | {"organization": min(4, 1 + n // 2)}
            family.marks.add(draft, levels, marked_on=date(2026, 6, 1), comment="")
        family.sheets.make(hand_in(family, ben.id, 1))
        family.conferences.add(1, held_on=date(2025, 9, 20), goal="One <i>reason</i> more.")
    return folder


def hand_in(family: Family, student: int, n: int) -> int:
    day = date(2025, 9, 8) + timedelta(days=21 * n)
    task = family.tasks.add(
        f"Task {student}.{n} <u>", "Why?", set_on=day, versions={student: Version(form="three-paragraph", due=day)}
    )
    given = family.tasks.assignment(task.id, student)
    return family.drafts.hand_in_bytes(given.id, ESSAY.encode(), f"owls {n}.txt", received_on=day).id


@pytest.fixture
def family(kept: Path, tmp_path: Path) -> Iterator[Family]:
    folder = Path(shutil.copytree(kept, tmp_path / "family"))
    with rk.open_family(folder) as records:
        yield records
