"""Widgets for desks in notebooks: what all of them need is said once.

The outermost box of a desk has the class ``rkd``: it carries the look (templates/desk.css) and keeps JupyterLab's keys
for cells away from what is in it.
"""

from __future__ import annotations

from functools import cache

from ipywidgets import HTML, DOMWidget, HBox, VBox

from rubric_kit.showing.html import style_of


def desk_box(*children: DOMWidget) -> VBox:
    """The outermost box, with the look of a desk."""
    return column(HTML(_style(), tooltip=""), *children, name="rkd")


def row(*children: DOMWidget, name: str = "rkd-row") -> HBox:
    """Side by side; by its class, in as many lines as are needed."""
    return _named(HBox(children, tooltip=""), name)


def column(*children: DOMWidget, name: str = "") -> VBox:
    return _named(VBox(children, tooltip=""), name)


def shows(widget: DOMWidget, *, when: bool) -> None:
    """Whether a widget is there to be seen and reached."""
    widget.layout.display = None if when else "none"


def _named(box: DOMWidget, name: str) -> DOMWidget:
    return box.add_class(name) if name else box


@cache
def _style() -> str:
    return f"<style>{style_of(('sheet.css', 'desk.css'))}</style>"
