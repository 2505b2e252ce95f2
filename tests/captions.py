"""What a script looks like as the files that people have: WRITERS is the table."""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from html import escape

from .talks import Spoken

Line = list[Spoken]


def _lines(words: Sequence[Spoken], *, seconds: float, most: int, at_stops: bool = False, pause: float = 1.5) -> list[Line]:
    """Cut ``words`` where a line has ``most`` of them or lasts ``seconds``, at a pause, and at the end of a sentence when asked."""
    lines: list[Line] = []
    for word in words:
        line = lines[-1] if lines else None
        if line is None or _full(line, word, seconds, most, at_stops, pause):
            lines.append([word])
        else:
            line.append(word)
    return lines


def _full(line: Line, word: Spoken, seconds: float, most: int, at_stops: bool, pause: float) -> bool:
    if len(line) >= most or word.start - line[-1].end > pause:
        return True
    if word.end - line[0].start <= seconds:
        return False
    return not at_stops or line[-1].text.endswith((".", "!", "?"))


def _said(line: Iterable[Spoken]) -> str:
    return " ".join(word.text for word in line)


def clock(seconds: float, *, mark: str = ".") -> str:
    """``hh:mm:ss`` and milliseconds after ``mark``."""
    whole, ms = divmod(round(seconds * 1000), 1000)
    return f"{whole // 3600:02}:{whole // 60 % 60:02}:{whole % 60:02}{mark}{ms:03}"


def stamped(words: Sequence[Spoken]) -> str:
    """Markdown: paragraphs of about twenty seconds, cut at sentences, each after its time."""
    paragraphs = ["# Talk-through"]
    for line in _lines(words, seconds=18, most=110, at_stops=True, pause=60):
        minutes, seconds = divmod(int(line[0].start), 60)
        text = f"[{minutes}:{seconds:02}] {_said(line)}"
        paragraphs.append(textwrap.fill(text, 130, break_on_hyphens=False, break_long_words=False))
    return "\n\n".join(paragraphs) + "\n"


def stamps_alone(words: Sequence[Spoken]) -> str:
    """A text of short lines, the time of each on a line of its own above it."""
    rows = []
    for line in _lines(words, seconds=9, most=26):
        minutes, seconds = divmod(int(line[0].start), 60)
        rows += [f"{minutes}:{seconds:02}", _said(line)]
    return "\n".join(rows) + "\n"


def subrip(words: Sequence[Spoken]) -> str:
    """SubRip cues of up to fourteen words on two lines."""
    cues = []
    for n, line in enumerate(_lines(words, seconds=5, most=14), 1):
        half = (len(line) + 1) // 2 if len(line) > 7 else len(line)
        text = "\n".join(_said(part) for part in (line[:half], line[half:]) if part)
        cues.append(f"{n}\n{clock(line[0].start, mark=',')} --> {clock(line[-1].end, mark=',')}\n{text}\n")
    return "\n".join(cues)


def roll_up(words: Sequence[Spoken]) -> str:
    """WebVTT as automatic captioning writes it: small letters, no marks, a time on each word, and each line shown twice."""
    heard = [replace(w, text=re.sub(r"[^\w'-]+", "", w.text).lower()) for w in words]
    cues, above = ["WEBVTT\nKind: captions\nLanguage: en"], ""
    for line in _lines([w for w in heard if w.text.strip("-'")], seconds=4, most=8):
        timed = "".join(f"<{clock(w.start)}><c> {escape(w.text, quote=False)}</c>" for w in line[1:])
        shown = f"{above or ' '}\n{escape(line[0].text, quote=False)}{timed}"
        cues.append(f"{clock(line[0].start)} --> {clock(line[-1].end)} align:start position:0%\n{shown}")
        above = escape(_said(line), quote=False)
    return "\n\n".join(cues) + "\n"


def web_vtt(words: Sequence[Spoken]) -> str:
    """WebVTT made with care: a note, cue names, one sentence after the other, and the coach's voice."""
    cues = ["WEBVTT", "NOTE\nCaptions of a class at the Ropewalk Hall"]
    for n, line in enumerate(_lines(words, seconds=6, most=16, at_stops=True), 1):
        text = f"<v Coach>{escape(_said(line), quote=False)}"
        cues.append(f"talk-{n}\n{clock(line[0].start)} --> {clock(line[-1].end)}\n{text}")
    return "\n\n".join(cues) + "\n"


def ttml(words: Sequence[Spoken]) -> str:
    """TTML with one paragraph a cue and a line break in the long ones."""
    rows = []
    for line in _lines(words, seconds=6, most=16, at_stops=True):
        half = len(line) // 2 if len(line) > 8 else 0
        parts = [escape(_said(part), quote=False) for part in (line[:half], line[half:]) if part]
        rows.append(f'      <p begin="{clock(line[0].start)}" end="{clock(line[-1].end)}">{"<br/>".join(parts)}</p>')
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n<tt xmlns="http://www.w3.org/ns/ttml" xml:lang="en">\n  <body>\n    <div>\n'
        + "\n".join(rows) + "\n    </div>\n  </body>\n</tt>\n"
    )


def speech_json(words: Sequence[Spoken]) -> str:
    """Segments with words, as open speech-to-text models write them."""
    segments = []
    for n, line in enumerate(_lines(words, seconds=7, most=20)):
        timed = [{"word": f" {w.text}", "start": round(w.start, 2), "end": round(w.end, 2), "probability": 0.92} for w in line]
        segments.append({"id": n, "start": timed[0]["start"], "end": timed[-1]["end"], "text": f" {_said(line)}", "words": timed})
    whole = {"text": "".join(s["text"] for s in segments), "language": "en", "segments": segments}
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def podcast_json(words: Sequence[Spoken]) -> str:
    """The transcript JSON of the podcast namespace: a speaker, two times and a body for each stretch."""
    segments = [
        {"speaker": "Coach", "startTime": round(line[0].start, 2), "endTime": round(line[-1].end, 2), "body": _said(line)}
        for line in _lines(words, seconds=5, most=12)
    ]
    return json.dumps({"version": "1.0.0", "segments": segments}, ensure_ascii=False, indent=1) + "\n"


def plain(words: Sequence[Spoken]) -> str:
    """Words without times, a paragraph where there was a silence."""
    return "\n\n".join(_said(line) for line in _lines(words, seconds=1e9, most=10**9, pause=8)) + "\n"


WRITERS: dict[str, Callable[[Sequence[Spoken]], str]] = {
    "md": stamped,
    "stamps": stamps_alone,
    "srt": subrip,
    "vtt": roll_up,
    "clean-vtt": web_vtt,
    "ttml": ttml,
    "json": speech_json,
    "podcast": podcast_json,
    "txt": plain,
}
