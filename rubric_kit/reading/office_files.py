"""Word (.docx) and OpenDocument (.odt) texts: the paragraphs of the main text, a blank line between them.

Both are zip archives with one XML part that holds the running text; only that part is unpacked, and it is read as a
stream of events, so that no entity is ever resolved and neither depth nor size can exhaust memory. Kept: tracked
insertions, links, tables (each cell's paragraphs), soft line breaks (a new line) and tabs. Left out: tracked
deletions, comments, notes, headers and footers, text boxes and drawings, field codes, automatic list numbers and
hidden text.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping
from xml.etree import ElementTree

from rubric_kit.errors import UnreadableFileError

# Bytes of XML in the main part: 2 million characters at 16 bytes of markup each, more than Word's busiest markup takes.
MARKUP_LIMIT = 32_000_000

OLD_OR_LOCKED = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"  # Compound File Binary: an old .doc or a locked .docx
LOCKED_STREAM = "EncryptedPackage".encode("utf-16-le")
WORD_PART = re.compile(r"word/document\d*\.xml")  # some online editors number it
SAVE_AGAIN = "Open it where it was written and save it again as .docx or .pdf"


class _Paragraphs:
    """A target for ElementTree.XMLParser: follows the events of one part and gathers its paragraphs."""

    not_text: frozenset[str] = frozenset()

    def __init__(self) -> None:
        self.paragraphs: list[str] = []
        self.pieces: list[str] = []
        self.skipped = 0  # how deep inside an element that is not text
        self.skipped_for = ""

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        name = _local(tag)
        if self.skipped:
            self.skipped += 1
            self.inside_skipped(name, attributes)
        elif name in self.not_text:
            self.skipped = 1
            self.skipped_for = name
        else:
            self.opened(name, attributes)

    def end(self, tag: str) -> None:
        if self.skipped:
            self.skipped -= 1
        else:
            self.closed(_local(tag))

    def doctype(self, name: str, public: str | None, system: str | None) -> None:
        """No word processor writes one; it could define entities that swell or fetch."""
        raise UnreadableFileError(f"it holds definitions that no essay needs. {SAVE_AGAIN}")

    def close(self) -> str:
        return "\n\n".join(stripped for text in self.paragraphs if (stripped := text.strip("\n")).strip())

    def inside_skipped(self, name: str, attributes: Mapping[str, str]) -> None:
        """What an element that is not text says about the text; nothing, unless a format says so."""

    def opened(self, name: str, attributes: Mapping[str, str]) -> None:
        raise NotImplementedError

    def closed(self, name: str) -> None:
        raise NotImplementedError


class _WordParagraphs(_Paragraphs):
    """WordprocessingML (ECMA-376 part 1, chapter 17), transitional or strict."""

    not_text = frozenset(
        {
            "pPr",
            "rPr",
            "sectPr",
            "tblPr",
            "tblGrid",
            "trPr",
            "tcPr",
            "sdtPr",
            "sdtEndPr",
            "del",
            "moveFrom",
            "instrText",
            "delText",
            "delInstrText",
            "drawing",
            "pict",
            "object",
            "oMath",
            "oMathPara",
            "rt",
        }
    )
    spelled: Mapping[str, str] = {"tab": "\t", "ptab": "\t", "br": "\n", "cr": "\n", "noBreakHyphen": "\u2011"}

    def __init__(self) -> None:
        super().__init__()
        self.in_text = False
        self.hidden = False
        self.joined = False  # this paragraph's end was deleted: the next one goes on in the same line

    def opened(self, name: str, attributes: Mapping[str, str]) -> None:
        if name == "t":
            self.in_text = True
        elif name == "r":
            self.hidden = False
        elif name in self.spelled and not self.hidden:
            self.pieces.append(self.spelled[name])

    def closed(self, name: str) -> None:
        if name == "t":
            self.in_text = False
        elif name == "p":
            if not self.joined:
                self.paragraphs.append("".join(self.pieces))
                self.pieces.clear()
            self.joined = False

    def inside_skipped(self, name: str, attributes: Mapping[str, str]) -> None:
        if self.skipped_for == "pPr" and name == "del":
            self.joined = True
        elif self.skipped_for == "rPr" and name == "vanish":
            self.hidden = not {"0", "false", "off"} & set(attributes.values())

    def data(self, text: str) -> None:
        if self.in_text and not self.skipped and not self.hidden:
            self.pieces.append(text)

    def close(self) -> str:
        self.paragraphs.append("".join(self.pieces))
        return super().close()


class _OpenParagraphs(_Paragraphs):
    """OpenDocument 1.3 part 3, chapters 5 and 6: runs of white space count as one space, others are elements."""

    not_text = frozenset(
        {
            "tracked-changes",
            "note",
            "annotation",
            "frame",
            "custom-shape",
            "ruby-text",
            "sequence-decls",
            "variable-decls",
            "user-field-decls",
            "table-of-content",
            "forms",
            "automatic-styles",
            "font-face-decls",
            "scripts",
        }
    )
    # Spaces that must not be merged stand as NUL, which XML cannot hold, until the paragraph is whole.
    spelled: Mapping[str, str] = {"tab": "\t", "line-break": "\n"}
    typed_space = "\0"
    most_spaces = 1000  # in one element: a page is at most some hundred characters wide

    def __init__(self) -> None:
        super().__init__()
        self.depth = 0

    def opened(self, name: str, attributes: Mapping[str, str]) -> None:
        if name in ("p", "h"):
            self.depth += 1
        elif name == "s":
            count = next((value for key, value in attributes.items() if _local(key) == "c"), "1")
            self.pieces.append(self.typed_space * (min(int(count), self.most_spaces) if count.isdecimal() else 1))
        elif name in self.spelled:
            self.pieces.append(self.spelled[name])

    def closed(self, name: str) -> None:
        if name in ("p", "h"):
            self.depth -= 1
            text = re.sub(" +", " ", "".join(self.pieces)).strip(" ")
            self.paragraphs.append(text.replace(self.typed_space, " "))
            self.pieces.clear()

    def data(self, text: str) -> None:
        if self.depth and not self.skipped:
            self.pieces.append(re.sub(r"[ \t\r\n]+", " ", text))


def read_docx(data: bytes) -> str:
    """The main text of a Word document; raises UnreadableFileError without the file's name."""
    with _archive(data, "Word document") as archive:
        names = archive.namelist()
        part = next((name for name in names if WORD_PART.fullmatch(name)), None)
        if part is None:
            raise UnreadableFileError(_what_it_is_instead(names))
        return _text(archive, part, _WordParagraphs())


