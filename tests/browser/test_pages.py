"""Notebooks 2, 3 and 5 in a real browser: another child's year, a goal that is kept, a portfolio that is made."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from .test_desk import AA, CUT, LEAST_LETTERS, MOST, PALE, SMALL, message, to

pytestmark = [pytest.mark.browser, pytest.mark.slow]

YEAR, TALK, YEAR_END = "2_writing_over_the_year.ipynb", "3_talk_it_over.ipynb", "5_year_end_portfolio.ipynb"
USEFUL = {YEAR: ".rk-year h2", TALK: ".rk-talk-page h2", YEAR_END: ".rkn-group input"}
CHART_LETTERS, CHART_WIDTH = 10, 504  # points: the smallest letters of a chart, and its width
# Boxes to tick whose words are taller than their place.
TALL = """() => [...document.querySelectorAll('.rkn .widget-checkbox')].filter(e => e.offsetParent
  && (e.scrollHeight > e.clientHeight + 1 || e.clientHeight < e.firstElementChild.offsetHeight))
  .map(e => e.innerText)"""
Page = Callable[..., Any]


@pytest.fixture
def shown(lab: Callable[..., Any], run_all: Callable[..., float]) -> Page:
    def opener(notebook: str, screen: str = "small") -> Any:
        page = lab(notebook, screen)
        took = run_all(page, f"{USEFUL[notebook]}, .rkd-fault")
        assert page.locator(".rkd-fault").all_inner_texts() == []
        print(f"{notebook}: first useful output after {took:.1f} s")
        assert took < MOST
        return page

    return opener


def rows(folder: Path, query: str) -> list[Any]:
    with sqlite3.connect(folder / "family.db") as records:
        return records.execute(query).fetchall()


def press(page: Any, name: str) -> None:
    page.locator(".rkn").get_by_role("button", name=name, exact=True).click()


def another(page: Any, label: str, option: str, then: str, where: str) -> None:
    """Choose from a list by a part of an option, and wait for a word."""
    box = page.get_by_label(label, exact=True)
    wanted = box.locator("option", has_text=option).first
    wanted.wait_for(state="attached")
    box.select_option(label=wanted.text_content())
    page.locator(where, has_text=then).first.wait_for()


def test_another_childs_year_comes_with_its_charts_described(shown: Page) -> None:
    page = shown(YEAR)
    assert "Tamsin" in page.locator(".rk-year h2").inner_text()
    another(page, "Child", "Wren", then="Wren", where=".rk-year h2")
    pictures = page.locator(".rk-year img")
    alts = [picture.get_attribute("alt") for picture in pictures.all()]
    assert len(alts) == 5
    assert all(len(alt) > 60 and ("Wren" in alt or "levels" in alt) for alt in alts)
    assert page.evaluate("[...document.querySelectorAll('.rk-year img')].every(i => i.complete && i.naturalWidth)")
    text = page.locator(".rk-year").inner_text()
    assert "More than chance: " in text
    assert "Which pieces were compared" in text
    assert "Tamsin" not in text
    assert "Jonas" not in text


def test_a_goal_that_was_saved_is_in_the_records_and_what_became_of_an_earlier_one(
    shown: Page, family_folder: Path
) -> None:
    page = shown(TALK)
    another(page, "Child", "Jonas", then="Jonas", where=".rk-talk-page h2")
    assert page.locator(".rk-talk-page img").get_attribute("alt").startswith("Each dot is one piece.")
    page.get_by_placeholder("The goal that you both").fill("One <b>example</b> in each part.")
    press(page, "Save the goal")
    message(page, "Saved: the goal for Jonas")
    goal, worked, name = rows(
        family_folder,
        "SELECT c.goal, c.worked, s.name FROM conferences c JOIN drafts d ON d.id = c.draft_id JOIN assignments a ON "
        "a.id = d.assignment_id JOIN students s ON s.id = a.student_id ORDER BY c.id DESC LIMIT 1",
    )[0]
    assert (goal, name) == ("One <b>example</b> in each part.", "Jonas")
    assert worked in page.locator(".rk-talk-page").inner_text()
    page.get_by_placeholder("What became of it").first.fill("Done, twice.")
    press(page, "Save what became of them")
    message(page, "Saved: what became of 1 goal")
    assert ("Done, twice.",) in rows(family_folder, "SELECT outcome FROM conferences")
    press(page, "Make the page to print")
    message(page, "The page is in")
    paper = next((family_folder / "sheets").glob("*talk-Jonas*.pdf"))
    assert len(PdfReader(paper).pages) == 1
    with page.context.expect_page() as opened:
        page.get_by_role("link", name="web page").click()
    opened.value.get_by_text("One <b>example</b> in each part.").wait_for()


def test_a_talk_is_held_with_the_keyboard_alone(lab: Callable[..., Any], family_folder: Path) -> None:
    page = lab(TALK)
    keys = page.keyboard
    keys.press("Control+Shift+c")
    keys.type("run all cells")
    page.wait_for_timeout(500)
    keys.press("Enter")
    page.wait_for_selector(USEFUL[TALK])
    keys.press("ArrowUp")
    to(page, "Child")
    keys.type("Wren")
    page.locator(".rk-talk-page h2", has_text="Wren").wait_for()
    to(page, "The goal that you both")
    keys.type("Three slips found by me.")
    to(page, "Save the goal")
    keys.press("Space")
    message(page, "Saved: the goal for Wren")
    assert ("Three slips found by me.",) in rows(family_folder, "SELECT goal FROM conferences")


def test_a_portfolio_is_looked_at_and_made(shown: Page, family_folder: Path) -> None:
    page = shown(YEAR_END)
    page.get_by_label("Talks and goals").uncheck()
    page.get_by_label("Initials in the place of names").check()
    press(page, "Show it here")
    page.locator(".rk-portfolio h1").wait_for()
    text = page.locator(".rk-portfolio").inner_text()
    assert "Writing portfolio of T." in text
    assert "Tamsin" not in text
    assert "Talks and goals" not in text
    press(page, "Make the web page and the PDF")
    message(page, "Writing portfolio of T. is in")
    paper = next((family_folder / "sheets").glob("*portfolio*.pdf"))
    assert len(PdfReader(paper).pages) > 4
    link = page.get_by_role("link", name="PDF to print").evaluate("a => a.href")
    kind = page.evaluate("async a => (await fetch(a)).headers.get('content-type')", link)
    assert kind == "application/pdf"
    another(page, "What to make", "the report of the term", then="Show", where=".rkn button")
    press(page, "Show it here")
    page.locator(".rk-report h1").wait_for()
    assert not page.locator(".rkn-group").first.is_visible()


@pytest.mark.parametrize("screen", ["small", "large"])
@pytest.mark.parametrize("notebook", [YEAR, TALK, YEAR_END])
def test_nothing_is_cut_small_or_pale(shown: Page, pictures: Path, notebook: str, screen: str) -> None:
    page = shown(notebook, screen)
    if notebook == YEAR_END:
        press(page, "Show it here")
        page.locator(".rk-portfolio h1").wait_for()
    place = page.locator(".jp-WindowedPanel-outer").first
    page.wait_for_timeout(500)
    for n in range(4):
        page.screenshot(path=pictures / f"{notebook[:1]}_{screen}_{n}.png")
        place.evaluate("e => e.scrollBy(0, e.clientHeight * 0.9)")
        page.wait_for_timeout(200)
    assert page.evaluate(CUT) == []
    assert page.evaluate(TALL) == []
    assert page.evaluate(SMALL, LEAST_LETTERS) == []
    assert page.evaluate(PALE, AA) == []
    if notebook != YEAR_END:
        width = page.locator(".rkn .rk img").first.evaluate("e => e.getBoundingClientRect().width")
        assert width * CHART_LETTERS / CHART_WIDTH >= LEAST_LETTERS
