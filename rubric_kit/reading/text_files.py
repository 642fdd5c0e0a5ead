"""Plain text: from bytes to characters, whatever editor saved them."""

from __future__ import annotations

import codecs
import re

from rubric_kit.errors import UnreadableFileError

# A byte-order mark names its encoding. UTF-32 comes first: its little-endian mark begins with that of UTF-16.
BYTE_ORDER_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
# English in UTF-16 has a zero in nearly every second byte (all but curly quotes and dashes) and none in the others.
UTF16_ZEROS_AT_LEAST = 0.7
UTF16_ZEROS_AT_MOST = 0.1
# Of random bytes 27 in 256 (about 0.1) are control characters; in text there are none or a stray one.
BINARY_CONTROLS_AT_LEAST = 0.02
# All but those that text may hold: backspace, tab, line and form feeds, return, the old end-of-file mark (26).
CONTROL_BYTES = bytes([*range(8), *range(14, 26), *range(27, 32), 127])

WINDOWS_ERRORS = "rubric_kit.windows_1252"
# Characters that no child types: they upset terminals, XML and databases. Half a surrogate pair is no character.
HARMFUL = re.compile("[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff]")
REPLACEMENT = "\N{REPLACEMENT CHARACTER}"


def decode(data: bytes) -> str:
    """The text in ``data``: by its byte-order mark, else UTF-16 by its zeros, else UTF-8, else Windows-1252.

    The mark is dropped; line ends stay as they are.
    Raises UnreadableFileError (without the file's name) when the bytes are no text.
    """
    encoding = "utf-8"
    for mark, marked in BYTE_ORDER_MARKS:
        if data.startswith(mark):
            data, encoding = data[len(mark) :], marked
            break
    else:
        encoding = _utf16_by_zeros(data) or encoding
    if encoding == "utf-8":
        if _is_binary(data):
            raise UnreadableFileError(
                "it holds something other than text. Open it where it was made and save it as .docx or .txt"
            )
        return data.decode("utf-8", WINDOWS_ERRORS)
    return data.decode(encoding, "replace")


def harmless(text: str) -> str:
    """The same text, one character for one, with control characters and lone surrogates replaced.

    U+0080 to U+009F are Windows-1252 characters that a converter took for Latin-1 (U+0092 is an apostrophe).
    """
    return HARMFUL.sub(lambda match: _from_windows(match[0].encode("utf-16-le", "surrogatepass")), text)


def _from_windows(utf16: bytes) -> str:
    low, high = utf16
    return bytes([low]).decode("cp1252", "replace") if high == 0 and low >= 0x80 else REPLACEMENT


def _utf16_by_zeros(data: bytes) -> str | None:
    half = len(data) // 2
    even, odd = data[::2].count(0), data[1::2].count(0)
    if odd >= UTF16_ZEROS_AT_LEAST * half > 0 and even <= UTF16_ZEROS_AT_MOST * half:
        return "utf-16-le"
    if even >= UTF16_ZEROS_AT_LEAST * half > 0 and odd <= UTF16_ZEROS_AT_MOST * half:
        return "utf-16-be"
    return None


def _is_binary(data: bytes) -> bool:
    controls = len(data) - len(data.translate(None, CONTROL_BYTES))
    return controls >= BINARY_CONTROLS_AT_LEAST * len(data) > 0


def _read_as_windows(error: UnicodeError) -> tuple[str, int]:
    """Bytes that are no UTF-8 are read as Windows-1252, so a file pasted together from both comes out whole."""
    if not isinstance(error, UnicodeDecodeError):
        raise error
    return error.object[error.start : error.end].decode("cp1252", "replace"), error.end


codecs.register_error(WINDOWS_ERRORS, _read_as_windows)
