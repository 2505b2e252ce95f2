"""General-purpose libraries on our phrases and captions, ours beside them: ``python -m tests.compare_libraries``.

Writes ``tests/comparison/times.tsv`` and ``reading.tsv``, a phrase or a file a row, and the sums into the README. The libraries come
with the extra ``compare``; one that is not installed keeps the results it had. They do not claim to know classes: the comparison says
what had to be added, not who is better.

Times: a library is right when it finds the lengths of the phrase, in seconds and in order, and no other number. What a length is for
is asked of ours only. Reading: a library is right when the words are those that were spoken, and the times those of the file.
"""

from __future__ import annotations

import csv
import re
import sys
import tempfile
import warnings
from collections.abc import Callable, Iterable
from pathlib import Path

from parser.clock import read_clock
from parser.read import read_bytes

from .captions import roll_up, subrip, web_vtt
from .corpus.reading import hear_phrase, phrases
from .refresh_readme import README
from .talks import read_script

FOLDER = Path(__file__).with_name("comparison")
TIMES, READING = FOLDER / "times.tsv", FOLDER / "reading.tsv"
GOLD = Path(__file__).with_name("gold")
NOT_RUN = "not run"
NO_LENGTH = {"reps", "countdown"}
UNIT_S = {"s": 1, "sec": 1, "second": 1, "min": 60, "minute": 60, "h": 3600, "hour": 3600}
_TABLE = re.compile(r"(<!-- comparison -->\n).*?(<!-- /comparison -->)", re.DOTALL)
_LENGTH = re.compile(r"(\d+(?:\.\d+)?)\s*(hours?|h|minutes?|mins?|seconds?|secs?|s)?\b")


# ---------------------------------------------------------------- times

Reader = Callable[[str], list[float]]


def ours(phrase: str) -> list[float]:
    return hear_phrase(phrase).numbers


def our_meaning(phrase: str) -> list[list]:
    """Each length with what it is for."""
    return hear_phrase(phrase).values


def with_text2num() -> Reader:
    """Numbers as digits by the library, then each number with the unit right after it; seconds where there is none."""
    from text_to_num import alpha2digit

    def read(phrase: str) -> list[float]:
        found = _LENGTH.findall(alpha2digit(phrase, "en").lower())
        return [float(n) * UNIT_S[unit.rstrip("s") or "s"] for n, unit in found]

    return read


