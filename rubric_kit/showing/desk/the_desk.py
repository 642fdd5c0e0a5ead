"""The desk: choosing, the essay beside the levels, and the end of a marking, joined by what is done with them.

Every act opens the records for itself: a notebook may run it in another thread than the one before, and SQLite's
connections belong to one thread.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from html import escape
from pathlib import Path
from typing import Any

from ipywidgets import HTML, Button, VBox

from rubric_kit.errors import RecordsError
from rubric_kit.reading import read_bytes
from rubric_kit.records.family import Family, open_family
from rubric_kit.records.pieces import piece
from rubric_kit.records.rereading import mark_again, offer
from rubric_kit.records.rows import Draft
from rubric_kit.scoring.revision import compare
from rubric_kit.scoring.score import score
from rubric_kit.showing.desk.boxes import column, desk_box, row, shows
from rubric_kit.showing.desk.choosing import Choosing
from rubric_kit.showing.desk.closing import Closing, write_sheet
from rubric_kit.showing.desk.handing_in import HandingIn
from rubric_kit.showing.desk.levels import Levels
from rubric_kit.showing.desk.links import links
from rubric_kit.showing.desk.message import Message
from rubric_kit.showing.desk.opened import Opened, first_to_open, keep_proposal, open_draft
from rubric_kit.showing.desk.panes import Panes
from rubric_kit.showing.html import revision_html
from rubric_kit.showing.piece_view import called

NOTHING_HERE = '<div class="rk rkd-sheet"><p>{}</p></div>'
EMPTY, NOT_HANDED_IN = "Choose a file above, or paste an essay.", "Nothing was handed in for this task yet."


class Desk:
    """What a notebook draws as the last line of a cell.

    folder  the family's records; none: single files are scored and nothing is kept
    sheets  where the sheets for the children are written
    """

    def __init__(self, folder: Path | None, sheets: Path) -> None:
        self._folder = folder
        self._opened: Opened | None = None
        self._looked_at: tuple[bytes, str] | None = None
        self._seen: set[object] = set()  # of what the proposal was seen
        self._unsaved: dict[object, tuple[dict[str, int], str]] = {}
        self.message = Message()
        calm = self.message.calm
        self.handing_in = HandingIn(self._taken)
        self.choosing = Choosing(calm(self._chosen), self.handing_in.open)
        self.levels = Levels(calm, self._show, self._show_worth)
        self.closing = Closing(sheets)
        self.offered = HTML(tooltip="")
        self.reread = Button(description="Mark it again, unseen", tooltip="The old piece, without what was said of it")
        self.offer = row(self.offered, self.reread, name="rkd-offer")
        self.essay = HTML(tabbable=True, tooltip="").add_class("rkd-essay")
        self.marking = column(self.levels.widget, self.closing.widget, name="rkd-marking")
        self.revision = HTML(tooltip="")
        self._listen()
        self.box = self._arranged()
        calm(self._begin)()

    def __repr__(self) -> str:
        if self._opened is None:
            return "The desk, with nothing on it."
        piece = self._opened.piece
        return f"The desk: {called(piece) if piece else self._opened.sheet.measures.essay.source}"

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        return {**self.box._repr_mimebundle_(**options), "text/plain": repr(self)}

    def _listen(self) -> None:
        calm, closing = self.message.calm, self.closing
        self.handing_in.connect(calm)
        self.choosing.blind.observe(calm(lambda _: self._show()), "value")
        for widget in (self.handing_in.grade, self.handing_in.form):
            widget.observe(calm(lambda _: self._look_again()), "value")
        closing.take.on_click(calm(lambda _: self._take()))
        closing.save.on_click(calm(lambda _: self._save()))
        closing.undo.on_click(calm(lambda _: self._undo()))
        closing.sheet.on_click(calm(lambda _: self._make_sheet()))
        closing.compare.observe(calm(lambda _: self._compare()), "value")
        self.reread.on_click(calm(lambda _: self._reread()))

    def _arranged(self) -> VBox:
        top = (self.choosing.widget, self.handing_in.widget, self.message.widget, self.offer)
        return desk_box(*top, row(self.essay, self.marking, name="rkd-sides"), self.revision)

    @contextmanager
    def _records(self) -> Iterator[Family]:
        if self._folder is None:
            raise RecordsError("There are no records to keep it in. Begin some: rubric-kit begin.")
        with open_family(self._folder) as family:
            yield family

    def _begin(self) -> None:
        shows(self.offer, when=False)
        if self._folder is None:
            self.choosing.without_records()
            self.handing_in.open.value = True
            self._lay(None, EMPTY)
            return
        with self._records() as family:
            first = first_to_open(family)
            self.choosing.fill(family, first)
            self._open_chosen(family)
            self._offer(family)

    def _chosen(self) -> None:
        self.message.clear()
        with self._records() as family:
            self.choosing.fill(family)
            self._open_chosen(family)

    def _open_chosen(self, family: Family) -> None:
        draft, child = self.choosing.draft.value, self.choosing.child.value
        if draft and child:
            self._lay(open_draft(family, draft))
        else:
            self._lay(None, NOT_HANDED_IN if child else EMPTY)

    def _lay(self, opened: Opened | None, instead: str = "") -> None:
        """Lay something else on the desk; levels that were chosen and not saved are there again when it comes back."""
        if self._opened:
            self._unsaved[self._opened.key] = self.levels.own, self.closing.comment.value
        panes = Panes(opened.sheet) if opened else None
        self._opened, self._panes = opened, panes
        self.revision.value = ""
        self.handing_in.is_for(records=bool(self._folder and self.choosing.child.value))
        shows(self.marking, when=opened is not None)
        if opened is None:
            self.essay.value = NOTHING_HERE.format(instead)
            return
        own, comment = self._unsaved.pop(opened.key, (dict(opened.own), opened.comment))
        self.levels.fill(opened, own)
        self.closing.fill(opened, comment)
        self._show()

    @property
    def _hidden(self) -> bool:
        opened = self._opened
        unseen = self.choosing.blind.value or (opened is not None and opened.again)
        return bool(unseen and opened and opened.key not in self._seen)

    def _show(self) -> None:
        if self._opened is None or self._panes is None:
            return
        if not self._hidden:
            self._seen.add(self._opened.key)
        self.essay.value = self._panes.essay(self.levels.chosen, hidden=self._hidden)
        self.levels.show(self._panes, self._opened.as_mark, hidden=self._hidden)
        self._show_worth()

    def _show_worth(self) -> None:
        if self._opened:
            self.closing.show_worth(self._opened, self.levels.own, hidden=self._hidden)

    def _taken(self, content: bytes, name: str) -> None:
        if self._folder is None or not self.choosing.child.value:
            self._lay(self._look(content, name))
            self._looked_at = content, name
            self.message.say(f"This is {name}. It is only looked at and not kept.")
            return
        task, day = self.choosing.task.value, self.handing_in.day.value or date.today()
        if task is None:
            raise RecordsError("This child has no task yet. Set one first: rubric-kit task add.")
        with self._records() as family:
            draft = family.drafts.hand_in_bytes(task, content, name, received_on=day)
            self.choosing.fill(family, piece(family, draft.id))
            try:
                opened = open_draft(family, draft.id)
            except Exception as error:  # a fault in scoring does not cost the draft
                raise RecordsError(f"{name} is handed in and kept, but it could not be scored: {error}") from error
            keep_proposal(family, opened)
            self._lay(open_draft(family, draft.id))
        self.handing_in.open.value = False
        self.message.say(f"{name} is handed in, as draft {draft.number}, and kept as it was.")

    def _look(self, content: bytes, name: str) -> Opened:
        return Opened(score(read_bytes(content, name), self.handing_in.grade.value, self.handing_in.form.value))

    def _look_again(self) -> None:
        """Another grade or form for the file that is looked at."""
        if self._looked_at and self._opened and self._opened.piece is None:
            self._lay(self._look(*self._looked_at))

    def _take(self) -> None:
        if self._opened:
            self.levels.take({c.key: c.level for c in self._opened.sheet.criteria})

    def _save(self) -> None:
        opened, own, missing = self._opened, self.levels.own, self.levels.missing
        if opened is None or opened.piece is None:
            return
        if missing:
            raise RecordsError(f"Choose a level for {' and for '.join(missing)} first.")
        draft, today = opened.piece.draft, date.today()
        with self._records() as family:
            keep_proposal(family, opened)
            if opened.again:
                mark_again(family, draft.id, own, today=today)
            else:
                seen = opened.key in self._seen or opened.proposal_was_seen
                family.marks.add(draft.id, own, marked_on=today, comment=self.closing.comment.value, seen_proposal=seen)
            self._saved(family, opened, own)

    def _saved(self, family: Family, opened: Opened, own: dict[str, int]) -> None:
        assert opened.piece  # what has no piece is not saved
        chosen = self.levels.chosen
        self._seen.add(opened.key)
        self._unsaved.pop(opened.key, None)
        self.choosing.fill(family)
        self._opened = Opened(opened.sheet, piece(family, opened.piece.draft.id), opened.again, opened.as_mark)
        self.levels.chosen = chosen
        self._show()
        shows(self.closing.undo, when=True)
        said = f"Saved: your levels for {called(opened.piece)}."
        if opened.again:
            same = sum(opened.piece.own.get(key) == level for key, level in own.items())
            said = f"Saved. You gave the same level as before for {same} of {len(own)} criteria."
        self.message.say(said)
        self._offer(family)

    def _undo(self) -> None:
        with self._records() as family:
            what = family.undo()
            self.choosing.fill(family)
        shows(self.closing.undo, when=False)
        self.message.say(f"Taken back: {what}. Your levels are still on the desk.")

    def _offer(self, family: Family) -> None:
        old = offer(family, date.today())
        self._old = old.draft.id if old else None
        shows(self.offer, when=old is not None)
        if old:
            told = f"To see how steady you are, mark an old piece once more: {called(old)}."
            self.offered.value = f"<p>{escape(told)}</p>"

    def _reread(self) -> None:
        if self._old is None:
            return
        with self._records() as family:
            opened = open_draft(family, self._old, again=True)
            self.choosing.fill(family, opened.piece)
            self._lay(opened)
        shows(self.offer, when=False)
        self.message.say("This is the old piece. What was said of it before comes after you have saved.")

    def _make_sheet(self) -> None:
        if self._opened is None:
            return
        folder = Path(self.closing.folder.value.strip() or "sheets").expanduser()
        made = write_sheet(self._opened, self.levels.own, self.closing.comment.value, folder)
        self.closing.made.value = links(made)
        self.message.say(f"The sheet for the child is in {folder}.")

    def _compare(self) -> None:
        opened = self._opened
        if not (self.closing.compare.value and opened and opened.piece):
            self.revision.value = ""
            return
        with self._records() as family:
            before = family.sheets.score(_draft_before(family, opened.piece.draft))
        self.revision.value = revision_html(compare(before, opened.sheet))


def _draft_before(family: Family, draft: Draft) -> Draft:
    """Raises RecordsError where it is not there any more."""
    earlier = [d for d in family.drafts.of(draft.assignment_id) if d.number < draft.number]
    if not earlier:
        raise RecordsError("The draft before this one is not there any more.")
    return earlier[-1]
