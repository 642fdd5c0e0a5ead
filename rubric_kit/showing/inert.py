"""A child's text made safe to show: nothing in it can steer a terminal, a browser or the direction of a line."""

from __future__ import annotations

import unicodedata

UNKNOWN = "\N{REPLACEMENT CHARACTER}"
BREAKS = frozenset("\t\n\v\f\r\x85\u2028\u2029")
UNSEEN = frozenset("\u200b\u200e\u200f\u061c\u2060\ufeff")  # take no room; editors leave them behind
TURNS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")  # turn the reading direction
PICTURES = 0x2400  # control pictures: the sign for control character n is at 0x2400 + n
DELETE, DELETE_PICTURE = "\x7f", "\u2421"
TAGS = range(0xE0000, 0xE0080)  # invisible letters


def inert(text: str) -> str:
    """The text on one line with every control character, escape and direction override as a visible sign."""
    return "".join(c if c.isalnum() or c == " " else _shown(c) for c in text)


def short(text: str, width: int) -> str:
    """An inert text of at most ``width`` characters, cut between words where it can be."""
    line = " ".join(inert(text).split())
    if len(line) <= width:
        return line
    cut = line[: width - 1]
    at = cut.rfind(" ")
    return (cut[:at] if at > width // 2 else cut).rstrip(" ,;:") + "…"


def _shown(character: str) -> str:
    if character in BREAKS:
        return " "
    if character in UNSEEN or ord(character) in TAGS:
        return ""
    if character == DELETE:
        return DELETE_PICTURE
    if character < " ":
        return chr(PICTURES + ord(character))
    if character in TURNS or unicodedata.category(character) in ("Cc", "Cs", "Cn"):
        return UNKNOWN
    return character
