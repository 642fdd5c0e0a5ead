# ruff: noqa: E501  (a paragraph is one line, as a child hands it in)
"""Essays scored once for all tests of the scoring."""

from __future__ import annotations

from pathlib import Path

import pytest

from rubric_kit.reading import read, read_text
from rubric_kit.scoring.score import score
from rubric_kit.scoring.sheet import ScoreSheet

SAMPLES = Path(__file__).parents[2] / "sample_essays"

BATS = """Robin Ashe
Science, Grade 6

Why We Need Bats

Have you ever seen a bat fly past your window? Most people are afraid of bats. I think that people should protect bats because bats eat insects, plant trees, and help farmers.

First, bats eat a great many insects. One brown bat can eat 600 mosquitoes in an hour. That means fewer bites for us.

Second, bats plant new trees. Fruit bats drop seeds while they fly over bare ground. For example, most new trees in some forests came from seeds that bats dropped.

Last, bats help farmers. The farmers in our county spend less on poison because bats eat the beetles. This shows that bats save money.

In conclusion, bats should be protected because they eat insects, plant trees, and help farmers. The next time you see one, be glad.
"""


@pytest.fixture(scope="session")
def bats() -> ScoreSheet:
    """A plain five-paragraph essay scored at grade 8, though its heading says 6."""
    return score(read_text(BATS), grade=8)


@pytest.fixture(scope="session")
def samples() -> dict[str, ScoreSheet]:
    """The demo year, each piece at the grade of its heading."""
    return {path.name: score(read(path)) for path in sorted(SAMPLES.glob("20*"))}
