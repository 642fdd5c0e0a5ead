"""The end of a year or term: choose what goes in, look at it, write it as a web page and a PDF."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Generic, TypeVar

from ipywidgets import HTML, Button, Checkbox, Dropdown, GridBox, Text, VBox

from rubric_kit.records.family import Family
from rubric_kit.records.people import school_year_of
from rubric_kit.showing.charts.year import YEAR
from rubric_kit.showing.desk.links import links
from rubric_kit.showing.growth_view import words as year_words
from rubric_kit.showing.inert import short
from rubric_kit.showing.notebook.page import NAME, NotebookPage, called, row
from rubric_kit.showing.portfolio import PARTS, Paper, portfolio, preview, term_report, write_html, write_pdf
from rubric_kit.showing.portfolio.figures import USUAL
from rubric_kit.showing.portfolio.material import day_of, of_year
from rubric_kit.showing.portfolio.pieces import chosen
from rubric_kit.showing.portfolio.views import Portfolio, TermReport
from rubric_kit.showing.portfolio.words import words

THE_YEAR = ("the portfolio of the year", 0)
PAPERS = [("US Letter", Paper.letter), ("A4", Paper.a4)]
NOTHING = "This child has no task yet. Set one in a terminal: rubric-kit task add"
MAKING = "One moment, it is being made."

Key = TypeVar("Key", int, str)


class Ticks(Generic[Key]):
    """Boxes to tick under a heading. ``ticked`` are the keys of those that are."""

    def __init__(self, heading: str) -> None:
        self._boxes: dict[Key, Checkbox] = {}
        self._grid = GridBox(layout={"grid_template_columns": "repeat(auto-fill, minmax(22rem, 1fr))"})
        self.widget = VBox([HTML(f'<h3 class="rkn-head">{heading}</h3>'), self._grid])
        self.widget.add_class("rkn-group")

    def fill(self, options: Mapping[Key, str], ticked: Collection[Key]) -> None:
        self._boxes = {
            key: Checkbox(value=key in ticked, description=name, indent=False) for key, name in options.items()
        }
        self._grid.children = list(self._boxes.values())

    @property
    def ticked(self) -> list[Key]:
        return [key for key, box in self._boxes.items() if box.value]

    @property
    def names(self) -> list[str]:
        return [box.description for box in self._boxes.values() if box.value]


class YearEndPage(NotebookPage):
    """What a notebook draws as the last line of a cell."""

    styles = ("portfolio.css", "report.css")

    def __init__(self, folder: Path | None) -> None:
        super().__init__(folder)
        self.year = Dropdown(description="School year")
        self.document = Dropdown(description="What to make")
        self.choices.children = (self.child, self.year, self.document)
        self.pieces = Ticks[int]("Pieces in full")
        self.parts = Ticks[str]("Parts")
        self.charts = Ticks[str]("Charts")
        self.choosing = VBox([self.pieces.widget, self.parts.widget, self.charts.widget])
        self.initials = Checkbox(description="Initials in the place of names", indent=False)
        self.kept_by = Text(
            description="Records kept by", placeholder="left empty: a line to sign on", continuous_update=False
        )
        self.paper = Dropdown(description="Paper", options=PAPERS)
        self.look = Button(description="Show it here")
        self.make = Button(description="Make the web page and the PDF")
        self.make.add_class("rkd-main")
        self.into = Text(description="Into folder", value=str(self._sheets), continuous_update=False)
        self.made = HTML()
        self.shown = HTML(tabbable=True)
        self.shown.add_class("rkn-preview")
        self.body.children = (
            self.choosing,
            row(self.initials, self.kept_by, self.paper),
            row(self.look, self.make, self.into),
        )
        self.rest.children = (self.made, self.shown)
        self._listen()
        self._begin()

    def __repr__(self) -> str:
        if self.year.value is None:
            return "No portfolio."
        told = [f"{self.child.label}, {self.year.value}: {self.document.label}"]
        for heading, ticks in (("Pieces", self.pieces), ("Parts", self.parts), ("Charts", self.charts)):
            told.append(f"{heading}: {'; '.join(ticks.names) or 'none'}")
        return "\n".join(told)

    def _listen(self) -> None:
        calm = self.message.calm
        self._when_chosen(self.year, self._another_year)
        self._when_chosen(self.document, self._another_document)
        self.look.on_click(calm(lambda _: self._look()))
        self.make.on_click(calm(lambda _: self._make()))

    def _another_child(self) -> None:
        with self._records() as family:
            years = years_of(family, self.child.value)
        self._offer(self.year, [(year, year) for year in reversed(years)], self.year.value)
        self._another_year()

    def _another_year(self) -> None:
        self.message.clear()
        self._display(bool(self.year.value))
        self.document.layout.display = None if self.year.value else "none"
        if self.year.value is None:
            self.message.say(NOTHING)
            return
        with self._records() as family:
            terms = [t for t in family.terms.all() if school_year_of(t.begins) == self.year.value]
            material = of_year(family, family.students.get(self.child.value), self.year.value, False, ())
        usual = {piece.draft.id for piece, _ in chosen(material, None)}
        self._offer(
            self.document,
            [THE_YEAR, *((f"the report of the term {short(t.name, NAME)}", t.id) for t in terms)],
        )
        self.pieces.fill({piece.draft.id: called(piece) for piece in material.drafts}, usual)
        self.parts.fill(words()["parts"], PARTS)
        self.charts.fill({name: year_words()[name]["heading"] for name in YEAR}, USUAL)
        self._another_document()

    def _another_document(self) -> None:
        whole = not self.document.value
        for widget in (self.choosing, self.kept_by):
            widget.layout.display = None if whole else "none"
        self.made.value = ""
        self._show("")

    def _view(self) -> Portfolio | TermReport:
        """The document as it was chosen. Raises RecordsError, as where a draft's file is gone."""
        with self._records() as family:
            if self.document.value:
                term = family.terms.get(self.document.value)
                return term_report(family, self.child.value, term, initials=self.initials.value)
            return portfolio(
                family,
                self.child.value,
                self.year.value,
                pieces=self.pieces.ticked,
                charts=self.charts.ticked,
                include=self.parts.ticked,
                initials=self.initials.value,
                kept_by=self.kept_by.value.strip(),
            )

    def _look(self) -> None:
        self.message.say(MAKING)
        view = self._view()
        self._show(preview(view).html)
        self.message.say(f"{view.title}, below.")

    def _show(self, html: str) -> None:
        self.shown.value = html
        self.shown.layout.display = None if html else "none"

    def _make(self) -> None:
        self.message.say(MAKING)
        view = self._view()
        folder = Path(self.into.value.strip() or self._sheets).expanduser()
        name = re.sub(r"[^\w-]+", "-", f"{self.year.value} {view.title}").strip("-")[:100]
        page, paper = folder / f"{name}.html", folder / f"{name}.pdf"
        write_html(view, page)
        write_pdf(view, paper, self.paper.value)
        self.made.value = links((page, paper))
        self.message.say(f"{view.title} is in {folder}.")


def years_of(family: Family, student_id: int) -> list[str]:
    """The school years in which the child had a task, first to last."""
    tasks = {task.id: task for task in family.tasks.all()}
    return sorted({school_year_of(day_of(tasks[a.task_id], a)) for a in family.tasks.assignments(student_id)})
