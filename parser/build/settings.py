"""The settings of a main block: format, rounds, work and rest, from all that was announced for it."""

from __future__ import annotations

from collections.abc import Sequence, Set
from typing import Any

from ..mentions import Heard, Phrase, Quantity, Stretch, beginning_in
from ..model import Partner
from .values import Plain, Value, plain, settle
from .weights import words

Fields = dict[str, Any]
"""The fields of a block by name."""

_MINUTE = 60.0
_SHORTEST_PIECE = 120.0          # s; an AMRAP is no shorter
_PIECE = frozenset({"bare", "left", "class", "cap", "work", "hold", "until"})
_BEFORE, _AFTER = 20, 26         # words from the name of a format to its length
_CALLED = frozenset({"rest", "round_rest", "left", "bare"})      # "rest, ninety", said when it is due
_REPETITIONS = frozenset({"reps", "reps_each", "reps_side"})
_FEWEST_COMBINATIONS = 3
_FEWEST_OF_A_FLOW = 3
_MUCH_LONGER = 2        # times the rest that the rest between rounds is at least


def _said(quantities: Sequence[Quantity], *roles: str) -> list[Value]:
    return [q.value for q in quantities if q.role in roles]


def _after_change(heard: Heard, quantities: Sequence[Quantity], role: str) -> list[Value]:
    """The values of ``role``: those from an announced change on, where one was announced; it is the last word."""
    mine = [q for q in quantities if q.role == role]
    changes = [n.first for n in heard.notes if n.role == "change"]
    for change in reversed(changes):
        later = [q.value for q in mine if 0 <= q.first - change <= 40]
        if later:
            return later
    return [q.value for q in mine]


def format_of(named: Set[str], found: Fields) -> str | None:
    """The format by name where it was ``named``, else what the numbers imply."""
    work, rest = found["work_s"], found["rest_s"]
    if "emom" in named or found["interval_s"] is not None and work is None:
        return "emom"
    if "amrap" in named or found["amrap"]:
        return "amrap"
    if (work, rest) == (20, 10):
        return "tabata"
    if "for_time" in named and work is None:
        return "for_time"
    if work is not None or found["time_scheme"]:
        return "interval"
    if "flow" in named:
        return "flow"
    if named & {"superset", "sets"} or found["sets"]:
        return "sets"
    return None


def _by_breaths(heard: Heard, stretch: Stretch) -> str | None:
    """Positions that are held for so many breaths, one after the other, are a flow."""
    breathed = sum(any(q.role == "breaths" for q in beginning_in(heard.quantities, i.segment)) for i in stretch.items)
    return "flow" if breathed >= max(_FEWEST_OF_A_FLOW, len(stretch.items) / 2) else None


def _near(heard: Heard, stretch: Stretch, at: int) -> bool:
    return stretch.first <= at < stretch.end and heard.phase_at(at) not in ("warm_up", "cool_down", "close")


def _first_work(heard: Heard, stretch: Stretch) -> int:
    """The token from which the block is under way."""
    shown = max((i.segment[0] for i in stretch.items), default=stretch.first)
    return next((c.first for c in heard.clauses if c.phase == "work" and c.first > shown), len(heard.words.tokens))


