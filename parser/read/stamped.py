"""Stamped text and Markdown: a transcript in which stamps say when what follows (or precedes) them was said.

Stamps in square brackets count wherever they stand; in round brackets, and bare, only where the stamps as a set look like a
running clock, because people also write the time of day. There is no standard for these; all rules here are common practice,
no source.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from .draft import Draft, Line, Said
from .markdown import Block, blocks

_T = r"(?<![0-9:])(?:[0-9]{1,3}:)?[0-9]{1,3}:[0-9]{2}(?:[.,][0-9]{1,3})?(?!:?[0-9])"
_RANGE = rf"({_T})(?: ?(?:-->|->|-|–|—|to|until) ?({_T}))?"
_BRACKETED = re.compile(rf"\[ ?{_RANGE} ?\]|\( ?{_RANGE} ?\)")
_BARE_HEAD = re.compile(rf"{_RANGE}(?=$|[ |:–—-])")
_BARE_TAIL = re.compile(rf"(?<=[ |–—-])({_T})$")
_AFTER_STAMP = re.compile(r" ?(?:[-–—:|]+(?= |$))? ?")
_LABEL = re.compile(r"(?:[^\W\d_][\w.'’-]{0,30} ?){1,2}(?:[\w.'’-]{1,30} ?){0,2}:? ?")
_OF_DAY = re.compile(r" ?(?:[ap]\.?m\b|o['’]?clock|tonight|tomorrow|this (?:morning|afternoon|evening)|in the (?:morning|evening))", re.IGNORECASE)
_AT = re.compile(r"\b(?:at|by|until|till|from|before|after|around) $", re.IGNORECASE)
_SIGNS = re.compile(r"[0-9]:[0-9]{2}")


@dataclass(slots=True)
class Stamp:
    """A time as written. ``first`` and ``last`` slice its line, separators after it included."""

    written: str
    start: float
    end: float | None
    kind: str
    place: str
    """head (opens its line, perhaps after a speaker's label), tail (ends it), middle"""
    first: int
    last: int
    at_line: int
    labelled: bool = False


def claims(text: str) -> bool:
    return _SIGNS.search(text) is not None and _layout(list(blocks(text))) is not None


def read(text: str) -> Draft:
    parts = list(blocks(text))
    layout = _layout(parts)
    draft = Draft()
    if layout is None:
        return draft
    stamps, after = layout
    rows = _rows(parts, stamps)
    _report_odd(stamps, {row.number for row in rows if row.heading}, draft)
    draft.said = _said_before(rows) if not after else _said_after(rows, stamps)
    return draft


# ---------------------------------------------------------------- which times are stamps


def _layout(parts: Sequence[Block]) -> tuple[list[Stamp], bool] | None:
    """The stamps of a transcript in order, and whether they stand after their text. None where there is no running clock."""
    found = [stamp for block in parts for number, line in block.lines for stamp in _candidates(number, line, block.heading)]
    _settle_labels(parts, found)
    tails = [s for s in found if s.place == "tail"]
    if len(tails) >= 2 and len({s.at_line for s in tails}) >= 0.8 * len({s.at_line for s in found}):
        kind = Counter(s.kind for s in tails).most_common(1)[0][0]
        stamps = [s for s in tails if s.kind == kind]
        if _is_running(stamps, loose=False):
            return stamps, True
    heads = [s for s in found if s.place == "head"]
    squares = [s for s in found if s.kind == "square"]
    if len(squares) >= 2 and not any(s.kind == "square" for s in heads) and _is_running(squares, loose=False):
        return squares, False
    for kind, _ in Counter(s.kind for s in heads).most_common():
        stamps = _of_kind(found, kind)
        if _is_running(stamps, loose=kind == "square"):
            return _merged(stamps, [s for s in heads if s.kind != kind], open_end=False), False
    return None


def _of_kind(found: Sequence[Stamp], kind: str) -> list[Stamp]:
    """Square brackets count anywhere, as long as all of them run like one clock. Else, and for round ones, those inside a line
    count where they fit between the stamps that open lines."""
    alike = [s for s in found if s.kind == kind]
    if kind == "square" and _is_running(alike, loose=True):
        return alike
    heads = [s for s in alike if s.place == "head"]
    if kind == "square" and len(heads) < 2:
        return []
    if kind == "bare":
        return heads
    return _merged(heads, [s for s in alike if s.place != "head"], open_end=True)


def _merged(sure: list[Stamp], others: Sequence[Stamp], *, open_end: bool) -> list[Stamp]:
    """``sure`` and those of ``others`` that go forward between their neighbours; after the last sure one if ``open_end``.

    Of a group between two sure stamps most must fit, or the group is something else: lengths, times of day.
    """
    if not others:
        return sure
    chosen = {id(s) for s in sure}
    out: list[Stamp] = []
    group: list[Stamp] = []
    lower = 0.0
    for stamp in sorted([*sure, *others], key=lambda s: (s.at_line, s.first)):
        if id(stamp) not in chosen:
            group.append(stamp)
            continue
        out += _forward(group, lower, stamp.start)
        out.append(stamp)
        group, lower = [], stamp.start
    return out + (_forward(group, lower, float("inf")) if open_end else [])


def _forward(group: Sequence[Stamp], lower: float, upper: float) -> list[Stamp]:
    """The longest run of ``group`` that never goes back (patience sorting), or nothing where too many do not belong."""
    ends: list[float] = []
    places: list[int] = []
    before: list[int] = []
    for place, stamp in enumerate(group):
        if not lower <= stamp.start <= upper:
            before.append(-2)
            continue
        rank = bisect_right(ends, stamp.start)
        before.append(places[rank - 1] if rank else -1)
        if rank == len(ends):
            ends.append(stamp.start)
            places.append(place)
        else:
            ends[rank], places[rank] = stamp.start, place
    if len(ends) < 0.6 * len(group):
        return []
    run: list[Stamp] = []
    at = places[-1] if places else -1
    while at >= 0:
        run.append(group[at])
        at = before[at]
    return run[::-1]


def _is_running(stamps: Sequence[Stamp], *, loose: bool) -> bool:
    """Do the times go on like a clock started with the talk? ``loose`` for brackets nobody puts round a time of day."""
    if not stamps:
        return False
    if len(stamps) == 1:
        return stamps[0].place == "head" and (loose or stamps[0].start == 0)
    if loose and all(s.place == "head" for s in stamps):
        return True
    # A clock moves on. Lengths (plank 0:30, squat 0:30) stand still, and work and rest go to and fro.
    stuck = sum(b.start <= a.start for a, b in zip(stamps, stamps[1:]))
    if stuck > max(1, (len(stamps) - 1) / 3) or stuck and len(stamps) == 2:
        return False
    times = [s.start for s in stamps]
    # A timetable (doors 6:00, warm-up 6:15) also runs forward: it starts late and knows only round times.
    return loose or not (min(times) >= 300 and all(t % 5 == 0 for t in times))


def _candidates(number: int, line: str, heading: bool) -> list[Stamp]:
    out: list[Stamp] = []
    if _SIGNS.search(line) is None:
        return out
    for found in _BRACKETED.finditer(line):
        groups = found.groups()
        kind = "square" if groups[0] else "round"
        if kind == "round" and _is_of_day(line, found.start(), found.end()):
            continue
        start, end = (groups[0], groups[1]) if groups[0] else (groups[2], groups[3])
        tail = found.end() == len(line.rstrip(" ."))
        place = "head" if found.start() == 0 or heading and kind == "square" else "tail" if tail and not heading else "middle"
        if stamp := _stamp(found[0], start, end, kind, place, found.span(), number):
            out.append(stamp)
    if head := _BARE_HEAD.match(line):
        if not _is_of_day(line, 0, head.end()) and (
            stamp := _stamp(head[0], head[1], head[2], "bare", "head", head.span(), number)
        ):
            out.insert(0, stamp)
    # A bare time may end a line only after a speaker's label ("Coach Wren  0:10"), which is settled over all lines.
    elif not heading and len(line) < 60 and (tail_ := _BARE_TAIL.search(line)) and not _is_of_day(line, tail_.start(), len(line)) and (
        stamp := _stamp(tail_[0], tail_[1], None, "bare", "middle", tail_.span(), number)
    ):
        out.append(stamp)
    for stamp in out:
        stamp.last = _AFTER_STAMP.match(line, stamp.last).end()  # type: ignore[union-attr]
    return out


def _is_of_day(line: str, first: int, last: int) -> bool:
    return _OF_DAY.match(line, last) is not None or _AT.search(line[max(0, first - 12) : first]) is not None


def _stamp(written: str, start: str, end: str | None, kind: str, place: str, span: tuple[int, int], row: int) -> Stamp | None:
    begins, ends = _clock(start), _clock(end) if end else None
    if begins is None or end and ends is None:
        return None
    return Stamp(written, begins, ends, kind, place, *span, row)


def _clock(written: str) -> float | None:
    *hours, minutes, rest = written.replace(",", ".").split(":")
    seconds = float(rest)
    if seconds >= 60 or hours and (int(minutes) >= 60 or len(minutes) > 2):
        return None
    return round(int(hours[0] if hours else 0) * 3600 + int(minutes) * 60 + seconds, 3)


def _settle_labels(parts: Sequence[Block], found: Sequence[Stamp]) -> None:
    """``Wren [0:10] morning`` : where the same name stands before the stamps again and again, the stamp opens its line."""
    rows = {number: line for block in parts for number, line in block.lines}
    firsts: dict[int, Stamp] = {}
    for stamp in found:
        firsts.setdefault(stamp.at_line, stamp)
    named = []
    for stamp in firsts.values():
        before = rows[stamp.at_line][: stamp.first]
        if stamp.place != "head" and 0 < len(before) < 60 and _LABEL.fullmatch(before):
            named.append((before.rstrip(": "), stamp))
    names = len({name for name, _ in named})
    if len(named) >= 3 and len(named) >= 0.6 * len(firsts) and names <= (len(named) + 1) // 2:
        for _, stamp in named:
            stamp.place, stamp.labelled, stamp.last = "head", True, stamp.first + len(stamp.written)


def _report_odd(stamps: Sequence[Stamp], headings: set[int], draft: Draft) -> None:
    for before, now in zip(stamps, stamps[1:]):
        if now.start < before.start:
            draft.report(now.at_line, f"The stamp {now.written} runs back behind {before.written}.")
        elif now.start == before.start and before.at_line not in headings:
            draft.report(now.at_line, f"The stamp {now.written} comes twice.")


# ---------------------------------------------------------------- what was said at them


@dataclass(slots=True)
class _Row:
    number: int
    line: str
    heading: bool
    stamps: list[Stamp]


def _rows(parts: Sequence[Block], stamps: Sequence[Stamp]) -> list[_Row]:
    of_line: dict[int, list[Stamp]] = {}
    for stamp in stamps:
        of_line.setdefault(stamp.at_line, []).append(stamp)
    return [_Row(n, line, block.heading, of_line.get(n, [])) for block in parts for n, line in block.lines]


def _said_before(rows: Sequence[_Row]) -> list[Said]:
    """Each stamp opens a cue that lasts to the next stamp."""
    out: list[Said] = []
    current: Said | None = None
    pending: Stamp | None = None
    shared: list[list[Said]] = []
    for row in rows:
        if row.heading:
            title = _without(row.line, row.stamps)
            pending = row.stamps[0] if row.stamps else None
            out.append(Said(pending.start if pending else None, None, [Line(title)], heading=True, at_line=row.number))
            current = None
            continue
        cursor, lead = 0, ""
        for stamp in row.stamps:
            before = row.line[cursor : stamp.first]
            if stamp.labelled:
                lead = before.strip()
            else:
                current = _add(lead + before, current, pending, out, shared, row.number)
                lead = ""
            current, pending = Said(stamp.start, stamp.end, [], at_line=row.number), None
            out.append(current)
            cursor = stamp.last
        current = _add(lead + row.line[cursor:], current, pending, out, shared, row.number)
        if current is not None:
            pending = None
    _share_out(out, shared)
    return out


def _add(
    text: str, current: Said | None, pending: Stamp | None, out: list[Said], shared: list[list[Said]], number: int
) -> Said | None:
    """Put ``text`` where it belongs: the open cue, the stamp of the heading above, or what is left of the cue before that."""
    text = text.strip()
    if not text:
        return current
    if current is None:
        current = Said(pending.start if pending else None, pending.end if pending else None, [], at_line=number)
        if pending is None:
            before = next((said for said in reversed(out) if not said.heading), None)
            if shared and shared[-1][-1] is before:
                shared[-1].append(current)
            elif before is not None and before.start is not None:
                shared.append([before, current])
        out.append(current)
    current.lines.append(Line(text))
    return current


def _share_out(out: Sequence[Said], shared: Sequence[list[Said]]) -> None:
    """A heading without a stamp divides a stamped stretch: its parts share the stretch by their length in characters."""
    if not shared:
        return
    inside = {id(said) for group in shared for said in group[1:]}
    following: float | None = None
    nexts: dict[int, float | None] = {}
    for said in reversed(out):
        if said.heading or id(said) in inside:
            continue
        nexts[id(said)] = following
        following = said.start if said.start is not None else following
    for group in shared:
        start = group[0].start or 0.0
        end = group[0].end if group[0].end is not None else nexts[id(group[0])]
        if end is None or end < start:
            for said in group[1:]:
                said.start = start
            continue
        sizes = [sum(len(line.text) for line in said.lines) for said in group]
        rate = (end - start) / max(1, sum(sizes))
        done = 0
        for said, size in zip(group, sizes):
            said.start = round(start + rate * done, 3)
            done += size
            said.end = round(start + rate * done, 3)


def _said_after(rows: Sequence[_Row], stamps: Sequence[Stamp]) -> list[Said]:
    """Each stamp closes a cue. A first stamp of zero says that stamps are starts; else whichever way can be spoken."""
    out: list[Said] = []
    lines: list[Line] = []
    at: list[Stamp] = []
    for row in rows:
        if row.heading:
            out.append(Said(None, None, [Line(_without(row.line, row.stamps))], heading=True, at_line=row.number))
            continue
        text = _without(row.line, row.stamps)
        if text:
            lines.append(Line(text))
        if row.stamps:
            stamp = row.stamps[-1]
            out.append(Said(stamp.start, stamp.end, lines, at_line=row.number))
            at.append(stamp)
            lines = []
    spoken = [said for said in out if not said.heading]
    if spoken and _are_ends(spoken):
        times = [said.start for said in spoken]
        for said, start, end in zip(spoken, [0.0, *times], times):
            said.start, said.end = start, end
    if lines:
        out.append(Said(spoken[-1].end if spoken else None, None, lines, at_line=rows[-1].number))
    return out


_FASTEST = 5.0
"""Words a second that nobody keeps up. (Common practice, no source.)"""


def _are_ends(spoken: Sequence[Said]) -> bool:
    if spoken[0].start == 0 or any(said.end is not None for said in spoken):
        return False
    counts = [sum(len(line.text.split()) for line in said.lines) for said in spoken]
    times = [said.start or 0.0 for said in spoken]
    as_starts = sum(n > _FASTEST * (b - a) for n, a, b in zip(counts, times, times[1:]))
    as_ends = sum(n > _FASTEST * (b - a) for n, a, b in zip(counts, [0.0, *times], times))
    return as_ends < as_starts


def _without(line: str, stamps: Sequence[Stamp]) -> str:
    pieces, cursor = [], 0
    for stamp in stamps:
        pieces.append(line[cursor : stamp.first])
        cursor = stamp.last
    return " ".join(" ".join([*pieces, line[cursor:]]).split())
