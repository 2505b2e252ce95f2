"""Chapters of the recording: its phases, rounds and movements, at the time they begin.

As a WebVTT chapters track (W3C), and as the plain list of times that video sites read in a description: it starts at 0:00, runs
upward, and has at least ten seconds a chapter (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import floor

from ..clock import clock
from ..model import Block, Interval, Plan, Recorded, Source
from .clean import clean
from .look import Look
from .sheet import heading
from .slots import numbered
from .vtt import Cue, document

_SHORTEST_S, _SHORTEST_LISTED_S = 1.0, 10.0
_DONE, _SAID, _NOTHING = 0, 1, 2


@dataclass(frozen=True)
class Chapter:
    at: float
    name: str
    how: int
    """Done then, or only spoken of; where two lie too close together, what was done stays."""


def webvtt(recorded: Recorded, look: Look) -> str:
    chapters = _apart(_chapters(recorded), _SHORTEST_S)
    ends = [*(c.at for c in chapters[1:]), _end(recorded, chapters)]
    return document(Cue(chapter.at, end, [chapter.name]) for chapter, end in zip(chapters, ends))


def times(recorded: Recorded, look: Look) -> str:
    whole = [replace(c, at=float(floor(c.at))) for c in _chapters(recorded)]
    return "".join(f"{clock(c.at)} {c.name}\n" for c in _apart(whole, _SHORTEST_LISTED_S))


def lacks(recorded: Recorded) -> str:
    if len(_chapters(recorded)) > 1:
        return ""
    return "nothing in it has a time, so there are no chapters. Give captions, or a transcript with times."


def _chapters(recorded: Recorded) -> list[Chapter]:
    """In the order of time, from nought."""
    found = [*_done(recorded), *_said(recorded)]
    return [Chapter(0.0, "Start", _NOTHING), *sorted((c for c in found if c.at >= 0 and c.name), key=lambda c: (c.at, c.how))]


def _apart(chapters: Sequence[Chapter], gap: float) -> list[Chapter]:
    """At least ``gap`` seconds each. The better known of two that lie too close gives the name; the first one stays at nought."""
    kept = [chapters[0]]
    for chapter in chapters[1:]:
        if chapter.at - kept[-1].at >= gap:
            kept.append(chapter)
        elif chapter.how < kept[-1].how:
            kept[-1] = replace(chapter, at=kept[-1].at)
    return kept


def _end(recorded: Recorded, chapters: Sequence[Chapter]) -> float:
    ends = [i.end for i in recorded.delivered]
    return max(recorded.plan.source.duration_s or 0.0, *ends, chapters[-1].at + _SHORTEST_S)


# ---------------------------------------------------------------- what was done


def _done(recorded: Recorded) -> Iterator[Chapter]:
    for interval in recorded.delivered:
        name = _interval(interval, recorded.plan)
        if name:
            yield Chapter(interval.start, name, _DONE)


def _interval(interval: Interval, plan: Plan) -> str:
    """Empty for what is no chapter: a short rest, the second side."""
    mains = [place for place, b in enumerate(plan.blocks) if b.kind == "main"]
    where = f"Block {interval.block}" if len(mains) > 1 else ""
    if interval.kind == "round_rest":
        return _led([where], f"Rest after round {interval.round}")
    if interval.kind == "block_rest":
        return f"Rest after block {interval.block}"
    if interval.kind != "work" or interval.side == "second" or interval.block > len(mains):
        return ""
    place = mains[interval.block - 1]
    block = plan.blocks[place]
    movement = block.movement(interval.number)
    if movement is None:
        return heading(plan, place)
    lap = f"round {interval.round}" if interval.round is not None and block.rounds != 1 else ""
    return _led([where, lap], numbered(movement))


def _led(lead: Sequence[str], name: str) -> str:
    """``Block 1, round 2: 3. plank``."""
    text = ", ".join(filter(None, lead))
    return clean(f"{text[:1].upper()}{text[1:]}: {name}" if text else name)


# ---------------------------------------------------------------- what was only spoken of


def _said(recorded: Recorded) -> Iterator[Chapter]:
    """Warm-up and cool-down, which are not followed, and main movements where they were shown or, of what was not followed, named."""
    main, mains = 0, len(recorded.plan.mains)
    first = min((i.start for i in recorded.delivered), default=None)
    last = max((i.end for i in recorded.delivered), default=None)
    for place, block in enumerate(recorded.plan.blocks):
        main += block.kind == "main"
        if block.kind != "main":
            after, before = (last, None) if block.kind == "cool_down" else (None, first)
            yield from _named(block, [heading(recorded.plan, place)], after=after, before=before)
            continue
        begun = min((i.start for i in recorded.delivered if i.block == main), default=None)
        where = f"Block {main}" if mains > 1 else ""
        yield from _named(block, [where, "" if begun is None else "shown"], before=begun)


def _named(block: Block, lead: Sequence[str], *, after: float | None = None, before: float | None = None) -> Iterator[Chapter]:
    """Each movement at its first mention in that time; warm-up and cool-down at their own where no movement has one."""
    found = [(at, m) for m in block.movements if (at := _first(m.sources, after, before)) is not None]
    for at, movement in found:
        yield Chapter(at, _led(lead, numbered(movement)), _SAID)
    at = _first(block.sources, after, before)
    if not found and at is not None and block.kind != "main":
        yield Chapter(at, lead[0], _SAID)


def _first(sources: Sequence[Source], after: float | None, before: float | None) -> float | None:
    starts = (s.start for s in sources if s.start is not None)
    return min((s for s in starts if (after is None or s >= after) and (before is None or s < before)), default=None)
