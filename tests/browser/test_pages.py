"""Notebooks 2, 3 and 5 in a real browser: another child's year, a goal that is kept, a portfolio that is made."""

from __future__ import annotations

import re
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
Page = Callable[..., Any]


@pytest.fixture
def shown(lab: Callable[..., Any], run_all: Callable[..., float]) -> Page:
    def opener(notebook: str, screen: str = "small") -> Any:
        page = lab(notebook, screen)
        took = run_all(page, USEFUL[notebook])
        print(f"{notebook}: first useful output after {took:.1f} s")
        assert took < MOST
        return page

    return opener


def rows(folder: Path, query: str) -> list[Any]:
    with sqlite3.connect(folder / "family.db") as records:
        return records.execute(query).fetchall()


def another(page: Any, label: str, option: str, then: str, where: str) -> None:
    """Choose from a list by how an option begins, and wait for a heading."""
    box = page.get_by_label(label, exact=True)
    box.locator("option", has_text=option).first.wait_for(state="attached")
    wanted = next(text for text in box.locator("option").all_text_contents() if text.startswith(option))
    box.select_option(label=wanted)
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
    page.get_by_text("Save the goal", exact=True).click()
    message(page, "Saved: the goal for Jonas")
    goal, worked, name = rows(
        family_folder,
        "SELECT c.goal, c.worked, s.name FROM conferences c JOIN drafts d ON d.id = c.draft_id JOIN assignments a ON "
        "a.id = d.assignment_id JOIN students s ON s.id = a.student_id ORDER BY c.id DESC LIMIT 1",
    )[0]
    assert (goal, name) == ("One <b>example</b> in each part.", "Jonas")
    assert worked in page.locator(".rk-talk-page").inner_text()
    page.get_by_placeholder("What became of it").first.fill("Done, twice.")
    page.get_by_text("Save what became of them", exact=True).click()
    message(page, "Saved: what became of 1 goal")
    assert ("Done, twice.",) in rows(family_folder, "SELECT outcome FROM conferences")
    page.get_by_text("Make the page to print", exact=True).click()
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
    page.get_by_text("Show it here", exact=True).click()
    page.locator(".rk-portfolio h1").wait_for()
    text = page.locator(".rk-portfolio").inner_text()
    assert "Writing portfolio of T." in text
    assert "Tamsin" not in text
    assert "Talks and goals" not in text
    page.get_by_text("Make the web page and the PDF", exact=True).click()
    message(page, "Writing portfolio of T. is in")
    paper = next((family_folder / "sheets").glob("*portfolio*.pdf"))
    assert len(PdfReader(paper).pages) > 4
    with page.expect_request(re.compile(r"/files/.*portfolio.*\.pdf")) as asked:
        page.get_by_role("link", name="PDF to print").click()
    assert asked.value.response().status == 200
    another(page, "What to make", "the report of the term", then="Show", where=".rkn button")
    page.get_by_text("Show it here", exact=True).click()
    page.locator(".rk-report h1").wait_for()
    assert not page.locator(".rkn-group").first.is_visible()


@pytest.mark.parametrize("screen", ["small", "large"])
@pytest.mark.parametrize("notebook", [YEAR, TALK, YEAR_END])
def test_nothing_is_cut_small_or_pale(shown: Page, pictures: Path, notebook: str, screen: str) -> None:
    page = shown(notebook, screen)
    if notebook == YEAR_END:
        page.get_by_text("Show it here", exact=True).click()
        page.locator(".rk-portfolio h1").wait_for()
    place = page.locator(".jp-WindowedPanel-outer").first
    page.wait_for_timeout(500)
    for n in range(4):
        page.screenshot(path=pictures / f"{notebook[:1]}_{screen}_{n}.png")
        place.evaluate("e => e.scrollBy(0, e.clientHeight * 0.9)")
        page.wait_for_timeout(200)
    assert page.evaluate(CUT) == []
    assert page.evaluate(SMALL, LEAST_LETTERS) == []
    assert page.evaluate(PALE, AA) == []
    if notebook != YEAR_END:
        width = page.locator(".rkn .rk img").first.evaluate("e => e.getBoundingClientRect().width")
        assert width * CHART_LETTERS / CHART_WIDTH >= LEAST_LETTERS
