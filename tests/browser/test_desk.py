# ruff: noqa: E501  (a paragraph is one line, as a child hands it in)
"""Notebook 1 in a real browser: an essay is handed in, marked and saved, by mouse and by keyboard alone."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

TimeoutError = pytest.importorskip("playwright.sync_api", reason="playwright is not installed").TimeoutError

pytestmark = [pytest.mark.browser, pytest.mark.slow]

NOTEBOOK = "1_score_an_essay.ipynb"
ESSAY = Path(__file__).parents[2] / "sample_essays" / "2026-03-17_tamsin_treasure-island_draft-2.docx"
USEFUL = ".rkd .rk-text"  # the essay on the desk
WANTED, MOST = 10, 30  # seconds from Run All Cells until then: what we want, and what a busy machine may take
LEAST_LETTERS = 16  # pixels; of the small words in the essay 14
HOSTILE = """Dogs

I think <script>window.ran = 1</script> dogs are <img src=x onerror="window.ran = 1"> loyal friends to people of all ages.

First, dogs [help](javascript:window.ran=1) people <svg onload="window.ran=1"> each day. For example, my dog <b>Rex</b> brings the paper.

In the end, dogs are loyal &amp; kind. <a href="javascript:window.ran=1">Click me</a> and see that dogs are the best of friends.
"""
# The essay on the desk without the small words.
WRITTEN = """() => { const copy = document.querySelector('.rkd-essay').cloneNode(true);
  copy.querySelectorAll('.rk-tag').forEach(tag => tag.remove()); return copy.textContent; }"""
Desk = Callable[..., Any]


@pytest.fixture
def desk(lab: Callable[..., Any], run_all: Callable[..., float]) -> Desk:
    def opener(screen: str = "small") -> Any:
        page = lab(NOTEBOOK, screen)
        took = run_all(page, USEFUL)
        print(f"first useful output after {took:.1f} s")
        assert took < MOST
        return page

    return opener


def levels_of(folder: Path, file_name: str) -> dict[str, int]:
    """The saved levels of the last draft of that name, by criterion; {} where none is marked."""
    with sqlite3.connect(folder / "family.db") as records:
        rows = records.execute(
            "SELECT l.criterion, l.level FROM mark_levels l JOIN marks m ON m.id = l.mark_id JOIN drafts d ON "
            "d.id = m.draft_id WHERE d.file_name = ? AND m.id = (SELECT max(id) FROM marks WHERE draft_id = d.id) "
            "AND d.id = (SELECT max(id) FROM drafts WHERE file_name = ?) ORDER BY l.id",
            [file_name, file_name],
        )
        return dict(rows.fetchall())


def choose(page: Any, label: str, option: str, then: str) -> None:
    """An option of a list, by how it begins; ``then`` is a word of the essay that comes to lie on the desk."""
    box = page.get_by_label(label, exact=True)
    wanted = box.locator("option", has_text=option).first
    wanted.wait_for(state="attached")
    box.select_option(label=wanted.text_content())
    page.locator(".rkd-essay", has_text=then).wait_for()


def button(page: Any, words: str) -> Any:
    return page.locator(".rkd button", has_text=words)


def hand_in(page: Any, file: Path | dict[str, Any]) -> None:
    if not button(page, "Choose a file").is_visible():
        button(page, "Hand in an essay").click()
    with page.expect_file_chooser() as chooser:
        button(page, "Choose a file").click()
    chooser.value.set_files(file)


def set_level(page: Any, criterion: int, level: int) -> None:
    page.locator(".rkd-level").nth(criterion).locator("input[type=radio]").nth(level - 1).check()


def message(page: Any, begins: str) -> Any:
    found = page.locator(".rkd-message", has_text=begins)
    found.wait_for()
    return found


def test_an_uploaded_docx_is_marked_and_its_changed_level_is_in_the_records(desk: Desk, family_folder: Path) -> None:
    page = desk()
    choose(page, "Child", "Tamsin", then="Tamsin")
    choose(page, "Task", "The Call of the Wild", then="Buck")
    hand_in(page, ESSAY)
    message(page, f"{ESSAY.name} is handed in")
    assert "Silver" in page.locator(".rkd-essay").inner_text()
    for criterion, level in enumerate((4, 3, 2, 1, 3)):
        set_level(page, criterion, level)
    button(page, "Save my levels").click()
    message(page, "Saved")
    before = levels_of(family_folder, ESSAY.name)
    set_level(page, 3, 2)
    button(page, "Save my levels").click()
    page.wait_for_timeout(1000)
    after = levels_of(family_folder, ESSAY.name)
    assert list(before.values()) == [4, 3, 2, 1, 3]
    assert list(after.values()) == [4, 3, 2, 2, 3]


def test_a_criterion_shows_its_sentences_outlined_and_quoted(desk: Desk) -> None:
    page = desk()
    page.locator(".rkd-criterion").first.click()
    page.locator(".rkd-quotes li").first.wait_for()
    outlined = {sentence.get_attribute("id") for sentence in page.locator(".rk-lit").all()}
    quoted = {link.get_attribute("href").removeprefix("#") for link in page.locator(".rkd-quotes a").all()}
    assert quoted
    assert quoted <= outlined
    page.locator(".rkd-quotes a").first.click()
    assert page.locator(".rk-lit").first.is_visible()
    assert page.locator(".rkd-criterion").first.is_visible()


def test_everything_works_with_the_keyboard_alone(lab: Callable[..., Any], family_folder: Path) -> None:
    page = lab(NOTEBOOK)
    keys = page.keyboard
    ask_for_a_command(page)
    keys.type("run all cells")
    page.locator(".lm-CommandPalette-item.lm-mod-active", has_text="Run All Cells").wait_for()
    keys.press("Enter")
    page.wait_for_selector(USEFUL)
    keys.press("ArrowUp")  # from the last cell to the desk's
    to(page, "Child")
    keys.type("Jonas")
    page.locator(".rkd-essay", has_text="Jonas").wait_for()
    to(page, "Hand in an essay")
    keys.press("Space")
    to(page, "Choose a file")
    with page.expect_file_chooser() as chooser:
        keys.press("Enter")
    chooser.value.set_files({"name": "keys.docx", "mimeType": "", "buffer": ESSAY.read_bytes()})
    message(page, "keys.docx is handed in")
    for number, level in enumerate((2, 2, 3, 4, 1)):
        to(page, "proposed", again=number > 0)
        keys.press("Space")
        page.locator(".rkd-level").nth(number).locator(".rkd-why").wait_for()
        for _ in range(level):
            keys.press("Tab")
        keys.press("Space")
    to(page, "Your comment")
    keys.type("A clear point.")
    to(page, "Save my levels")
    keys.press("Enter")
    message(page, "Saved")
    assert list(levels_of(family_folder, "keys.docx").values()) == [2, 2, 3, 4, 1]


def ask_for_a_command(page: Any) -> None:
    """JupyterLab's list of commands; it hears its keys only some time after the page has come."""
    for _ in range(10):
        page.keyboard.press("Control+Shift+c")
        with suppress(TimeoutError):
            page.locator(".lm-CommandPalette-input:focus").wait_for(timeout=4000)
            return
    pytest.fail("Control+Shift+C does not bring the list of commands")


