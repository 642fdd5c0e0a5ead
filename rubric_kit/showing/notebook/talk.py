"""The writing conference: a page to sit beside the child with, the goal, and what became of earlier goals."""

from __future__ import annotations

import re
from datetime import date
from html import escape
from pathlib import Path

from ipywidgets import HTML, Button, Dropdown, Text, Textarea, VBox

from rubric_kit.errors import RecordsError
from rubric_kit.records.family import Family
from rubric_kit.records.pieces import pieces
from rubric_kit.showing.conference import Talk, talk, talk_html, talk_pdf
from rubric_kit.showing.conference.pages import talk_part, talk_words
from rubric_kit.showing.conference.words import words
from rubric_kit.showing.desk.links import links
from rubric_kit.showing.notebook.page import NotebookPage, called, row
from rubric_kit.showing.pages import write_whole
from rubric_kit.showing.portfolio.words import day_in_words

NOTHING = "This child has not handed in anything yet."


class TalkPage(NotebookPage):
    """What a notebook draws as the last line of a cell."""

    styles = ("talk.css",)

    def __init__(self, folder: Path | None) -> None:
        super().__init__(folder)
        say = words()["say"]
        self._talk: Talk | None = None
        self._unsaved: dict[int, str] = {}
        self.piece = Dropdown(description="Piece")
        self.choices.children = (self.child, self.piece)
        self.shown = HTML()
        self.goal = Textarea(
            placeholder="The goal that you both agree on, in the child's own words", rows=3, continuous_update=False
        )
        self.save = Button(description="Save the goal")
        self.save.add_class("rkd-main")
        self.undo = Button(description="Take the saving back")
        self.print = Button(description="Make the page to print")
        self.into = Text(description="Into folder", value=str(self._sheets), continuous_update=False)
        self.made = HTML()
        self.outcomes = VBox()
        self.save_outcomes = Button(description="Save what became of them")
        self.before = VBox([_heading(say["before"]), self.outcomes, self.save_outcomes])
        for widget in (self.goal, self.outcomes):
            widget.add_class("rkn-wide")
        self.body.children = (
            self.shown,
            _heading(say["goal"]),
            self.goal,
            row(self.save, self.undo),
            row(self.print, self.into),
        )
        self.rest.children = (self.made, self.before)
        self._listen()
        self._begin()

    def __repr__(self) -> str:
        return talk_words(self._talk) if self._talk else "No talk."

    def _listen(self) -> None:
        calm = self.message.calm
        self._when_chosen(self.piece, self._another_piece)
        self.save.on_click(calm(lambda _: self._save()))
        self.undo.on_click(calm(lambda _: self._undo()))
        self.print.on_click(calm(lambda _: self._print()))
        self.save_outcomes.on_click(calm(lambda _: self._save_outcomes()))

    def _another_child(self) -> None:
        with self._records() as family:
            handed_in = pieces(family, self.child.value, last_drafts=True)
        self._offer(self.piece, [(called(piece), piece.draft.id) for piece in reversed(handed_in)])
        self._another_piece()

    def _another_piece(self) -> None:
        self._keep_unsaved()
        self.message.clear()
        self._talk = None
        self.made.value = ""
        self.undo.layout.display = "none"
        self._display(False)
        if self.piece.value is None:
            self.message.say(NOTHING)
            return
        with self._records() as family:
            self._show(family)
        assert self._talk
        noted = self._talk.today_s
        self.goal.value = self._unsaved.pop(self.piece.value, noted.goal if noted else "")
        self._display(True)

    def _show(self, family: Family) -> None:
        """The page and the earlier goals, as the records are now."""
        self._talk = made = talk(family, self.piece.value)
        self.shown.value = talk_part(made)
        self.before.layout.display = None if made.earlier else "none"
        self.outcomes.children = [self._outcome(n) for n in range(len(made.earlier))]

    def _outcome(self, n: int) -> VBox:
        """One earlier goal, and a box for what became of it."""
        assert self._talk
        each = self._talk.earlier[n]
        told = f"<b>{escape(day_in_words(each.day))}, {escape(each.about)}:</b> {escape(each.goal)}"
        box = Text(
            value=each.outcome,
            placeholder="What became of it",
            tooltip=f"What became of the goal: {each.goal}",
            continuous_update=False,  # else a press of the button can overtake the last letters
        )
        return VBox([HTML(f"<p>{told}</p>"), box])

    def _keep_unsaved(self) -> None:
        """A goal that was typed and not saved is there again when the piece comes back."""
        old = self._talk
        if old and self.goal.value.strip() != (old.today_s.goal if old.today_s else ""):
            self._unsaved[old.draft_id] = self.goal.value

    def _save(self) -> None:
        made, goal = self._talk, self.goal.value.strip()
        if made is None:
            return
        if not goal:
            raise RecordsError("Write the goal first.")
        noted = {"worked": made.worked_sentence or made.worked, "next_step": made.step, "goal": goal}
        with self._records() as family:
            if made.today_s:
                family.conferences.change(made.today_s.id, **noted)
            else:
                family.conferences.add(made.draft_id, held_on=date.today(), **noted)
            self._show(family)
        self.undo.layout.display = None
        self.message.say(f"Saved: the goal for {made.child}.")

    def _undo(self) -> None:
        with self._records() as family:
            what = family.undo()
            self._show(family)
        self.undo.layout.display = "none"
        self.message.say(f"Taken back: {what}. The goal is still in the box.")

    def _save_outcomes(self) -> None:
        if self._talk is None:
            return
        boxes = [box.children[1].value.strip() for box in self.outcomes.children]
        new = [(e.id, text) for e, text in zip(self._talk.earlier, boxes, strict=True) if text != e.outcome]
        with self._records() as family:
            for number, text in new:
                family.conferences.change(number, outcome=text)
            self._show(family)
        self.undo.layout.display = "none"
        self.message.say(f"Saved: what became of {len(new)} goal{'s' * (len(new) != 1)}.")

    def _print(self) -> None:
        made = self._talk
        if made is None:
            return
        folder = Path(self.into.value.strip() or self._sheets).expanduser()
        name = re.sub(r"[^\w-]+", "-", f"{made.day} talk {made.child} {made.title}").strip("-")[:100]
        page, paper = folder / f"{name}.html", folder / f"{name}.pdf"
        write_whole(talk_html(made, self.goal.value).encode(), page)
        write_whole(talk_pdf(made, self.goal.value), paper)
        self.made.value = links((page, paper))
        self.message.say(f"The page is in {folder}.")


def _heading(words_of_it: str) -> HTML:
    return HTML(f'<h3 class="rkn-head">{escape(words_of_it)}</h3>')
