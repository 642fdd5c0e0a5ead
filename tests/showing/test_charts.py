"""Charts: the artists are asked what they show, and the words are checked against the tables."""

from datetime import timedelta
from itertools import combinations, pairwise

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgb
from matplotlib.text import Text

from rubric_kit.showing.charts import chart as look
from rubric_kit.showing.charts.criteria import criteria_over_time
from rubric_kit.showing.charts.level import writing_level
from rubric_kit.showing.charts.measure import NORM_BAND, measure_over_time
from rubric_kit.showing.charts.parts import MOST_PIECES, PART_SHADE, parts_in_place
from rubric_kit.showing.charts.proposals import CELL, proposal_against_parent
from rubric_kit.showing.charts.revision import MEASURES, before_after
from rubric_kit.showing.charts.slips import slips_per_100_words
from rubric_kit.showing.charts.tables import levels_table, measures_table, parts_table, slips_table

from .chart_pieces import ALL_PARTS, FIRST, FULL, HOSTILE, SLIPS, T_UNIT, TERMS, dots, made, rising

pytestmark = pytest.mark.filterwarnings("ignore:Glyph")  # letters that the font lacks are drawn as boxes
KINDS = {
    "level": lambda pieces, who: writing_level(levels_table(pieces), terms=TERMS, who=who),
    "criteria": lambda pieces, who: criteria_over_time(levels_table(pieces), terms=TERMS, who=who),
    "measure": lambda pieces, who: measure_over_time(measures_table(pieces, [T_UNIT]), T_UNIT, terms=TERMS, who=who),
    "parts": lambda pieces, who: parts_in_place(parts_table(pieces), who=who),
    "slips": lambda pieces, who: slips_per_100_words(slips_table(pieces), terms=TERMS, who=who),
    "revision": lambda pieces, who: before_after(levels_table(pieces), measures_table(pieces, MEASURES), who=who),
    "proposals": lambda pieces, who: proposal_against_parent(levels_table(pieces), who=who),
}
CASES = {
    "one piece": [made(1, **FULL)],
    "pieces of one day": [made(n, day=FIRST, **FULL) for n in range(1, 6)],
    "sixty pieces": [
        made(n, day=FIRST + timedelta(4 * n), own=None if n % 5 == 0 else (2, 3), **FULL) for n in range(60)
    ],
    "two drafts": [made(n, task=1, draft=n, own=(n, 3), **FULL) for n in (1, 2)],
    "strange names": [
        made(
            n,
            title=HOSTILE,
            criteria={"a": (HOSTILE, 1), "b": (HOSTILE, 1)},
            form=HOSTILE if n > 2 else "paragraph",
            **FULL,
        )
        for n in range(1, 6)
    ],
}


def drawn(ax):
    """Every text that is drawn with these axes."""
    found, draw = [], Text.draw

    def record(text, renderer):
        found.append(text)
        draw(text, renderer)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Text, "draw", record)
        FigureCanvasAgg(ax.figure).draw()
    return [text for text in dict.fromkeys(found) if text.get_visible() and text.get_text().strip()]


