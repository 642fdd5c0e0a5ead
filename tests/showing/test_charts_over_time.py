"""The level and the measures over time: points, bars, lines and words."""

from datetime import date

import pytest
from matplotlib.colors import to_rgb

from rubric_kit.growth.steadiness import Remark, steadiness
from rubric_kit.growth.trend import trend
from rubric_kit.showing.charts.level import writing_level
from rubric_kit.showing.charts.measure import NORM_BAND, measure_over_time
from rubric_kit.showing.charts.tables import levels_table, measures_table

from .chart_pieces import FIRST, FULL, RISING, T_UNIT, dashed, dots, made, rising


def level(pieces, **more):
    return writing_level(levels_table(pieces), **more)


def t_units(pieces):
    return measure_over_time(measures_table(pieces, [T_UNIT]), T_UNIT)


def test_level_shows_a_point_a_piece_at_the_weighted_mean():
    ax = level(rising()).draw()
    assert [y for y, _ in dots(ax)] == pytest.approx([1.4, 2, 2.4, 3, 3.4, 4])


def test_level_shows_unmarked_pieces_hollow():
    ax = level([made(1), made(2, own=None)]).draw()
    assert [filled for _, filled in dots(ax)] == [True, False]


def test_level_gives_each_form_its_own_shape():
    ax = level([made(1), made(2, form="paragraph"), made(3, form="a form of ours")]).draw()
    assert [len(dots(ax, shape)) for shape in ("p", "o", "s")] == [1, 1, 1]


def test_the_bars_are_the_reader_s_error_and_end_with_the_scale():
    usual = steadiness(()).error().value
    ax = level([made(1, own=(2, 2)), made(2, own=(4, 4))]).draw()
    bars = [bar.get_segments()[0][:, 1].tolist() for bar in ax.collections if len(bar.get_segments()) == 1]
    assert bars == [pytest.approx([2 - usual, 2 + usual]), pytest.approx([4 - usual, 4])]


def test_the_bars_shrink_with_the_reader_s_own_steadiness():
    pairs = [Remark(date(2026, 1, n), c, 3, 3 + (n + i) % 2) for n in range(1, 13) for i, c in enumerate("ab")]
    reader = steadiness(pairs)
    assert f"{reader.error().value:.2f} levels" in " ".join(level(rising(), reader=reader).reading)


def test_a_trend_more_than_chance_is_drawn_as_theil_and_sen_have_it():
    pieces = rising()
    line = dashed(level(pieces).draw())
    expected = trend([p.date for p in pieces], [1.4, 2, 2.4, 3, 3.4, 4])
    assert [y for one in line for y in one.get_ydata()] == pytest.approx(
        [expected.at(pieces[0].date), expected.at(pieces[-1].date)]
    )


def test_no_line_is_drawn_where_chance_would_do():
    chart = level([made(n, own=own) for n, own in enumerate([(2, 2), (3, 3), (2, 2), (3, 3), (2, 2), (3, 3)], start=1)])
    assert not dashed(chart.draw())
    assert any("not yet" in words for words in chart.reading)


def test_pieces_of_two_forms_never_share_a_line():
    pieces = [
        made(n, own=own, form=f) for n, (own, f) in enumerate(zip(RISING, ["paragraph", "narrative"] * 3, strict=True))
    ]
    chart = level(pieces)
    assert not dashed(chart.draw())
    assert sum("too few for a line" in words for words in chart.reading) == 2


def test_the_level_s_alt_text_tells_first_last_lowest_and_highest():
    alt = level(rising(), who="Ann").alt
    assert "6 pieces from 25 Sep 2025 to 3 Jan 2026" in alt
    assert "First 1.4 (Book 1, 25 Sep 2025), last 4 (Book 6, 3 Jan 2026)" in alt


def test_pieces_of_one_day_stand_side_by_side():
    ax = level([made(n, day=FIRST) for n in range(1, 6)]).draw()
    places = [line.get_xdata()[0] for line in ax.lines if len(line.get_xdata()) == 1]
    assert len(set(places)) == len(places)


def test_a_measure_has_the_published_averages_of_the_grade_as_a_band():
    chart = t_units([made(**FULL)])
    assert "Band: published averages, grade 7: 8.9 to 10.0." in chart.alt
    assert any("Loban 1976" in words for words in chart.reading)
    band = [p for p in chart.draw().patches if to_rgb(p.get_facecolor()) == to_rgb(NORM_BAND)]
    heights = [p.get_path().transformed(p.get_patch_transform()).vertices[:, 1] for p in band]
    assert [(min(each), max(each)) for each in heights] == [pytest.approx((8.94, 9.99))]


def test_a_measure_without_norms_has_no_band():
    chart = measure_over_time(measures_table([made(**FULL)], ["length"]), "length")
    assert "published" not in chart.alt
