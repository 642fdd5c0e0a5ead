"""A terminal, or a file that the output is piped into, for text that is never markup."""

from __future__ import annotations

import sys
from collections.abc import Iterable

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from rubric_kit.showing.inert import inert

WORD = 16  # letters; a column of such words (dates, numbers, forms of task) is never broken within one
WIDEST = 100  # columns; longer lines are hard to read
ASCII = str.maketrans({"“": '"', "”": '"', "‘": "'", "’": "'", "…": "...", "·": "-", "→": "->", "–": "-", "—": "-"})


class Lines:
    """A console for text that is never markup, with plain letters where the terminal knows no others."""

    def __init__(self) -> None:
        self.encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
        self.console = Console(highlight=False, markup=False, emoji=False)
        self.console.width = min(self.console.width, WIDEST)

    def say(self, text: str, style: str = "", indent: int = 0) -> None:
        for line in self.text(text, style).wrap(self.console, self.console.width - indent):
            line.rstrip()
            self.console.print(Text(" " * indent) + line)

    def blank(self) -> None:
        self.console.print()

    def heading(self, text: str) -> None:
        self.blank()
        self.say(text, "bold")

    def table(self, heads: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> None:
        table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
        cells = [[self.text(cell) for cell in row] for row in rows]
        for column, head in enumerate(heads):
            whole = all(" " not in row[column].plain and len(row[column]) <= WORD for row in cells)
            table.add_column(head, overflow="fold", no_wrap=whole)
        for row in cells:
            table.add_row(*row)
        self.console.print(table)

    def text(self, text: str, style: str = "") -> Text:
        line = inert(text)
        try:
            line.encode(self.encoding)
        except UnicodeEncodeError:
            line = line.translate(ASCII).encode(self.encoding, "replace").decode(self.encoding)
        return Text(line, style)
