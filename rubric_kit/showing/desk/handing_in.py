"""An essay comes to the desk: as a file or pasted, for a child's task or only to be looked at."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from ipywidgets import HTML, Button, DatePicker, Dropdown, FileUpload, Textarea, ToggleButton

from rubric_kit.errors import UnreadableFileError
from rubric_kit.reading.files import READABLE, READERS
from rubric_kit.scoring.rubric import GRADES
from rubric_kit.scoring.rubric_file import FORMS
from rubric_kit.showing.desk.boxes import column, row, shows

PASTED = "pasted.txt"


class HandingIn:
    """``taken`` is called with the bytes and the name that they were handed in by."""

    def __init__(self, taken: Callable[[bytes, str], None]) -> None:
        self._taken = taken
        self.open = ToggleButton(description="Hand in an essay", tooltip="A file or pasted text")
        self.upload = FileUpload(
            description="Choose a file", accept=",".join(READERS), multiple=False, tooltip=f"Any of {READABLE}"
        )
        self.text = Textarea(placeholder="or paste the essay here", rows=4, tooltip="")
        self.paste = Button(description="Hand in the pasted text", tooltip="As a new draft")
        self.day = DatePicker(description="Handed in on", value=date.today(), tooltip="")
        self.grade = Dropdown(description="Grade", options=[(str(g), g) for g in GRADES], value=6, tooltip="")
        self.form = Dropdown(description="Form", options=FORMS, value="five-paragraph", tooltip="")
        hint = HTML(f'<p class="rkd-soft">Files that can be read: {READABLE}.</p>', tooltip="")
        first = row(self.upload, self.grade, self.form, self.day)
        self.widget = column(first, hint, self.text, self.paste)
        self.open.observe(lambda _: self._show(), "value")
        self._show()

    def is_for(self, *, records: bool) -> None:
        """Whether what is handed in is kept (it has a day), or only looked at (its grade and form must be told)."""
        shows(self.day, when=records)
        for widget in (self.grade, self.form):
            shows(widget, when=not records)

    def connect(self, calm: Callable[[Callable[..., None]], Callable[..., None]]) -> None:
        """Listen; ``calm`` tells in words what goes wrong."""
        self.upload.observe(calm(self._uploaded), "value")
        self.paste.on_click(calm(self._pasted))

    def _show(self) -> None:
        shows(self.widget, when=self.open.value)

    def _uploaded(self, _: Any) -> None:
        files = self.upload.value
        if not files:
            return
        self.upload.value = ()  # so that the same file can be chosen again
        self._taken(bytes(files[0]["content"]), files[0]["name"])

    def _pasted(self, _: Any) -> None:
        if not self.text.value.strip():
            raise UnreadableFileError("There is no text to hand in. Paste the essay into the box first.")
        self._taken(self.text.value.encode(errors="replace"), PASTED)
        self.text.value = ""
