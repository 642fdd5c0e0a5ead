from datetime import date, timedelta

from rubric_kit.growth.comparable import Piece, comparable


def pieces(form: str, n: int, grade: int = 5, start: int = 0) -> list[Piece]:
    return [Piece(date(2025, 9, 1) + timedelta(start + 20 * i), form, grade, 2 + i / 4) for i in range(n)]


def test_each_form_has_its_own_line_the_largest_first() -> None:
    found = comparable([*pieces("paragraph", 5), *pieces("five-paragraph", 7)])
    assert [(form, len(group)) for form, group in found.groups.items()] == [("five-paragraph", 7), ("paragraph", 5)]
    assert found.left_out == found.notes == ()
    assert {form: trend.n for form, trend in found.trends().items()} == {"five-paragraph": 7, "paragraph": 5}


def test_what_is_left_out_is_said() -> None:
    unscored = Piece(date(2026, 1, 1), "paragraph", 5, None)
    broken = Piece(date(2026, 1, 2), "paragraph", 5, float("nan"))
    found = comparable([*pieces("paragraph", 6), *pieces("narrative", 1), unscored, broken])
    assert len(found.left_out) == 3
    assert found.notes == (
        "narrative: 1 piece, too few for a line of its own (it wants 5).",
        "2 pieces without a value left out.",
    )


def test_two_grades_on_one_line_are_pointed_out() -> None:
    found = comparable([*pieces("paragraph", 4, grade=5), *pieces("paragraph", 4, grade=6, start=90)])
    assert "grades 5 to 6" in found.notes[0]
    assert "look like a fall" in found.notes[0]


def test_pieces_come_in_order_of_date_and_every_one_is_somewhere() -> None:
    mixed = [*pieces("paragraph", 6), *pieces("narrative", 3)][::-1]
    found = comparable(mixed)
    assert [p.date for p in found.groups["paragraph"]] == sorted(p.date for p in mixed if p.form == "paragraph")
    assert sum(map(len, found.groups.values())) + len(found.left_out) == len(mixed)


def test_two_pieces_alike_in_everything_both_count() -> None:
    twin = Piece(date(2025, 9, 1), "paragraph", 5, 2.0)
    assert len(comparable([twin, twin, *pieces("paragraph", 4)]).groups["paragraph"]) == 6


def test_nothing_gives_nothing() -> None:
    found = comparable([])
    assert (found.groups, found.left_out, found.notes) == ({}, (), ())
