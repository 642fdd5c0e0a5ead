"""What a grade cannot be worked out with is refused."""

import pytest

from rubric_kit.errors import RecordsError


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("letters", []),
        ("letters", [["A", 90], ["B", 90]]),
        ("letters", [["A", 80], ["B", 90]]),
        ("letters", [["A", 90], ["A", 80]]),
        ("letters", [["A", 120]]),
        ("letters", [["A", "90"]]),
        ("letters", [["A", True]]),
        ("letters", [["", 90]]),
        ("letters", [["A"]]),
        ("letters", ["A-"]),
        ("answers_weight", -1),
        ("answers_weight", 101),
        ("redo_rule", "worst"),
        ("year_counts", "moons"),
        ("late_points_a_day", -1.0),
        ("late_points_a_day", float("nan")),
        ("late_points_at_most", 101.0),
    ],
)
def test_settings_that_no_grade_can_be_worked_out_with_are_refused(family, name, value):
    before = family.settings.all()
    with pytest.raises(RecordsError, match=name):
        family.settings.set(name, value)
    assert family.settings.all() == before