def with_quantulum3() -> Reader:
    """Its quantities of time; angles taken for times, since it reads ``seconds`` as seconds of arc; bare numbers for seconds."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from quantulum3 import parser as quantulum

    def read(phrase: str) -> list[float]:
        return [q.value * UNIT_S.get(q.unit.name.split()[0], 1) for q in quantulum.parse(phrase)]

    return read


def with_timelength() -> Reader:
    """The one length that it makes of a phrase."""
    from timelength import TimeLength

    def read(phrase: str) -> list[float]:
        seconds = TimeLength(phrase).result.seconds
        return [float(seconds)] if seconds else []

    return read


TIME_LIBRARIES = {"text2num": with_text2num, "quantulum3": with_quantulum3, "timelength": with_timelength}


def time_phrases() -> list[tuple[str, list[list]]]:
    """Each phrase of the corpus that holds lengths of time and nothing else, with ``[what for, seconds]`` of each."""
    return [
        (p.said, p.meaning["hears"])
        for p in phrases("numbers-and-times")
        if not p.near and p.meaning["hears"] and not {row[0] for row in p.meaning["hears"]} & NO_LENGTH
    ]


def compare_times() -> list[dict[str, str]]:
    readers = {"planaloud": ours} | {name: _made(make) for name, make in TIME_LIBRARIES.items()}
    before = {row["phrase"]: row for row in read_rows(TIMES)}
    rows = []
    for said, wanted in time_phrases():
        row = {"phrase": said, "seconds": _numbers(value for _, value in wanted), "for": _roles(wanted)}
        for name, read in readers.items():
            row[name] = _numbers(_tried(read, said)) if read else before.get(said, {}).get(name, NOT_RUN)
        rows.append(row | {"planaloud, for": _roles(our_meaning(said))})
    return rows


def _made(make: Callable[[], Reader]) -> Reader | None:
    try:
        return make()
    except ImportError as missing:
        print(f"{missing.name} is not installed and keeps its results. To run it: pip install -e '.[compare]'", file=sys.stderr)
        return None


def _tried(read: Callable, given):
    """What ``read`` makes of it; nothing where it gives up with an exception of its own. Raises ImportError."""
    try:
        return read(given)
    except ImportError:
        raise
    except Exception:  # a library under comparison may fail in any way, and then has read nothing
        return []


def _numbers(values: Iterable[float]) -> str:
    return " ".join(f"{v:g}" for v in values)


def _roles(values: list[list]) -> str:
    return " ".join(f"{role}={value:g}" for role, value in (v for v in values if len(v) == 2 and not isinstance(v[1], list)))


# ---------------------------------------------------------------- reading

Cues = list[tuple[float, float, str]]


def our_cues(text: str, suffix: str) -> Cues:
    talk = read_bytes(text.encode(), name=f"talk.{suffix}")
    return [(c.start, c.end, talk.text[slice(*c.chars)]) for c in talk.cues]


def with_webvtt(text: str, suffix: str) -> Cues:
    import webvtt

    read = webvtt.from_string if suffix == "vtt" else _webvtt_srt
    # Its seconds are whole ones; the clock of a cue has the rest.
    return [(read_clock(c.start), read_clock(c.end), c.text) for c in read(text)]


def _webvtt_srt(text: str):
    import webvtt

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "talk.srt"
        path.write_text(text, encoding="utf-8")
        return webvtt.from_srt(str(path))


def with_pysubs2(text: str, suffix: str) -> Cues:
    import pysubs2

    return [(e.start / 1000, e.end / 1000, e.plaintext) for e in pysubs2.SSAFile.from_string(text, format_=suffix)]


def with_srt(text: str, suffix: str) -> Cues | None:
    if suffix != "srt":
        return None
    import srt

    return [(c.start.total_seconds(), c.end.total_seconds(), c.content) for c in srt.parse(text)]


READERS = {"planaloud": our_cues, "webvtt-py": with_webvtt, "pysubs2": with_pysubs2, "srt": with_srt}


def captions() -> list[tuple[str, str, str, Cues]]:
    """``(what it shows, suffix, file, cues as they are meant)``: a class as captions, and small files with one fault each."""
    words = read_script(GOLD / "net-loft-minute-then-eights.talk").words
    spoken = re.sub(r"[^\w' -]+", "", " ".join(w.text for w in words)).lower()
    whole = [(words[0].start, words[-1].end, spoken)]
    one = [(1.0, 3.0, "forty on twenty off")]
    two = [*one, (4.0, 6.0, "squats then lunges")]
    first, second = (f"00:00:0{int(start)},000 --> 00:00:0{int(end)},000\n{text}\n" for start, end, text in two)
    web_first, web_second = (cue.replace(",000", ".000") for cue in (first, second))
    return [
        ("a class, SubRip", "srt", subrip(words), whole),
        ("a class, captions with care", "vtt", web_vtt(words), whole),
        ("a class, roll-up captions", "vtt", roll_up(words), whole),
        ("plain SubRip", "srt", f"1\n{first}\n2\n{second}", two),
        ("a full stop before the milliseconds", "srt", f"1\n{web_first}\n2\n{web_second}", two),
        ("no number above a cue", "srt", f"{first}\n{second}", two),
        ("short milliseconds", "srt", f"1\n{first}".replace("01,000", "01,5"), [(1.5, 3.0, one[0][2])]),
        ("an empty line inside a cue", "srt", f"1\n{first}\n2\n{second}".replace("on twenty", "on\n\ntwenty"), two),
        ("no end of line at the end", "srt", f"1\n{first}\n2\n{second}".rstrip("\n"), two),
        ("a character reference", "vtt", f"WEBVTT\n\n{web_first}".replace("on twenty", "on &amp; twenty"), [(1.0, 3.0, "forty on & twenty off")]),
        ("the name of a cue", "vtt", f"WEBVTT\n\nwork\n{web_first}\nlist\n{web_second}", two),
        ("a note between cues", "vtt", f"WEBVTT\n\n{web_first}\nNOTE nothing said here\n\n{web_second}", two),
        ("a voice", "vtt", f"WEBVTT\n\n{web_first}".replace("forty", "<v Coach>forty"), one),
        ("times inside a cue", "vtt", f"WEBVTT\n\n{web_first}".replace(" on", "<00:00:01.500><c> on</c>"), one),
        ("hours of three digits", "vtt", f"WEBVTT\n\n{web_first}".replace("00:00:0", "100:00:0"), [(360001.0, 360003.0, one[0][2])]),
    ]


def is_read(wanted: Cues, got: Cues) -> bool:
    """Whether the words are all of those meant, in order and once, from the same start to the same end."""
    def words(cues: Cues) -> list[str]:
        return re.sub(r"[^\w'&<>;: -]+", "", " ".join(text for *_, text in cues).replace("\n", " ")).lower().split()

    if not got or words(wanted) != words(got):
        return False
    return abs(wanted[0][0] - got[0][0]) < 0.02 and abs(wanted[-1][1] - got[-1][1]) < 0.02


def compare_reading() -> list[dict[str, str]]:
    before = {row["captions"]: row for row in read_rows(READING)}
    rows = []
    for what, suffix, text, wanted in captions():
        row = {"captions": what, "format": suffix}
        for name, read in READERS.items():
            try:
                got = _tried(lambda given, read=read, suffix=suffix: read(given, suffix), text)
                row[name] = "-" if got is None else "right" if is_read(wanted, got) else "wrong"
            except ImportError:
                row[name] = before.get(what, {}).get(name, NOT_RUN)
        rows.append(row)
    return rows


# ---------------------------------------------------------------- files and the README


def write_rows(path: Path, rows: list[dict[str, str]]) -> None:
    path.parent.mkdir(exist_ok=True)
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, rows[0].keys(), delimiter="\t", lineterminator="\n")
        table.writeheader()
        table.writerows(rows)


def read_rows(path: Path) -> list[dict[str, str]]:
    if not path.exists():
        return []
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, delimiter="\t"))


def summary(times: list[dict[str, str]], reading: list[dict[str, str]]) -> str:
    """The table of the README: how many of how many each got right."""
    out = ["| | phrases with their lengths of time | caption files |", "| --- | --- | --- |"]
    for name in ("planaloud", *TIME_LIBRARIES, *(n for n in READERS if n != "planaloud")):
        right_times = f"{sum(r[name] == r['seconds'] for r in times)} of {len(times)}" if name in times[0] else ""
        asked = [r[name] for r in reading if r.get(name, "-") != "-"]
        right_files = f"{asked.count('right')} of {len(asked)}" if asked else ""
        out.append(f"| {name} | {right_times} | {right_files} |")
    meant = sum(r["planaloud, for"] == r["for"] for r in times)
    out.insert(3, f"| planaloud, each length with what it is for | {meant} of {len(times)} | |")
    return "\n".join(out) + "\n"


def with_summary(text: str, table: str) -> str:
    """The README's ``text`` with ``table`` between its marks. Raises ValueError where they are missing."""
    made, times = _TABLE.subn(lambda found: found[1] + table + found[2], text)
    if times != 1:
        raise ValueError("README.md needs one <!-- comparison --> and, below it, <!-- /comparison -->.")
    return made


def main() -> None:
    times, reading = compare_times(), compare_reading()
    write_rows(TIMES, times)
    write_rows(READING, reading)
    README.write_text(with_summary(README.read_text(encoding="utf-8"), summary(times, reading)), encoding="utf-8")
    print(summary(times, reading))


if __name__ == "__main__":
    main()
