"""Bytes to text: which encoding a file is in, and what it is when it is no text at all.

Subtitles and transcripts come as UTF-8 with or without a byte order mark, as UTF-16 (with a mark, or recognised by where
its zero bytes stand) and, from older Windows programs, as Windows-1252. Lines end in LF, CRLF or CR: the text that comes
back has LF only.
"""

from __future__ import annotations

import codecs

from ..errors import UnreadableInput

READABLE = "captions (SubRip, WebVTT, TTML), a transcript with times, transcript JSON or plain text"
"""What would work, as every refusal says it."""

# First bytes of what people hand over by mistake, and how to get to words from there. File signatures as registered with
# the formats themselves (PNG, JPEG, GIF, ZIP, PDF, RIFF, Matroska, MP3/ID3, Ogg, FLAC, gzip).
_RECORDING = "turn the recording into captions or a transcript first"
_DOCUMENT = "save it as plain text first"
_SIGNATURES: tuple[tuple[int, bytes, str, str], ...] = (
    (0, b"PK\x03\x04", "a ZIP archive or an office document", "unpack it, or save it as plain text, first"),
    (0, b"PK\x05\x06", "an empty ZIP archive", "give the transcript itself"),
    (0, b"\x1f\x8b", "a gzip archive", "unpack it first"),
    (0, b"7z\xbc\xaf\x27\x1c", "a 7z archive", "unpack it first"),
    (0, b"%PDF-", "a PDF document", _DOCUMENT),
    (0, b"{\\rtf", "an RTF document", _DOCUMENT),
    (0, b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an old office document", _DOCUMENT),
    (0, b"\x89PNG\r\n\x1a\n", "a PNG image", "give the words as text"),
    (0, b"\xff\xd8\xff", "a JPEG image", "give the words as text"),
    (0, b"GIF8", "a GIF image", "give the words as text"),
    (4, b"ftyp", "an MP4 recording", _RECORDING),
    (8, b"WAVE", "a sound recording", _RECORDING),
    (8, b"AVI ", "a video recording", _RECORDING),
    (8, b"WEBP", "a WebP image", "give the words as text"),
    (0, b"\x1aE\xdf\xa3", "a Matroska or WebM recording", _RECORDING),
    (0, b"ID3", "an MP3 recording", _RECORDING),
    (0, b"OggS", "an Ogg recording", _RECORDING),
    (0, b"fLaC", "a FLAC recording", _RECORDING),
    (0, b"SQLite format 3\x00", "a database", "give the transcript itself"),
)

_MARKS: tuple[tuple[bytes, str], ...] = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),  # before UTF-16: its mark begins with that of UTF-16 LE
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)

_LOOK = 4096
"""How many bytes or characters are looked at to tell text from data."""

_CONTROLS = frozenset(chr(c) for c in range(32)) - frozenset("\t\n\v\f\r\x1b\x00") | {"\x7f"}


def decode(data: bytes, *, name: str) -> str:
    """The text of ``data``, without byte order mark, lines ending in LF.

    Raises UnreadableInput when it is empty or no text; the message names what it is, where that can be told.
    """
    if not data:
        raise UnreadableInput(f"{name} is empty. Give {READABLE}.")
    for offset, signature, found, remedy in _SIGNATURES:
        if data.startswith(signature, offset):
            raise UnreadableInput(f"{name} is {found}, not text: {remedy}. What can be read: {READABLE}.")
    text = _as_text(data)
    if text is None or _is_data(text):
        raise UnreadableInput(f"{name} is binary data, not text. Give {READABLE}.")
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if not text.strip().strip("\x00"):
        raise UnreadableInput(f"{name} holds nothing but blank space. Give {READABLE}.")
    return text


def _as_text(data: bytes) -> str | None:
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            # A mark is a promise: a broken unit in the middle costs one character, not the file.
            return data[len(mark) :].decode(encoding, errors="replace")
    wide = _wide_without_mark(data)
    for encoding in (wide,) if wide else ("utf-8", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return None


def _wide_without_mark(data: bytes) -> str | None:
    """UTF-16 without a mark shows itself by zeros in every other byte: the upper halves of Latin letters."""
    head = data[:_LOOK]
    half = len(head) // 2
    if half < 2:
        return None
    even, odd = head[0::2].count(0), head[1::2].count(0)
    if odd > 0.7 * half and even < 0.1 * half:
        return "utf-16-le"
    if even > 0.7 * half and odd < 0.1 * half:
        return "utf-16-be"
    return None


def _is_data(text: str) -> bool:
    head = text[:_LOOK]
    if "\x00" in text and not text.startswith("WEBVTT"):
        # The WebVTT rules allow the null character in a file, to be read as a replacement character.
        return True
    odd = sum(1 for c in head if c in _CONTROLS or "\x80" <= c <= "\x9f" or c == "\ufffd")
    return odd > 0.02 * len(head) and not (odd <= 2 and len(head) > 8)