def settings_of(heard: Heard, stretch: Stretch) -> Fields:
    """The fields of the block that were announced; every key is present, ``None`` where nothing was said."""
    own = [heard.quantities[i] for i in stretch.settings]
    # what is announced counts before what is called while the clock runs
    begun = _first_work(heard, stretch)
    # what comes after the block may be said when it is over
    after = [q for q in own if q.role == "block_rest" and q.first >= begun and (q.single or 0) >= _MINUTE]
    own = [q for q in own if heard.phase_at(q.first) != "work"] or own
    own = [q for q in own if q.first < begun] or own
    own += [q for q in after if q not in own]
    own = _without_asides(own, stretch)
    called = [q.value for q in heard.quantities if q.role in _CALLED and q.first >= stretch.end and heard.phase_at(q.first) == "work"]
    found: Fields = {
        "work_s": settle(_after_change(heard, own, "work")),
        "rest_s": settle(_after_change(heard, own, "rest"), called),
        "round_rest_s": settle(_after_change(heard, own, "round_rest"), called),
        "rounds": settle(_after_change(heard, own, "rounds")),
        "bouts": settle(_after_change(heard, own, "bouts")),
        "sets": settle(_said(own, "sets")),
        "amrap": settle(_said(own, "amrap")),
        "cap": settle(_said(own, "cap")),
        "interval_s": settle(_said(own, "interval")),
        "rest_after_s": settle(_said(own, "block_rest")),
        "time_scheme": None,
        "rep_scheme": None,
    }
    _two_rests(own, found)
    for scheme in heard.schemes:
        if _near(heard, stretch, scheme.first):
            found["time_scheme" if scheme.kind == "time" else "rep_scheme"] = [plain(v) for v in scheme.values]
    named = [f for f in heard.formats if _near(heard, stretch, f.first)]
    if found["amrap"] is None:
        found["amrap"] = _length_beside(heard, [f for f in named if f.role == "amrap"])
    if found["work_s"] is None and any(f.role == "tabata" for f in named):
        _twenty_ten(heard, stretch, found)
    kind = format_of({f.role for f in named}, found) or _by_breaths(heard, stretch)
    notes = {n.role for n in heard.notes if _near(heard, stretch, n.first)}
    if found["sets"] is not None and (kind == "sets" or found["rounds"] is None):
        found["rounds"] = found["sets"]
    if found["rounds"] is None and found["bouts"] is not None:
        found["rounds"] = _rounds_of_bouts(found["bouts"], len(stretch.items))
    out = {key: found[key] for key in ("rounds", "work_s", "rest_s", "round_rest_s", "rest_after_s")}
    out.update(format=kind, interval_s=None, duration_s=None, time_scheme=found["time_scheme"], rep_scheme=found["rep_scheme"])
    if found["time_scheme"]:
        out.update(work_s=None, rounds=len(found["time_scheme"]))
    if _a_combination_each(heard, stretch, out["rounds"]):
        out["rounds"] = 1
    if kind == "emom":
        _as_emom(heard, stretch, found, out)
    elif kind in ("amrap", "for_time") and out["rest_after_s"] is None:
        out["rest_after_s"] = out["rest_s"]        # nobody rests by the clock in it: "then three minutes off" is what follows
    if kind == "amrap":
        out.update(duration_s=found["amrap"] or found["cap"], work_s=None, rest_s=None, rounds=None, round_rest_s=None)
    elif kind == "for_time":
        out.update(duration_s=found["cap"], work_s=None, rest_s=None)
    elif kind == "sets":
        _as_sets(stretch, notes | _class_wide(heard), out)
    elif kind == "interval" and out["rest_s"] is None and "no_rest" in notes:
        out["rest_s"] = 0
    elif len(stretch.items) == 1 and out["rest_s"] is None and out["round_rest_s"] is not None:
        out.update(rest_s=out["round_rest_s"], round_rest_s=None)
    out["each_side_through"] = any(n.role == "side_through" and _near(heard, stretch, n.first) and not _of_one_movement(heard, stretch, n) for n in heard.notes)
    partner = next((n.split(":")[1] for n in sorted(notes) if n.startswith("partner:")), None)
    out["partner"] = Partner(mode=partner) if partner else None
    return out


def _without_asides(own: list[Quantity], stretch: Stretch) -> list[Quantity]:
    """``Both sides, once each``, said while a movement is shown, is not how often the class goes round, where that has been said."""
    shown = min((i.segment[0] for i in stretch.items), default=0)
    if not any(q.role == "rounds" and q.first < shown and (q.single or 0) > 1 for q in own):
        return own
    return [q for q in own if q.role != "rounds" or q.single != 1 or q.first < shown]


def _a_combination_each(heard: Heard, stretch: Stretch, rounds: Plain | None) -> bool:
    """Each round has a combination of its own: the rounds, by whatever name, are the movements, and are gone through once."""
    if any("combination" in q.pattern for q in heard.quantities if q.role == "label" and _near(heard, stretch, q.first)):
        return True
    shown = [heard.movements[i.intro] for i in stretch.items]
    return len(shown) >= _FEWEST_COMBINATIONS and rounds in (None, len(shown)) and all(
        m.label is not None and len(m.match.parts) > 1 and any("punch" in p.patterns for p in m.match.parts) for m in shown)


