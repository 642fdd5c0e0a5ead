import base64
import hashlib
import re
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing import show
from rubric_kit.showing.html import page_html

AA = 4.5  # contrast of text, WCAG 2.2, criterion 1.4.3
AA_LINES = 3.0  # of lines that carry meaning, criterion 1.4.11
VOID = {"meta", "br", "line", "circle"}
WORDS_NEVER_SAID = re.compile(r"\b(wrong|bad|fail\w*|poor|NLP|span)\b", re.I)


class Page(HTMLParser):
    """Tags in order with their attributes, the open tags checked against the closing ones, the text seen."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.texts: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.texts.append(data)

    @property
    def text(self) -> str:
        return " ".join("".join(self.texts).split())


def test_every_tag_closes_and_every_link_leads_to_one_place(owls: ScoreSheet) -> None:
    page = Page(page_html(owls))
    assert not page.open
    ids = [a["id"] for _, a in page.tags if "id" in a]
    assert len(ids) == len(set(ids))
    links = [str(a["href"]) for tag, a in page.tags if tag == "a"]
    named = [str(a["aria-labelledby"]) for _, a in page.tags if "aria-labelledby" in a]
    assert {link.removeprefix("#") for link in links} | set(named) <= set(ids)
    assert "#s1-2" in links  # the reason about the thesis leads to the thesis
    assert all(link.startswith("#") for link in links)


def test_an_anchor_holds_its_very_sentence(owls: ScoreSheet) -> None:
    html = page_html(owls)
    sentence = html.partition('id="s1-2">')[2].partition('id="')[0]
    words = re.sub(r'<span class="rk-tag.*?</span>|<[^>]*>?', "", sentence)
    assert words.startswith("Owls are built for hunting at night because of their eyes and their wings.")


def test_labels_are_in_words_next_to_what_they_name(owls: ScoreSheet) -> None:
    text = Page(page_html(owls)).text
    for words in (
        "hookHave you ever",
        "thesisOwls are built",
        "topic sentenceFirsttransition: order, owls see",
        "evidence: numberAn owl's",
        "becuasespelling: because?",
        "comma spliceOwls also",
        "thesis againIn the endtransition: closing, eyes",
        "1 · introduction",
    ):
        assert words in text


def test_the_page_asks_for_nothing_from_outside(owls: ScoreSheet, hostile: ScoreSheet) -> None:
    for sheet in (owls, hostile):
        html = page_html(sheet)
        page = Page(html)
        assert not {tag for tag, _ in page.tags} & {"script", "link", "img", "iframe", "object", "embed", "form"}
        attributes = {name for _, a in page.tags for name in a}
        assert not attributes & {"src", "srcset", "style"}
        assert not any(name.startswith("on") for name in attributes)
        assert "@import" not in html
        assert "url(" not in html
        style = html.partition("<style>")[2].partition("</style>")[0]
        digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
        policy = next(a["content"] for tag, a in page.tags if a.get("http-equiv") == "Content-Security-Policy")
        assert policy == f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"


def test_hostile_text_is_shown_as_it_was_written(hostile: ScoreSheet) -> None:
    text = Page(page_html(hostile)).text
    for words in (
        "<script>alert('x')</script>",
        "[bold red]loud[/bold red]",
        "{{ 7*7 }} {% raw %} &amp;",
        '" onmouseover="x"',
        "<u>plan</u>",
        "<i>note</i>",
        "criterion <2>",
        "<img src=x>.txt",
        "\u241b[31mhelp",
    ):
        assert words in text
    assert not any(c in text for c in "\x1b\u202e\u202c")


def test_a_notebook_holds_two_sheets_without_their_anchors_meeting(owls: ScoreSheet, hostile: ScoreSheet) -> None:
    both = show(owls)._repr_html_() + show(hostile)._repr_html_()
    page = Page(both)
    ids = [a["id"] for _, a in page.tags if "id" in a]
    assert len(ids) == len(set(ids))
    assert not {"html", "body", "main", "script"} & {tag for tag, _ in page.tags}


def test_the_sheet_by_itself_is_a_small_table(owls: ScoreSheet) -> None:
    page = Page(owls._repr_html_())
    assert not page.open
    assert "criterion <2>2 approachingdescriptor 2" in page.text


def test_language_pictures_and_tables_are_described(owls: ScoreSheet) -> None:
    page = Page(page_html(owls))
    assert ("html", {"lang": "en"}) in page.tags
    pictures = [a for tag, a in page.tags if tag == "svg"]
    assert all(a["role"] == "img" and a["aria-labelledby"] for a in pictures)
    assert len([tag for tag, _ in page.tags if tag == "desc"]) == len(pictures) == 4
    assert all(a.get("scope") in ("row", "col") for tag, a in page.tags if tag == "th")
    levels = [int(tag[1]) for tag, _ in page.tags if re.fullmatch(r"h\d", tag)]
    assert levels[0] == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))


def test_our_own_words_blame_nobody(owls: ScoreSheet) -> None:
    assert not WORDS_NEVER_SAID.search(Page(page_html(owls)).text)


def colours(css: str) -> dict[str, str]:
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", css))


def contrast(one: str, other: str) -> float:
    """(L1 + 0.05) / (L2 + 0.05) of relative luminances (WCAG 2.2)."""

    def luminance(colour: str) -> float:
        channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_readers_own_levels_and_comment_stand_on_the_page_with_the_percent_that_they_are_worth(
    owls: ScoreSheet,
) -> None:
    own = {c.key: 2 for c in owls.criteria}
    html = page_html(owls, own, "Good eyes.\n<b>Now wings.")
    text = Page(html).text
    percent = owls.rubric.percent_for(own)
    letter = owls.rubric.letter_for(percent)
    assert f"{percent:g} out of 100, {letter} (yours; proposed: 80.2, B)" in text
    assert html.count('data-head="Your level">2 approaching</td>') == len(owls.criteria)
    assert "Your commentGood eyes.<b>Now wings." in text  # paragraphs of their own
    assert "(proposed; yours: 2 approaching)" in text
    assert not Page(html).open


def test_with_own_levels_for_some_criteria_only_the_percent_stays_the_proposed_one(owls: ScoreSheet) -> None:
    html = page_html(owls, {owls.criteria[0].key: 1})
    assert "80.2 out of 100, B (a proposal: not every criterion has a level of yours)" in Page(html).text
    assert html.count('data-head="Your level">1 beginning</td>') == 1
    assert html.count('data-head="Your level"></td>') == len(owls.criteria) - 1


def test_contrast_is_that_of_black_on_white_at_most() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


def test_text_and_lines_stand_out_from_what_is_behind_them(owls: ScoreSheet) -> None:
    css = page_html(owls).partition("<style>")[2].partition("</style>")[0]
    named = colours(css)
    tints = ("paper", "point", "support", "explanation", "frame", "slip")
    for tint in tints:
        assert contrast(named["ink"], named[tint]) >= AA, tint
    for words in ("soft", "link"):
        assert contrast(named[words], named["paper"]) >= AA, words
    for family, colour in re.findall(r"\.rk-tag-(\w+) \{ color: (#[0-9a-f]{6})", css):
        assert contrast(colour, named["paper"]) >= AA, family
    for family in tints[1:]:
        assert contrast(named[f"{family}-line"], named[family]) >= AA_LINES, family


def test_every_family_differs_in_more_than_colour(owls: ScoreSheet) -> None:
    css = page_html(owls)
    lines = re.findall(r"\.rk-whole-\w+ \{[^}]*text-decoration: (\w+ \w+)", css)
    assert len(lines) == len(set(lines)) == 5
    assert "rk-phrase-join { font-style: italic" in css
    assert re.search(r"rk-phrase-slip \{[^}]*font-weight: bold", css)
