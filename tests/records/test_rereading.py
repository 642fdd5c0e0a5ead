"""Old pieces are offered to be marked again, now and then and unseen; the pairs and the standards that come of it."""

from datetime import date, timedelta

import pytest

from rubric_kit.errors import RecordsError
from rubric_kit.records.rereading import EVERY, FORGOTTEN_AFTER, mark_again, offer, pairs, standards
from rubric_kit.records.tasks import Version
from rubric_kit.scoring.standards import FEWEST

START = date(2025, 9, 5)
LEVELS = {"focus": 3, "organization": 3, "evidence": 2, "sentences": 3, "conventions": 3}
TEXT = b"Owls are good hunters. They hunt at night. For example, an owl hears a mouse under the snow."


def hand_in_and_mark(family, count, levels=LEVELS, *, score=False):
    """Pieces a week apart, all marked on the day after."""
    student = family.students.add("Ann", grade=6, school_year="2025-26")
    drafts = []
    for week in range(count):
        day = START + timedelta(weeks=week)
        task = family.tasks.add(f"task {week}", "Why?", set_on=day, versions={student.id: Version("paragraph")})
        assignment = family.tasks.assignment(task.id, student.id)
        draft = family.drafts.hand_in_bytes(assignment.id, TEXT, "owls.txt", received_on=day)
        if score:
            family.sheets.make(draft.id)
        family.marks.add(draft.id, levels, marked_on=day + timedelta(days=1))
        drafts.append(draft)
    return drafts


def test_no_piece_is_offered_before_five_were_marked_nor_before_it_is_forgotten(family):
    hand_in_and_mark(family, EVERY - 1)
    later = START + timedelta(days=200)
    assert offer(family, later) is None
    assert offer(family, later, now_and_then=False) is not None
    assert offer(family, START + timedelta(days=FORGOTTEN_AFTER), now_and_then=False) is None


def test_one_is_offered_for_five_and_stays_the_same_all_day(family):
    hand_in_and_mark(family, EVERY)
    today = START + timedelta(days=120)
    offered = offer(family, today)
    assert offered is not None
    assert offer(family, today).draft == offered.draft
    mark_again(family, offered.draft.id, LEVELS, today=today)
    assert offer(family, today) is None
    assert offer(family, today, now_and_then=False).draft != offered.draft


def test_different_days_offer_different_pieces(family):
    hand_in_and_mark(family, EVERY)
    offered = {offer(family, START + timedelta(days=120 + n)).draft.id for n in range(30)}
    assert len(offered) == EVERY


def test_marking_again_makes_pairs_and_leaves_the_grade(family):
    drafts = hand_in_and_mark(family, 2)
    today = START + timedelta(days=100)
    mark_again(family, drafts[0].id, LEVELS | {"focus": 2}, today=today)
    found = {pair.criterion: (pair.first, pair.again) for pair in pairs(family)}
    assert found == {
        "focus": (3, 2),
        "organization": (3, 3),
        "evidence": (2, 2),
        "sentences": (3, 3),
        "conventions": (3, 3),
    }
    assert {(pair.first_on, pair.again_on) for pair in pairs(family)} == {(START + timedelta(days=1), today)}
    assert family.marks.levels(family.marks.latest(drafts[0].id).id) == LEVELS


def test_what_was_never_marked_cannot_be_marked_again(busy):
    with pytest.raises(RecordsError, match="not marked yet"):
        mark_again(busy, 1, LEVELS, today=START)


def test_standards_are_learned_after_eight_pieces(family):
    hand_in_and_mark(family, FEWEST, dict.fromkeys(LEVELS, 4), score=True)
    learned = standards(family)
    assert learned.pieces == FEWEST
    assert set(learned.offsets) == set(LEVELS)
    assert all(offset > 0 for offset in learned.offsets.values())
    family.undo()
    assert standards(family).offsets == {}
