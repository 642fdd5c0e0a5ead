"""Links to files that were just written, where the notebook's own server can give them out."""

from __future__ import annotations

import os
from collections.abc import Iterable
from html import escape
from pathlib import Path
from urllib.parse import quote

from rubric_kit.showing.notebooks import SERVED_VARIABLE

# What a file is and how its link opens it; a browser shows no PDF that a notebook server gives out, but keeps it.
KINDS = {".html": ("open the web page", 'target="_blank"'), ".pdf": ("get the PDF to print", "download")}


def links(paths: Iterable[Path]) -> str:
    """A line of links; "" where the files are outside of the folder that ``rubric-kit open`` serves."""
    served = Path(os.environ.get(SERVED_VARIABLE, os.devnull)).resolve()
    inside = [path.resolve() for path in paths if path.resolve().is_relative_to(served)]
    return (
        f"<p>For the child: {', '.join(_link(path, path.relative_to(served)) for path in inside)}</p>" if inside else ""
    )


def _link(path: Path, served_as: Path) -> str:
    words, how = KINDS[path.suffix]
    return f'<a href="/files/{quote(served_as.as_posix())}" {how}>{escape(words)}</a>'
