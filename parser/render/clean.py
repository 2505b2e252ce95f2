"""What was said is text, wherever it is printed: nothing in it may move a cursor, ring a bell or turn a line around."""

from __future__ import annotations

import unicodedata

_TURNS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff")
"""Marks that change the direction of what follows them (Unicode Annex 9, section 2), and a stray byte order mark."""
_NO_XML = frozenset("\ufffe\uffff")
"""No characters at all, and a picture that held one would be no XML (XML 1.0, section 2.2)."""


def _harmful(char: str) -> bool:
    return char in _TURNS or char in _NO_XML or unicodedata.category(char) in ("Cc", "Cs", "Zl", "Zp")


def harmless(text: str) -> str:
    """``text`` on one line, without control characters (C0, DEL, C1), direction marks or halves of a surrogate pair.
    Blanks stay as many as they are."""
    return "".join(" " if c.isspace() else "" if _harmful(c) else c for c in text)


def clean(text: str) -> str:
    """``harmless`` words with one blank between them."""
    return " ".join(harmless(text).split())


def escape_in_json(document: str) -> str:
    """A JSON document in which each such character is written ``\\uXXXX``: the same document to any reader of JSON.

    JSON itself (RFC 8259, section 7) escapes C0 only. Line breaks of the document's own layout stay.
    """
    return "".join(f"\\u{ord(c):04x}" if c != "\n" and _harmful(c) else c for c in document)
