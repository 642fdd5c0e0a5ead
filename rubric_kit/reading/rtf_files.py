"""Rich Text Format (.rtf): one pass over its tokens, so that time stays in proportion to size.

Paragraphs, soft line breaks and tracked deletions are told apart here, which general converters do not do.
Left out: notes, headers and footers, pictures, field codes, list numbers, tracked deletions, hidden text.
"""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass, replace

from rubric_kit.errors import UnreadableFileError

TOKEN = re.compile(
    r"\\(?P<word>[a-zA-Z]{1,32})(?P<number>-?\d{1,10})?[ ]?"
    r"|\\'(?P<byte>[0-9a-fA-F]{2})"  # in the file's code page
    r"|\\(?P<symbol>[^a-zA-Z])"
    r"|(?P<brace>[{}])|[\r\n]+|(?P<plain>[^\\{}\r\n]+)|\\"
)
PARAGRAPH = "\n\n"
SPELLED = {
    "par": PARAGRAPH, "sect": PARAGRAPH, "cell": PARAGRAPH, "nestcell": PARAGRAPH, "row": PARAGRAPH,
    "line": "\n", "page": "\n", "column": "\n", "softline": "\n", "tab": "\t",
    "lquote": "‘", "rquote": "’", "ldblquote": "“", "rdblquote": "”", "emdash": "—", "endash": "–",
    "emspace": "\u2003", "enspace": "\u2002", "qmspace": "\u2005", "bullet": "•",
}  # fmt: skip
SYMBOLS = {"~": "\xa0", "_": "\u2011", "{": "{", "}": "}", "\\": "\\", "\n": PARAGRAPH, "\r": PARAGRAPH, "\t": "\t"}
# Groups that hold something other than the running text (Rich Text Format Specification 1.9.1, Microsoft 2008).
NOT_TEXT = frozenset(
    {
        "fonttbl",
        "colortbl",
        "stylesheet",
        "info",
        "header",
        "headerl",
        "headerr",
        "headerf",
        "footer",
        "footerl",
        "footerr",
        "footerf",
        "footnote",
        "annotation",
        "pict",
        "nonshppict",
        "object",
        "fldinst",
        "listtable",
        "listoverridetable",
        "listtext",
        "pntext",
        "revtbl",
        "rsidtbl",
        "xe",
        "tc",
        "txe",
        "rxe",
        "upr",
        "bkmkstart",
        "bkmkend",
        "themedata",
        "colorschememapping",
        "latentstyles",
        "datastore",
        "xmlnstbl",
        "filetbl",
        "generator",
        "title",
    }
)
CODE_PAGES = {"ansi": "cp1252", "mac": "mac_roman", "pc": "cp437", "pca": "cp850"}
STARTS = re.compile(r"\s*\{\\rtf")


@dataclass(frozen=True, slots=True)
class State:
    """What a closing brace takes back."""

    skipped: bool = False  # inside a group that is not text
    hidden: bool = False  # tracked deletion or hidden text
    after_unicode: int = 1  # plain characters that stand in for one \u character


def read_rtf(data: bytes) -> str:
    """The running text, a blank line between paragraphs; UnreadableFileError (without a name) if broken or cut off."""
    source = data.removeprefix(codecs.BOM_UTF8).decode("latin-1")  # one character a byte; code pages are applied below
    if not STARTS.match(source):
        raise UnreadableFileError(
            "it is not Rich Text. Open it where it was written and save it again as .docx or .rtf"
        )
    document = _Document()
    document.follow(source)
    if not document.closed:
        raise UnreadableFileError("the end of it is missing. Save it or send it again, or save it as .docx")
    # \u writes characters beyond U+FFFF as two halves
    text = "".join(document.pieces).encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")
    return "\n\n".join(stripped for part in text.split(PARAGRAPH) if (stripped := part.strip("\n")).strip())


class _Document:
    """Follows the tokens of a document and gathers its text in ``pieces``; ``closed`` once that has ended."""

    def __init__(self) -> None:
        self.pieces: list[str] = []
        self.closed = False
        self.stack: list[State] = []
        self.state = State()
        self.code_page = "cp1252"
        self.to_skip = 0  # stand-ins for the last \u character

    def follow(self, source: str) -> None:
        place = 0
        while not self.closed and (match := TOKEN.match(source, place)):
            place = match.end()
            if word := match["word"]:
                place += self.word(word, match["number"])
            elif brace := match["brace"]:
                self.brace(brace)
            elif plain := match["plain"]:
                skipped = min(self.to_skip, len(plain))
                self.to_skip -= skipped
                self.bytes(plain[skipped:].encode("latin-1"))
            elif symbol := match["symbol"]:
                self.symbol(symbol)
            elif self.to_skip and match["byte"]:
                self.to_skip -= 1
            elif match["byte"]:
                self.bytes(bytes.fromhex(match["byte"]))

    def show(self, text: str) -> None:
        if not (self.state.skipped or self.state.hidden):
            self.pieces.append(text)

    def bytes(self, text: bytes) -> None:
        self.show(text.decode(self.code_page, "replace"))

    def brace(self, brace: str) -> None:
        self.to_skip = 0
        if brace == "{":
            self.stack.append(self.state)
        else:
            self.state = self.stack.pop()
            self.closed = not self.stack

    def symbol(self, symbol: str) -> None:
        if symbol == "*":
            self.state = replace(self.state, skipped=True)
        else:
            self.show(SYMBOLS.get(symbol, ""))

    def word(self, word: str, number: str | None) -> int:
        """Do what a control word says; the count of raw bytes after it that are to be passed over."""
        if word == "bin":
            return max(0, int(number or 0))
        if word == "u":
            self.show(chr(int(number or 0) % 0x10000))
            self.to_skip = self.state.after_unicode
        elif word == "ansicpg":
            self.code_page = _known_code_page(f"cp{number}") or self.code_page
        elif word in CODE_PAGES:
            self.code_page = CODE_PAGES[word]
        else:
            self.state = _after_word(self.state, word, number)
            self.show(SPELLED.get(word, ""))
        return 0


def _after_word(state: State, word: str, number: str | None) -> State:
    if word in NOT_TEXT:
        return replace(state, skipped=True)
    if word in ("deleted", "v"):
        return replace(state, hidden=number != "0")
    if word == "plain":
        return replace(state, hidden=False)
    if word == "uc":
        return replace(state, after_unicode=max(0, int(number or 1)))
    return state


def _known_code_page(name: str) -> str | None:
    try:
        b"a".decode(name)
    except (LookupError, UnicodeError):
        return None
    return name