def luminance(color):
    """Relative luminance, 0 black to 1 white (WCAG 2.2): what a grey print keeps of a colour."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in to_rgb(color)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("case", CASES)
def test_every_text_lies_inside_the_figure_apart_from_others_and_is_large_enough(kind, case):
    who = HOSTILE if case == "strange names" else "Ann"
    texts = drawn(KINDS[kind](CASES[case], who).draw())
    boxes = {text: text.get_window_extent() for text in texts}
    page = texts[0].figure.bbox
    for text, box in boxes.items():
        within = (page.x0 <= box.x0 + 1, page.y0 <= box.y0 + 1, box.x1 <= page.x1 + 1, box.y1 <= page.y1 + 1)
        assert all(within), text
        assert text.get_fontsize() >= look.POINTS, text
    for one, other in combinations(texts, 2):
        across = min(boxes[one].x1, boxes[other].x1) - max(boxes[one].x0, boxes[other].x0)
        down = min(boxes[one].y1, boxes[other].y1) - max(boxes[one].y0, boxes[other].y0)
        assert across < 2 or down < 2, (one, other)


@pytest.mark.parametrize("kind", KINDS)
def test_without_pieces_a_chart_says_why_there_is_nothing(kind):
    chart = KINDS[kind]([], "Ann")
    assert "nothing to show yet" in chart.alt
    assert chart.reading[0] in chart.alt
    assert any(chart.reading[0] in text.get_text().replace("\n", " ") for text in drawn(chart.draw()))


@pytest.mark.parametrize("kind", KINDS)
def test_a_chart_is_drawn_on_the_axes_given_and_leaves_the_settings_as_they_were(kind):
    from matplotlib import pyplot, rcParams
    from matplotlib.figure import Figure

    before, ax = dict(rcParams), Figure().subplots()
    assert KINDS[kind](CASES["two drafts"], "Ann").draw(ax) is ax
    assert dict(rcParams) == before
    assert pyplot.get_fignums() == []


@pytest.mark.parametrize("kind", KINDS)
def test_the_alt_text_begins_with_the_title_and_has_numbers(kind):
    chart = KINDS[kind](CASES["two drafts"], "Ann")
    assert chart.alt.startswith(chart.title)
    assert any(c.isdigit() for c in chart.alt)


def test_what_must_be_told_apart_differs_in_grey():
    shades = [luminance(c) for c in (look.INK, PART_SHADE, look.PAPER)]
    assert all(lighter - darker > 0.2 for darker, lighter in pairwise(shades))
    assert contrast(look.BLUE, look.BAND) > 3  # what WCAG asks of parts of a picture
    assert contrast(look.VERMILLION, look.BAND) > 3
    assert contrast(look.SOFT, look.BAND) > 4.5  # and of letters
    assert contrast(look.INK, CELL) > 4.5
    assert luminance(look.BAND) - luminance(NORM_BAND) > 0.15


# ---------------------------------------------------------------- criteria


def test_criteria_have_a_panel_each_with_the_proposal_where_it_differs():
    ax = criteria_over_time(levels_table([made(1, own=(2, 3), proposed=(4, 3))])).draw()
    focus, organization = ax.child_axes
    assert sorted(dots(focus)) == [(2, True), (4, False)]
    assert dots(organization) == [(3, True)]


def test_criteria_are_looked_at_together():
    reading = criteria_over_time(levels_table(rising())).reading
    assert any("looked at together with 1 other" in words for words in reading)


# ---------------------------------------------------------------- parts


def test_a_part_is_told_by_filling_and_shade():
    paragraphs = [dict(p) for p in ALL_PARTS["paragraphs"]]
    paragraphs[1]["evidence"] = 0
    ax = parts_in_place(parts_table([made(structure={**ALL_PARTS, "hook": None, "paragraphs": paragraphs})])).draw()
    rows = [label.get_text() for label in ax.get_yticklabels()]
    at = {rows[int(line.get_ydata()[0])]: line for line in ax.lines}
    assert (at["thesis"].get_fillstyle(), at["thesis"].get_markerfacecolor()) == ("full", look.INK)
    assert (at["hook"].get_fillstyle(), at["hook"].get_markerfacecolor()) == ("full", look.PAPER)
    assert (at["evidence"].get_fillstyle(), at["evidence"].get_markerfacecolor()) == ("left", PART_SHADE)


def test_parts_show_the_last_pieces_that_have_room_and_say_so():
    chart = KINDS["parts"](CASES["sixty pieces"], "Ann")
    assert len(chart.draw().get_xticklabels()) == MOST_PIECES
    assert any(f"{60 - MOST_PIECES} pieces not shown" in words for words in chart.reading)


def test_parts_count_how_often_each_is_in_place():
    pieces = [made(1), made(2, structure={**ALL_PARTS, "hook": None}), made(3, form="narrative")]
    chart = parts_in_place(parts_table(pieces))
    assert "Hook: in place in 1 of 2." in chart.alt
    assert any("1 piece not shown" in words for words in chart.reading)


# ---------------------------------------------------------------- slips


def test_slips_have_a_panel_for_all_and_for_each_kind_found_commonest_first():
    chart = slips_per_100_words(slips_table([made(1, slips=SLIPS)]))
    names = [panel.texts[0].get_text() for panel in chart.draw().child_axes]
    assert names[:2] == ["all slips", "spelling"]
    assert len(names) == 4
    assert "All slips: 4.0. Spelling: 2.0." in chart.alt
    assert any("None found: " in words and "capital letters" in words for words in chart.reading)


def test_fewer_slips_are_what_is_hoped_for():
    pieces = [made(n, slips={"spelling": 9 - n}) for n in range(1, 8)]
    words = slips_per_100_words(slips_table(pieces)).reading[0]
    assert "a fall of about" in words
    assert "diagnosis" not in words


# ---------------------------------------------------------------- revision


def test_a_revision_compares_the_reader_s_levels_where_both_drafts_were_marked():
    chart = KINDS["revision"]([made(1, task=1, own=(1, 2)), made(2, task=1, draft=2, own=(3, 2))], "Ann")
    assert "focus and thesis 1 to 3; organization 2 to 2" in chart.alt
    assert chart.reading[0] == "Went up: focus and thesis."
    assert sorted(dots(chart.draw().child_axes[0])) == [(0, False), (0, True), (1, False), (1, True)]


def test_a_revision_never_sets_a_proposal_beside_a_mark():
    pieces = [made(1, task=1, own=None, proposed=(2, 2)), made(2, task=1, draft=2, own=(4, 4), proposed=(3, 3))]
    chart = KINDS["revision"](pieces, "Ann")
    assert "focus and thesis 2 to 3" in chart.alt
    assert any("Both levels are proposals" in words for words in chart.reading)


def test_a_revision_tells_measures_before_and_after():
    pieces = [made(n, task=1, draft=n, measures={"length": 100 * n, "errors_per_100_words": 3}) for n in (1, 2)]
    chart = KINDS["revision"](pieces, "Ann")
    assert "Words written: from 100 to 200." in chart.reading
    assert not any("Slips" in words for words in chart.reading)  # unchanged


# ---------------------------------------------------------------- proposals


def test_proposals_count_drafts_by_both_levels():
    pieces = [made(1, own=(2, 3), proposed=(3, 3)), made(2, own=(2, 4), proposed=(3, 4))]
    chart = proposal_against_parent(levels_table(pieces))
    counts = {text.get_position(): text.get_text() for text in chart.draw().child_axes[0].texts}
    assert counts == {(3, 2): "2"}
    assert "Focus and thesis: same 0 of 2, within 1: 2 of 2." in chart.alt
    assert "All criteria: same 2 of 4, within 1: 4 of 4." in chart.alt
    assert "2 of 4 (50%) are the same as proposed and 4 of 4 are within one." in " ".join(chart.reading)


def test_marks_made_in_sight_of_the_proposal_are_told_apart():
    both = proposal_against_parent(levels_table([made(1), made(2, blind=False)])).reading
    assert any("seen: 1 of 2 drafts" in words for words in both)
    sighted = proposal_against_parent(levels_table([made(1, blind=False)])).reading
    assert any("in sight" in words for words in sighted)
