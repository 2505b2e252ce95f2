"""Reading: the bytes of a talk-through become a TalkThrough, whatever format they are in.

FORMATS is the table. A format is recognised by what stands in the file, never by its name; the first that claims it reads it.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from ..errors import UnreadableInput
from ..model import TalkThrough
from . import plain, podcast_json, speech_json, stamped, subrip, ttml, webvtt
from .decode import READABLE, decode
from .draft import Draft, assemble

__all__ = ["FORMATS", "LIMIT_BYTES", "load_path", "read_bytes", "read_path"]

LIMIT_BYTES = 32 * 1024 * 1024
LIMIT_WORDS = 100_000
LIMIT_LETTERS = 1_000_000
"""Nine hours without a breath at three words a second: what is longer is no talk-through, and would take minutes."""
_LINES_A_WORD = 5       # a caption for every word: its number, its times, two lines and a blank one


@dataclass(frozen=True, slots=True)
class Format:
    """``claims`` and ``read`` take the decoded text, or for JSON the parsed tree."""

    name: str
    claims: Callable[..., bool]
    read: Callable[..., Draft]


JSON_FORMATS = (
    Format("podcast-json", podcast_json.claims, podcast_json.read),
    Format("speech-json", speech_json.claims, speech_json.read),
)
TEXT_FORMATS = (
    Format("vtt", webvtt.claims, webvtt.read),
    Format("ttml", ttml.claims, ttml.read),
    Format("srt", subrip.claims, subrip.read),
    Format("stamped", stamped.claims, stamped.read),
    Format("plain", plain.claims, plain.read),
)
FORMATS = JSON_FORMATS + TEXT_FORMATS


def read_bytes(data: bytes, *, name: str) -> TalkThrough:
    """Read one talk-through. ``name`` is what messages and sources call it.

    Raises UnreadableInput when it is empty, binary, too long or holds no words in a format that can be read.
    """
    if len(data) > LIMIT_BYTES:
        raise UnreadableInput(f"{name} is longer than 32 MiB, which no talk-through is. Give {READABLE}.")
    text = decode(data, name=name)
    tree = _as_json(text, name=name)
    if tree is None and text.count("\n") > _LINES_A_WORD * LIMIT_WORDS:
        raise UnreadableInput(_too_long(name))
    content = text if tree is None else tree
    for format in TEXT_FORMATS if tree is None else JSON_FORMATS:
        if format.claims(content):
            break
    else:
        raise UnreadableInput(_not_words(text, tree, name=name))
    try:
        draft = format.read(content)
    except UnreadableInput as fault:
        raise UnreadableInput(f"{name}: {fault}") from None
    if max(len(draft.said), sum(len(line.words) for said in draft.said for line in said.lines)) > LIMIT_WORDS:
        raise UnreadableInput(_too_long(name))
    talk = assemble(draft, name=name, sha256=hashlib.sha256(data).hexdigest(), format=format.name)
    if len(talk.text) > LIMIT_LETTERS or len(talk.text.split(None, LIMIT_WORDS)) > LIMIT_WORDS:
        raise UnreadableInput(_too_long(name))
    if not any(not cue.heading for cue in talk.cues):
        raise UnreadableInput(f"{name} is a {format.name} file without a spoken word in it. Give {READABLE}.")
    return talk


def _too_long(name: str) -> str:
    return f"{name} holds more than {LIMIT_WORDS:,} words, which no talk-through does. Cut it into its classes."


def read_path(path: Path | str) -> TalkThrough:
    """Read the file at ``path``, or standard input for ``-``. Raises UnreadableInput also when it cannot be opened."""
    data, name = load_path(path)
    return read_bytes(data, name=name)


def load_path(path: Path | str) -> tuple[bytes, str]:
    """The bytes of the file at ``path``, or of standard input for ``-``, and what to call them. Raises UnreadableInput."""
    if str(path) == "-":
        return sys.stdin.buffer.read(LIMIT_BYTES + 1), "standard input"
    path = Path(path)
    name = os.fsencode(path.name or str(path)).decode("utf-8", errors="replace")
    try:
        if path.is_dir():
            raise UnreadableInput(f"{path} is a directory. Give the files in it one by one: {READABLE}.")
        if path.is_file() and os.path.getsize(path) > LIMIT_BYTES:
            raise UnreadableInput(f"{name} is longer than 32 MiB, which no talk-through is. Give {READABLE}.")
        with open(path, "rb") as file:
            return file.read(LIMIT_BYTES + 1), name
    except FileNotFoundError:
        raise UnreadableInput(f"There is no file {path}. Check its name, or give - to read standard input.") from None
    except PermissionError:
        raise UnreadableInput(f"{path} may not be read by you. Change its permissions, or give a copy.") from None
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or str(fault)
        raise UnreadableInput(f"{path} cannot be opened ({reason}). Check its name, or give a copy.") from None


def _as_json(text: str, *, name: str) -> object | None:
    """The parsed tree of a JSON file (a list of them for one a line), None where the text is none."""
    head = text.lstrip()[:200]
    if not head.startswith(("{", "[")):
        return None
    try:
        tree: object = json.loads(text)
        return tree
    except RecursionError:
        raise UnreadableInput(f"{name} is JSON nested too deep to be a transcript. Give {READABLE}.") from None
    except ValueError as fault:
        if isinstance(fault, json.JSONDecodeError) and fault.msg == "Extra data":
            trees = _as_many(text)
            if trees is not None:
                return trees
        opening = head[1:].lstrip()[:1]
        if opening == '"' and head[0] == "{" or opening == "{" and head[0] == "[":
            where = f" at line {fault.lineno}" if isinstance(fault, json.JSONDecodeError) else ""
            raise UnreadableInput(f"{name} begins as JSON but breaks off{where}. Export it again, or give {READABLE}.") from None
        return None


_BLANK = frozenset(" \t\n\r")
"""Between the values of JSON (RFC 8259, section 2)."""


def _as_many(text: str) -> list[object] | None:
    decoder, at = json.JSONDecoder(), 0
    trees: list[object] = []
    try:
        while True:
            at = next((i for i in range(at, len(text)) if text[i] not in _BLANK), len(text))
            if at >= len(text):
                return trees
            if text[at] != "{":
                return None
            tree, at = decoder.raw_decode(text, at)
            trees.append(tree)
    except (ValueError, RecursionError):
        return None


def _not_words(text: str, tree: object, *, name: str) -> str:
    if tree is not None:
        return (
            f"{name} is JSON, but not a transcript: it has no segments or words with text and times. "
            "Give the JSON of a speech-to-text model or of a podcast transcript, or captions."
        )
    if text.lstrip().startswith("<"):
        return f"{name} is HTML or XML, but not TTML captions. Save its words as plain text, or give {READABLE}."
    return f"{name} holds no words of a talk. Give {READABLE}."
