"""A reader's standards: learned slowly, told in words, and worth learning where readers do differ."""

import random

import pytest

from rubric_kit.scoring.score import READER_SPREAD
from rubric_kit.scoring.standards import BETWEEN_CRITERIA, BETWEEN_READERS, FEWEST, Standards, learn

KEYS = ("focus", "organization", "evidence", "sentences", "conventions")
READERS, LATER = 400, 12


def pieces_of(reader, pieces, chance):
    """Marked pieces of a reader whose true differences by criterion are given; scatter as on the labelled essays."""
    made = []
    for _ in range(pieces):
        piece = {}
        for key, offset in reader.items():
            proposed = chance.uniform(1.4, 3.6)
            own = min(4, max(1, round(proposed + offset + chance.gauss(0, READER_SPREAD))))
            piece[key] = (own, proposed)
        made.append(piece)
    return made


def errors(pieces, level):
    return [(level(key, proposed) - own) ** 2 for piece in pieces for key, (own, proposed) in piece.items()]


def simulate(apart, pieces):
    """Mean squared error of levels on later pieces: as proposed, and as learned from the first ones."""
    chance = random.Random(7)
    plain, learned = [], []
    for _ in range(READERS):
        general = chance.gauss(0, BETWEEN_READERS * apart)
        reader = {key: general + chance.gauss(0, BETWEEN_CRITERIA * apart) for key in KEYS}
        standards = learn(pieces_of(reader, pieces, chance))
        later = pieces_of(reader, LATER, chance)
        plain += errors(later, lambda key, proposed: min(4, max(1, int(proposed + 0.5))))
        learned += errors(later, standards.level)
    return sum(plain) / len(plain), sum(learned) / len(learned)


def test_nothing_is_learned_from_fewer_than_eight_pieces():
    standards = learn([{"focus": (4, 2.0)}] * (FEWEST - 1))
    assert standards.offsets == {}
    assert standards.level("focus", 2.4) == 2
    assert standards.words({}) == ("Your standards are not known yet: 1 more marked piece.",)


def test_a_reader_who_agrees_is_left_alone():
    standards = learn([dict.fromkeys(KEYS, (3, 3.0))] * 20)
    assert set(standards.offsets.values()) == {0.0}
    assert "about those proposed" in standards.words({"focus": "Focus"})[0]


def test_a_strict_reader_is_followed_most_of_the_way():
    standards = learn([dict.fromkeys(KEYS, (2, 3.0))] * 20)
    assert all(-1 < offset < -0.7 for offset in standards.offsets.values())
    assert standards.level("focus", 3.2) == 2
    assert standards.words({"focus": "Focus"})[0] == "Focus: your levels are about 1.0 below those proposed."


def test_what_is_done_on_one_criterion_moves_that_one_most():
    standards = learn([{key: (2 if key == "conventions" else 3, 3.0) for key in KEYS}] * 12)
    assert standards.offsets["conventions"] < min(standards.offsets[key] for key in KEYS[:4]) - 0.3


def test_levels_stay_on_the_scale():
    standards = learn([{"focus": (4, 1.0)}] * 50)
    assert standards.level("focus", 4.0) == 4
    assert learn([{"focus": (1, 4.0)}] * 50).level("focus", 1.0) == 1


@pytest.mark.parametrize("pieces", [8, 16, 30])
def test_where_readers_lie_apart_learning_helps_and_where_they_do_not_next_to_nothing_is_lost(pieces):
    for apart in (1, 2):
        plain, learned = simulate(apart, pieces)
        assert learned < plain
    plain, learned = simulate(0, pieces)
    assert learned < plain * 1.05


def test_what_was_learned_is_told_by_criterion_above_below_or_about():
    standards = Standards(8, {"focus": 0.3, "evidence": -0.25, "luck": 0.14})
    assert standards.words({"focus": "Focus", "evidence": "Evidence"}) == (
        "Focus: your levels are about 0.3 above those proposed.",
        "Evidence: your levels are about 0.2 below those proposed.",
        "luck: your levels are about those proposed.",
    )
    assert Standards(3, {}).words({}) == ("Your standards are not known yet: 5 more marked pieces.",)


def test_a_level_is_rounded_half_up_from_the_score_with_what_was_learned():
    standards = Standards(8, {"focus": 0.3})
    assert [standards.level("focus", score) for score in (1.1, 1.19, 1.2, 2.2)] == [1, 1, 2, 3]
    assert standards.level("evidence", 2.5) == 3


def test_what_is_learned_is_the_mean_drawn_toward_nothing():
    """Each of 10 pieces a level lower: the general part keeps 10 of 10 + (spread / 0.3) squared; what it leaves over,
    the criterion keeps by 0.2."""
    general = -10 / (10 + (READER_SPREAD / 0.3) ** 2)
    own = (-1 - general) * 10 / (10 + (READER_SPREAD / 0.2) ** 2)
    standards = learn([{"focus": (2, 3.0)}] * 10)
    assert standards.offsets["focus"] == pytest.approx(general + own)
    assert standards.pieces == 10