FOCUSED = """() => {
  const on = document.activeElement, desk = on.closest('.rkd');
  const label = on.labels && on.labels.length ? on.labels[0].innerText : '';
  return desk ? (label || on.innerText || on.placeholder || '') : '';
}"""


def to(page: Any, words: str, *, again: bool = False) -> None:
    """Tab on until the box or button with these words has the focus, and see that it shows."""
    for step in range(80):
        if words in page.evaluate(FOCUSED) and not (again and step == 0):
            outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
            width = page.evaluate("parseFloat(getComputedStyle(document.activeElement).outlineWidth)")
            assert (outline, width >= 2) == ("solid", True), f"the focus does not show on {words}"
            return
        page.keyboard.press("Tab")
    pytest.fail(f"Tab does not come to {words}")


def test_markup_and_script_in_an_essay_do_nothing_and_are_shown_as_text(desk: Desk) -> None:
    page = desk()
    choose(page, "Child", "only look", then="Choose a file above")
    hand_in(page, {"name": "<img src=x onerror=window.ran=1>.txt", "mimeType": "", "buffer": HOSTILE.encode()})
    message(page, "This is")
    shown = page.evaluate(WRITTEN)
    assert "<script>window.ran = 1</script>" in shown
    assert 'onerror="window.ran = 1"' in shown
    for criterion in page.locator(".rkd-criterion").all():
        criterion.click()
        page.wait_for_timeout(300)
        assert page.locator(".rkd script, .rkd img, .rkd svg, .rkd [onerror], .rkd [onload]").count() == 0
        assert page.locator(".rkd a[href^='javascript']").count() == 0
    assert page.evaluate("window.ran") is None


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("broken.docx", b"PK\x03\x04 this is no Word file", "broken.docx"),
        ("empty.txt", b"", "it is empty"),
        ("photo.jpg", b"\xff\xd8\xff\xe0 a photograph", ".jpg files cannot be read"),
    ],
)
def test_a_broken_upload_says_so_and_leaves_what_was_there(desk: Desk, name: str, content: bytes, says: str) -> None:
    page = desk()
    before = page.locator(".rkd-essay").inner_text()
    set_level(page, 0, 1)
    hand_in(page, {"name": name, "mimeType": "", "buffer": content})
    assert says in message(page, "Not done.").inner_text()
    assert page.locator(".rkd-essay").inner_text() == before
    assert page.locator(".rkd-level").first.locator("input[type=radio]").first.is_checked()
    assert "Traceback" not in page.locator("body").inner_text()


