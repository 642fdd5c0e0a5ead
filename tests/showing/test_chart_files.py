"""Charts as SVG, PNG and HTML."""

import base64
import re
import subprocess
import sys
from io import BytesIO
from xml.etree import ElementTree

import pytest
from PIL import Image

from rubric_kit.showing.charts import Chart
from rubric_kit.showing.charts.chart import nothing
from rubric_kit.showing.charts.files import UnknownFormatError, chart_html, chart_png, chart_svg, write_chart
from rubric_kit.showing.charts.level import writing_level
from rubric_kit.showing.charts.tables import levels_table

from .chart_pieces import HOSTILE, TERMS, rising

SVG = "{http://www.w3.org/2000/svg}"


def chart(who: str = "Ann") -> Chart:
    return writing_level(levels_table(rising()), terms=TERMS, who=who)


def test_the_svg_has_title_and_alt_text_as_its_name():
    root = ElementTree.fromstring(chart_svg(chart()))
    named = {each.get("id"): each.text for each in root[:2]}
    assert root.get("role") == "img"
    assert named[root.get("aria-labelledby")] == chart().title
    assert named[root.get("aria-describedby")] == chart().alt
    assert [each.tag for each in root[:2]] == [f"{SVG}title", f"{SVG}desc"]


def test_the_svg_asks_for_no_font_and_nothing_from_outside():
    drawn = chart_svg(chart()).decode()
    assert "<text" not in drawn
    assert "font-family" not in drawn
    assert not re.search(r'(href|src)="(?!#)', drawn)


def test_the_same_table_gives_the_same_bytes():
    assert chart_svg(chart()) == chart_svg(chart())
    assert chart_png(chart(), 700) == chart_png(chart(), 700)


def test_two_charts_on_one_page_share_no_id_and_each_finds_its_own():
    one, other = (chart_svg(chart(who)).decode() for who in ("Ann", "Ben"))
    ids = [set(re.findall(r'\bid="([^"]+)"', drawn)) for drawn in (one, other)]
    assert not ids[0] & ids[1]
    assert set(re.findall(r'href="#([^"]+)"|url\(#([^)]+)\)', one)) <= {(i, "") for i in ids[0]} | {
        ("", i) for i in ids[0]
    }


def test_a_png_is_as_wide_as_wanted_and_has_the_alt_text():
    drawn = Image.open(BytesIO(chart_png(chart(), 840)))
    assert drawn.width == 840
    assert drawn.info["Description"] == chart().alt


def test_the_html_has_the_picture_with_its_alt_text_and_the_reading():
    page = chart_html(chart())
    assert f'alt="{chart().alt}"' in page
    picture = re.search(r"base64,([^\"]+)", page)
    assert picture is not None
    assert base64.b64decode(picture[1]) == chart_svg(chart())
    assert page.count("<p>") == len(chart().reading)
    assert chart()._repr_html_() == page
    assert "figcaption" not in chart_html(chart(), reading=False)


def test_strange_names_are_only_names():
    strange = chart(HOSTILE)
    ElementTree.fromstring(chart_svg(strange))
    assert "<script" not in chart_html(strange)
    assert "\x1b" not in chart_html(strange)
    assert chart_png(strange, 700)


def test_an_empty_chart_can_be_written_too(tmp_path):
    write_chart(nothing("Level", "No piece has been scored."), tmp_path / "new" / "level.svg")
    assert b"No piece has been scored." in (tmp_path / "new" / "level.svg").read_bytes()


def test_a_chart_is_written_as_its_name_ends(tmp_path):
    write_chart(chart(), tmp_path / "level.PNG")
    assert (tmp_path / "level.PNG").read_bytes().startswith(b"\x89PNG")
    with pytest.raises(UnknownFormatError, match=r"level\.pdf: a chart is written as \.svg or \.png"):
        write_chart(chart(), tmp_path / "level.pdf")


def test_charts_cost_nothing_until_they_are_drawn():
    code = (
        "import sys; import rubric_kit.showing.charts.year; "
        "print(sorted({'matplotlib', 'pandas', 'spacy', 'scipy'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
