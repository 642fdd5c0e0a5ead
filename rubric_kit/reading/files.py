"""From a handed-in file to its text, and to an Essay: which reader, how large, and what to say when it cannot be."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Callable
from importlib import import_module

from rubric_kit.errors import UnreadableFileError
from rubric_kit.reading.essay import Essay
from rubric_kit.reading.layout import essay_from_text
from rubric_kit.reading.text_files import decode, harmless

FILE_LIMIT = 20_000_000  # bytes: an essay with a few photographs; all of it is held in memory
TEXT_LIMIT = 2_000_000  # characters: longer than most novels, so that a book's readability can be measured too
SENTENCE_LIMIT = 5_000  # words; more is a text whose end marks and line breaks were lost
RUN_LIMIT = 1_000  # characters without a space; longer than any word or web address of a child's
NAME_LIMIT = 120  # characters of a name that a message repeats

# Each reader is imported when a file first needs it: the libraries behind some take a tenth of a second to start.
READERS = {
    ".txt": ("text_files", "decode"),
    ".text": ("text_files", "decode"),
    ".md": ("markdown_files", "read_markdown"),
    ".markdown": ("markdown_files", "read_markdown"),
    ".docx": ("office_files", "read_docx"),
    ".odt": ("office_files", "read_odt"),
    ".rtf": ("rtf_files", "read_rtf"),
    ".pdf": ("pdf_files", "read_pdf"),
}
READABLE = ".txt, .md, .docx, .odt, .rtf and .pdf"

SAVE_AS = "Open it where it was written and save or export it as .docx or .pdf"
TYPE_IT = "Type the essay into a .docx or .txt file, or run text recognition (OCR) on the picture"
# Endings that families hand in and we cannot read: what it is, what to do.
UNREADABLE = {
    **dict.fromkeys((".doc", ".dot", ".docm", ".dotx", ".wps", ".wpd", ".pages", ".sxw", ".ott", ".fodt"), SAVE_AS),
    **dict.fromkeys((".jpg", ".jpeg", ".png", ".heic", ".heif", ".gif", ".bmp", ".tif", ".tiff", ".webp"), TYPE_IT),
    **dict.fromkeys(
        (".gdoc", ".url", ".webloc", ".lnk"), "It is only a link: open it and download the essay as .docx or .pdf"
    ),
    **dict.fromkeys((".zip", ".gz", ".7z", ".rar", ".tar"), "Unpack it and hand in the essay that is inside"),
    **dict.fromkeys((".htm", ".html", ".epub", ".mobi"), "Copy the essay into a .docx or .txt file"),
}

# How files begin whose name may hide what they are: what it is, the endings that suit it, what to do.
BEGINNINGS = (
    (b"%PDF-", "a PDF", (".pdf",), "Rename it to end in .pdf"),
    (b"{\\rtf", "a Rich Text file", (".rtf",), "Rename it to end in .rtf"),
    (
        b"PK\x03\x04",
        "a zip archive, as .docx and .odt are,",
        (".docx", ".odt"),
        f"{SAVE_AS}, or rename it to its true ending",
    ),
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an old or locked Word file", (".docx", ".odt"), SAVE_AS),
    (b"\x89PNG\r\n\x1a\n", "a picture", (), TYPE_IT),
    (b"\xff\xd8\xff", "a picture", (), TYPE_IT),
    (b"GIF8", "a picture", (), TYPE_IT),
    (b"\x1f\x8b", "a packed file", (), "Unpack it and hand in the essay that is inside"),
)

NOT_OPENED = {
    errno.ENOENT: "there is no such file. Check the name and the folder",
    errno.ENOTDIR: "there is no such file. Check the name and the folder",
    errno.EACCES: "it may not be read. Ask its owner, or change the file's permissions",
    errno.EPERM: "it may not be read. Ask its owner, or change the file's permissions",
    errno.EISDIR: "it is a folder. Name the file in it that holds the essay",
    errno.ELOOP: "it is a link that leads back to itself. Name the file itself",
    errno.ENAMETOOLONG: "the name is too long. Rename the file",
}


def read(path: str | os.PathLike[str]) -> Essay:
    """Read a handed-in file: .txt, .md, .docx, .odt, .rtf or .pdf (text layer).

    Offsets of the essay's parts index ``essay.text``; ``essay.source`` is the path, with ``?`` for control characters.
    Raises UnreadableFileError, in one line, when the file cannot be opened, is damaged, locked, too large or of another
    kind, or has no words to mark.
    """
    return _essay(text_of(path), printable(os.fspath(path)))


def read_piped(data: bytes, source: str = "pasted text") -> Essay:
    """Read a text as bytes in any encoding that a .txt file may have; errors as for ``read``."""
    try:
        text = decode(data)
    except UnreadableFileError as error:
        raise UnreadableFileError(_message(source, error)) from error
    return read_text(text, source)


def read_bytes(data: bytes, name: str) -> Essay:
    """Read a file's bytes under the name that it was handed in by; errors as for ``read``. No file is opened."""
    return _essay(_text(name, lambda: _within_limit(data)), printable(name))