def _of_one_movement(heard: Heard, stretch: Stretch, note: Phrase) -> bool:
    """``Six each side. All six with the right leg first, then the left``: of the repetitions of the movement that is being shown. ``Thirty
    seconds, and then the same on the left``, with more movements to come: of that movement, and not of all of them."""
    item = next((i for i in stretch.items if i.segment[0] <= note.first < i.segment[1]), None)
    if item is None:
        return False
    if words("of_all").isdisjoint(t.norm for t in heard.words.tokens[note.first : note.end]) and any(i.segment[0] > note.first for i in stretch.items):
        return True
    counted = {q.value for q in heard.quantities if item.segment[0] <= q.first < note.first and q.role in _REPETITIONS}
    return any(q.value in counted for q in heard.quantities if note.first <= q.first < note.end)


def _two_rests(own: Sequence[Quantity], found: Fields) -> None:
    """Two rests are announced and nobody says which is which: the one at least twice as long, said second, is that between rounds."""
    said = list(dict.fromkeys(v for v in _said(own, "rest") if not isinstance(v, tuple)))
    if len(said) == 2 and found["round_rest_s"] is None and said[0] > 0 and said[1] >= _MUCH_LONGER * said[0]:
        found.update(rest_s=plain(said[0]), round_rest_s=plain(said[1]))


def _length_beside(heard: Heard, named: Sequence[Phrase]) -> Plain | None:
    """The length said nearest to a name of the format: ``First block, AMRAP. Fifteen minutes.``"""
    near = [(abs(q.first - f.first), q.value) for f in named for q in heard.quantities
            if q.kind == "length" and (q.single or 0) >= _SHORTEST_PIECE and q.role in _PIECE and -_BEFORE <= q.first - f.end <= _AFTER]
    return plain(min(near)[1]) if near else None


def _twenty_ten(heard: Heard, stretch: Stretch, found: Fields) -> None:
    """``Tabata: twenty seconds like the bus is leaving, ten like you've missed it``: named, its two numbers are its work and rest."""
    said = {q.value for q in heard.quantities if q.kind != "ordinal" and stretch.first <= q.first < stretch.end
            and heard.phase_at(q.first) in ("briefing", "demo")}
    if {20.0, 10.0} <= said:
        if found["rest_s"] not in (None, 10) and found["round_rest_s"] is None:
            found["round_rest_s"] = found["rest_s"]
        found.update(work_s=20, rest_s=10)


def _rounds_of_bouts(bouts: Plain, movements: int) -> Plain:
    """Eight bouts of two movements that take turns are four rounds."""
    if isinstance(bouts, int) and movements > 1 and bouts % movements == 0:
        return bouts // movements
    return bouts


def _as_emom(heard: Heard, stretch: Stretch, found: Fields, out: Fields) -> None:
    interval = found["interval_s"] or _MINUTE
    out.update(interval_s=float(interval) if not isinstance(interval, tuple) else None, work_s=None, rest_s=None, round_rest_s=None)
    lengths = [q for q in heard.quantities if q.kind == "length" and _near(heard, stretch, q.first)]
    n = len(stretch.items)
    if out["rounds"] is not None and n and not isinstance(out["rounds"], tuple):
        whole = n * out["rounds"] * interval
        if any(q.value == whole for q in lengths):
            out["duration_s"] = plain(float(whole))
    elif n and out["rounds"] is None:
        own = (q.single for q in lengths if q.role != "class")
        whole = next((v for v in own if v is not None and v > interval * n and v % (interval * n) == 0), None)
        if whole:
            out.update(duration_s=plain(whole), rounds=plain(whole / (interval * n)))


def _class_wide(heard: Heard) -> set[str]:
    """What was said of all pairs at once, before the first of them."""
    return {n.role for n in heard.notes if heard.phase_at(n.first) == "briefing"}


def _as_sets(stretch: Stretch, notes: set[str], out: Fields) -> None:
    out["work_s"] = None
    if len(stretch.items) == 1:
        if out["rest_s"] is None:
            out.update(rest_s=out["round_rest_s"], round_rest_s=None)
        return
    if out["rest_s"] is not None and out["round_rest_s"] is None:
        # the one rest of a pair is the rest after it
        out.update(round_rest_s=out["rest_s"], rest_s=None)
    if "no_rest" in notes:
        out["rest_s"] = 0