def test_the_sheet_for_the_child_opens_from_its_link(desk: Desk) -> None:
    page = desk()
    button(page, "Make the sheet for the child").click()
    with page.expect_popup() as opened:
        page.get_by_text("open the web page").click()
    opened.value.get_by_text("What worked").wait_for()
    with page.expect_download() as kept:
        page.get_by_text("get the PDF to print").click()
    assert Path(kept.value.path()).read_bytes().startswith(b"%PDF")


# Boxes that are cut or hang out of the desk, and letters that are too small.
CUT = """() => [...document.querySelectorAll('.rkd *')].filter(e => e.offsetParent && e.clientWidth > 1
  && e.scrollWidth > e.clientWidth + 1 && !e.closest('select, input'))
  .map(e => e.className + ': ' + e.innerText.slice(0, 40))"""
SMALL = """least => [...document.querySelectorAll('.rkd *')].filter(e => e.offsetParent && !e.closest('.rk-tag')
  && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())
  && parseFloat(getComputedStyle(e).fontSize) < least).map(e => e.className + ': ' + e.innerText.slice(0, 40))"""
# The contrast of each text with what is painted behind it, by WCAG 2.
PALE = """least => {
  const parts = c => c.match(/[\\d.]+/g).map(Number);
  const light = c => { const [r, g, b] = parts(c).slice(0, 3).map(v => v / 255)
    .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const behind = e => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor;
    const p = parts(c); if (p.length < 4 || p[3] === 1) return c; } return 'rgb(255, 255, 255)'; };
  return [...document.querySelectorAll('.rkd *')].filter(e => e.offsetParent
    && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())).map(e => {
      const [a, b] = [light(getComputedStyle(e).color), light(behind(e))].sort((x, y) => y - x);
      return [(a + 0.05) / (b + 0.05), e.className + ': ' + e.innerText.slice(0, 40)]; })
    .filter(([ratio]) => ratio < least);
}"""
AA = 4.5  # WCAG 2.2, level AA, for text


@pytest.mark.parametrize("screen", ["small", "large"])
def test_nothing_is_cut_small_or_pale(desk: Desk, pictures: Path, screen: str) -> None:
    page = desk(screen)
    page.screenshot(path=pictures / f"desk_{screen}.png")
    button(page, "Hand in an essay").click()
    page.locator(".rkd-criterion").first.click()
    page.locator(".rkd-quotes li").first.wait_for()
    button(page, "Make the sheet for the child").click()
    message(page, "The sheet for the child")
    page.locator(".rkd").scroll_into_view_if_needed()
    page.screenshot(path=pictures / f"desk_open_{screen}.png")
    assert page.locator(".rkd [title=null]").count() == 0  # what a widget without a tooltip shows
    assert page.evaluate(CUT) == []
    assert page.evaluate(SMALL, LEAST_LETTERS) == []
    assert page.evaluate(PALE, AA) == []
