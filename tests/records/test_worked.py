"""The one rounding, and figures as they are written."""

from fractions import Fraction

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.records.worked import exact, figure, letter_for, rounded, shown


@pytest.mark.parametrize(
    ("value", "inside", "outside"),
    [
        ("84", "84.0", "84.0"),
        ("83.125", "83.125", "83.1"),
        ("250/3", "83.333…", "83.3"),
        ("89.9499", "89.949…", "89.9"),
    ],
)
def test_a_figure_is_never_written_as_more_than_it_is(value, inside, outside):
    assert (figure(Fraction(value)), shown(Fraction(value))) == (inside, outside)


def test_the_one_rounding_is_half_up_of_what_was_written():
    # 0.05 -> 0.1 and 89.95 -> 90.0, though the nearest binary numbers are below or the even digit is nearer
    assert [shown(exact(x)) for x in (0.05, 0.15, 0.25, 89.95, 99.95)] == ["0.1", "0.2", "0.3", "90.0", "100.0"]
    assert rounded(Fraction(8995, 100)) == 90
    assert letter_for([("A", 89.5), ("B", 0)], Fraction("89.45")) == "A"
    assert letter_for([("A", 89.5), ("B", 60)], Fraction(0)) == "B"
    with pytest.raises(RecordsError):
        exact(float("inf"))