def read_text(text: str, source: str = "pasted text") -> Essay:
    """Read a text that was pasted or typed; raises UnreadableFileError when it has no words or is too long."""
    source = printable(source)
    try:
        text = _checked(harmless(text.removeprefix("\ufeff")))
    except UnreadableFileError as error:
        raise UnreadableFileError(_message(source, error)) from error
    return _essay(text, source)


def text_of(path: str | os.PathLike[str]) -> str:
    """The text of a file, a blank line between paragraphs where the format knows paragraphs; errors as for ``read``.

    Of a .txt file it is what was decoded, line ends and all, but for a byte-order mark and what ``harmless`` replaces.
    """
    name = os.fspath(path)
    return _text(name, lambda: _bytes(name))


def bytes_of(path: str | os.PathLike[str]) -> bytes:
    """What is in a file, for ``read_bytes``; errors of opening it as for ``read``."""
    name = os.fspath(path)
    try:
        return _bytes(name)
    except UnreadableFileError as error:
        raise UnreadableFileError(_message(name, error)) from error


def printable(name: str) -> str:
    """A name that is safe to show: every control or invisible character is replaced by a question mark."""
    return "".join(character if character.isprintable() else "?" for character in name)


def _text(name: str, data_of: Callable[[], bytes]) -> str:
    try:
        data = data_of()
        return _checked(harmless(_reader(os.path.splitext(name)[1].lower(), data)(data)))
    except UnreadableFileError as error:
        raise UnreadableFileError(_message(name, error)) from error
    except Exception as error:  # a damaged file makes the libraries behind the readers raise almost anything
        raise UnreadableFileError(_message(name, f"it is damaged or of an unknown variety. {SAVE_AS}")) from error


def _essay(text: str, source: str) -> Essay:
    run = max(map(len, text.split()))
    if run > RUN_LIMIT:
        what = f"it has {run:,} characters in a row without a space. Check that its spaces were saved"
        raise UnreadableFileError(_message(source, what))
    essay = essay_from_text(text, source)
    if not essay.words:
        raise UnreadableFileError(_message(source, "it has no sentence to mark. Check that the essay was saved whole"))
    longest = max(len(sentence.words) for sentence in essay.sentences)
    if longest > SENTENCE_LIMIT:
        what = f"it has {longest:,} words without an end mark. Check that its periods and line breaks were saved"
        raise UnreadableFileError(_message(source, what))
    return essay


def _bytes(name: str) -> bytes:
    try:
        status = os.stat(name)
        if stat.S_ISDIR(status.st_mode):
            raise IsADirectoryError(errno.EISDIR, name)
        if not stat.S_ISREG(status.st_mode):  # reading a pipe or a device could wait for ever
            raise UnreadableFileError("it is a device or a pipe, not a file. Name the file that holds the essay")
        with open(name, "rb") as file:
            data = file.read(FILE_LIMIT + 1)
    except OSError as error:
        what = NOT_OPENED.get(error.errno or 0, "it cannot be opened. Check the disk, or copy the file elsewhere")
        raise UnreadableFileError(what) from error
    except ValueError as error:  # a NUL in the name
        raise UnreadableFileError(NOT_OPENED[errno.ENOENT]) from error
    return _within_limit(data)


def _within_limit(data: bytes) -> bytes:
    if len(data) > FILE_LIMIT:
        raise UnreadableFileError(
            f"it is larger than {FILE_LIMIT // 1_000_000} MB. Hand in the essay alone, without pictures"
        )
    if not data:
        raise UnreadableFileError("it is empty. Check that the essay was saved in it")
    return data


def _reader(ending: str, data: bytes) -> Callable[[bytes], str]:
    if ending not in READERS:
        if ending in UNREADABLE:
            raise UnreadableFileError(f"{ending} files cannot be read. {UNREADABLE[ending]}")
        what = f"the ending {printable(ending)[:NAME_LIMIT]} is not known" if ending else "its name has no ending"
        raise UnreadableFileError(f"{what}. Save the essay as one of {READABLE}")
    for beginning, what, endings, remedy in BEGINNINGS:
        if data.startswith(beginning) and ending not in endings:
            raise UnreadableFileError(f"it is {what} under another name. {remedy}")
    module, function = READERS[ending]
    reader: Callable[[bytes], str] = getattr(import_module(f"rubric_kit.reading.{module}"), function)
    return reader


def _checked(text: str) -> str:
    if len(text) > TEXT_LIMIT:
        raise UnreadableFileError(f"its text is longer than {TEXT_LIMIT:,} characters. Hand in one essay at a time")
    if not text or text.isspace():
        raise UnreadableFileError("it has no text in it, only blank space. Check that the essay was saved in it")
    if not any(character.isalpha() for character in text):
        raise UnreadableFileError("it has no words in it. Check that this is the essay")
    return text


def _message(name: str, what: object) -> str:
    shown = printable(name) or "(no name)"
    if len(shown) > NAME_LIMIT:
        shown = f"{shown[: NAME_LIMIT // 3]}…{shown[-NAME_LIMIT // 3 * 2 :]}"
    return f"{shown}: {what}."
