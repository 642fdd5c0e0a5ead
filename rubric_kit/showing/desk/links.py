"""Links that open a written file beside the notebook."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from pathlib import Path
from urllib.parse import quote

KINDS = {".html": "web page", ".pdf": "PDF to print"}


def links(paths: Iterable[Path]) -> str:
    """A line of links."""
    each = (f'<a href="/files/{quote(str(p))}" target="_blank">{escape(KINDS[p.suffix])}</a>' for p in paths)
    return f"<p>Open: {', '.join(each)}</p>"
