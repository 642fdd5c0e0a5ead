"""Markdown: the child's words without the marks. Lines, indents and blank lines stay as they were typed."""

from __future__ import annotations

import re

from rubric_kit.reading.text_files import decode

FRONT_MATTER = re.compile(r"\A---[ \t]*\n(?:.*\n)*?(?:---|\.\.\.)[ \t]*(?:\n|\Z)")
COMMENT = re.compile(r"<!--(?:(?!<!--|-->).)*-->", re.DOTALL)
RULE = re.compile(r"^ {0,3}(?:(?:\*[ \t]*){3,}|(?:-[ \t]*){3,}|(?:_[ \t]*){3,}|=+[ \t]*)$", re.MULTILINE)
FENCE = re.compile(r"^ {0,3}(?:```|~~~).*$", re.MULTILINE)
HEADING = re.compile(r"^ {0,3}#{1,6}[ \t]++(.*)$\n?", re.MULTILINE)
UNDERLINED_HEADING = re.compile(r"^(\S.*)\n {0,3}(?:=+|-{2,})[ \t]*$", re.MULTILINE)
QUOTE_MARK = re.compile(r"^ {0,3}(?:>[ \t]?)+", re.MULTILINE)
PICTURE = re.compile(r"!\[[^\]\[\n]{0,500}\]\([^()\n]{0,2000}\)")
LINK = re.compile(r"\[([^\]\[\n]{1,500})\](?:\([^()\n]{0,2000}\)|\[[^\]\n]{0,200}\])")
LINK_DEFINITION = re.compile(r"^ {0,3}\[[^\]\n]+\]:[ \t]*\S+.*$", re.MULTILINE)
ADDRESS = re.compile(r"<(?:https?|mailto):[^<>\s]+>")
# An opening mark touches the word after it and a closing mark the word before: "2 * 3" and "snake_case" are left alone.
EMPHASIS = tuple(
    re.compile(rf"(?<![\\\w{c}])({c}{{1,3}})(?=[^\s{c}])((?:[^{c}\n]|\n(?![ \t]*\n))*?[^\s{c}\\])\1(?![\w{c}])")
    for c in (r"\*", "_", "~", "`")
)
BLANK_LINES = re.compile(r"\n{3,}")  # where marks stood
ESCAPED = re.compile(r"\\([\\`*_{}\[\]()#+\-.!>~|])")


def read_markdown(data: bytes) -> str:
    """The text of a Markdown file; raises UnreadableFileError (without the file's name) as ``decode`` does."""
    return without_marks(decode(data))


def without_marks(text: str) -> str:
    """Markdown as plain text: what would be seen when it is shown, laid out as it was typed.

    A heading becomes a paragraph of its own. Emphasis, quotation and code marks go, a link keeps its words, pictures,
    comments, rules and front matter go altogether; list marks stay, as they would in a text file.
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    text = FRONT_MATTER.sub("", text)
    text = COMMENT.sub("", text)
    text = UNDERLINED_HEADING.sub(r"\n\1\n", text)
    for marks in (RULE, FENCE, LINK_DEFINITION, QUOTE_MARK, PICTURE):
        text = marks.sub("", text)
    text = HEADING.sub(lambda heading: f"\n{_without_closing_marks(heading[1])}\n\n", text)
    text = LINK.sub(r"\1", text)
    text = ADDRESS.sub("", text)
    for _ in range(2):  # emphasis may stand inside emphasis: the inner first
        for marks in EMPHASIS:
            text = marks.sub(r"\2", text)
    text = ESCAPED.sub(r"\1", text)
    return BLANK_LINES.sub("\n\n", text).strip("\n")


def _without_closing_marks(heading: str) -> str:
    """Of "The boat ##" it leaves "The boat", of "C#" all. In steps: one pattern would take the square of the time."""
    heading = heading.rstrip(" \t")
    bare = heading.rstrip("#")
    return bare.rstrip(" \t") if bare.endswith((" ", "\t")) else heading