def read_odt(data: bytes) -> str:
    """The main text of an OpenDocument text; raises UnreadableFileError without the file's name."""
    with _archive(data, "OpenDocument text") as archive:
        names = archive.namelist()
        manifest = "META-INF/manifest.xml"
        if "encrypted-package" in names or (manifest in names and b":encryption-data" in _part(archive, manifest)):
            raise UnreadableFileError(f"it is locked with a password. {SAVE_AGAIN} without a password")
        if "content.xml" not in names:
            raise UnreadableFileError(_what_it_is_instead(names))
        return _text(archive, "content.xml", _OpenParagraphs())


def _archive(data: bytes, kind: str) -> zipfile.ZipFile:
    if data.startswith(OLD_OR_LOCKED):
        if LOCKED_STREAM in data:
            raise UnreadableFileError(f"it is locked with a password. {SAVE_AGAIN} without a password")
        raise UnreadableFileError(f"it is an old Word file (.doc) under another name. {SAVE_AGAIN}")
    if not data.startswith(b"PK"):
        raise UnreadableFileError(f"it is not a {kind}, whatever its name says. {SAVE_AGAIN}")
    try:
        return zipfile.ZipFile(io.BytesIO(data))
    except zipfile.BadZipFile as error:
        raise UnreadableFileError(f"the {kind} is cut off or damaged. Copy or send it again. {SAVE_AGAIN}") from error


def _what_it_is_instead(names: list[str]) -> str:
    if "content.xml" in names:
        return "it is an OpenDocument file under another name. If it is a text, rename it to end in .odt"
    if any(WORD_PART.fullmatch(name) for name in names):
        return "it is a Word document under another name. Rename it to end in .docx"
    return "it is a zip archive, not a text document. Unpack it and hand in the essay that is inside"


def _text(archive: zipfile.ZipFile, part: str, paragraphs: _Paragraphs) -> str:
    parser = ElementTree.XMLParser(target=paragraphs)
    parser.feed(_part(archive, part))
    return str(parser.close())  # what ``paragraphs.close`` gives


def _part(archive: zipfile.ZipFile, name: str) -> bytes:
    """One part, unpacked no further than the limit, whatever size the archive claims for it."""
    with archive.open(name) as packed:
        data = packed.read(MARKUP_LIMIT + 1)
    if len(data) > MARKUP_LIMIT:
        raise UnreadableFileError(
            f"it unpacks to more than {MARKUP_LIMIT // 1_000_000} MB of text. Hand in the essay alone, as .txt"
        )
    return data


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]
