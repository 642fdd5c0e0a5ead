"""A child's year: charts with what they say, and the pieces that were compared."""

from __future__ import annotations

from pathlib import Path

from ipywidgets import HTML, Dropdown

from rubric_kit.showing.drawn import data_uri
from rubric_kit.showing.growth_view import COUNTED, Growth, compared_in_words, growth, growth_words, school_years
from rubric_kit.showing.html import filled
from rubric_kit.showing.notebook.page import NotebookPage
from rubric_kit.showing.portfolio.words import day_in_words

ALL_YEARS = ("all years", "")


class YearPage(NotebookPage):
    """What a notebook draws as the last line of a cell."""

    def __init__(self, folder: Path | None) -> None:
        super().__init__(folder)
        self.year = Dropdown(description="School year")
        self.choices.children = (self.child, self.year)
        self.shown = HTML()
        self.rest.children = (self.shown,)
        self._growth: Growth | None = None
        self._when_chosen(self.year, self._show)
        self._begin()

    def __repr__(self) -> str:
        return growth_words(self._growth) if self._growth else "No child's year."

    def _another_child(self) -> None:
        with self._records() as family:
            years = school_years(family, family.students.get(self.child.value))
        options = [(year, year) for year in reversed(years)]
        self._offer(self.year, options if len(years) == 1 else [*options, ALL_YEARS], self.year.value)
        self._show()

    def _show(self) -> None:
        self.message.clear()
        with self._records() as family:
            self._growth = growth(family, family.students.get(self.child.value), self.year.value or None)
        self.shown.value = growth_html(self._growth)


def growth_html(found: Growth) -> str:
    """The charts with their headings and words, and a table of the pieces."""
    return filled(
        "year.html.j2",
        view=found,
        counted=COUNTED,
        picture=data_uri,
        said=compared_in_words,
        day=day_in_words,
    )
