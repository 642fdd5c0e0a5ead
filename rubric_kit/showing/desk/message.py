"""The line of a desk that says what was done, and in words what went wrong."""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from typing import Any

from ipywidgets import HTML

from rubric_kit.errors import RubricKitError
from rubric_kit.showing.inert import inert


class Message:
    """A line that screen readers speak when it changes."""

    def __init__(self) -> None:
        self.widget = HTML(tooltip="")
        self.clear()

    def clear(self) -> None:
        self.widget.value = '<p class="rkd-message" role="status"></p>'

    def say(self, text: str) -> None:
        """What was done."""
        self._show(text, "rkd-message rkd-done", "status")

    def warn(self, text: str) -> None:
        """What went wrong."""
        self._show(f"Not done. {text}", "rkd-message rkd-fault", "alert")

    def calm(self, act: Callable[..., None]) -> Callable[..., None]:
        """An act for a widget's event: whatever goes wrong in it is told here in words and never as a traceback."""

        def acted(*of_event: Any) -> None:
            try:
                act(*of_event)
            except RubricKitError as error:
                self.warn(str(error))
            except Exception as error:  # a fault of ours must not cost the reader what is on the desk
                self.warn(f"Something failed here ({type(error).__name__}: {error}). Please report this line.")

        return acted

    def _show(self, text: str, looks: str, role: str) -> None:
        self.widget.value = f'<p class="{looks}" role="{role}">{escape(inert(text))}</p>'
