"""Amounts, doses, sides and formats in the plain words that a plan on a wall uses."""

from __future__ import annotations

from ..clock import clock
from ..kinds import OptionKind
from ..model import Amount, Block, Dose, Movement, Option, Sides, StatedLength

_OPTION = {"regression": "easier", "progression": "harder", "substitution": "instead"}
_QUALIFIER = {"under": "under", "about": "about", "exact": "exactly", "over": "over"}
_LEAD = {"amrap": "as many rounds as possible", "for_time": "for time", "flow": "flow"}


def length(seconds: float) -> str:
    """``45 s``, ``90 s``, ``1 min``, ``2 min 30 s``: seconds up to two minutes, unless whole minutes say it."""
    seconds = round(seconds, 2)
    minutes, rest = divmod(seconds, 60)
    if seconds < 60 or (seconds < 120 and rest):
        return f"{seconds:g} s"
    return f"{minutes:g} min" + (f" {rest:g} s" if rest else "")


def time_amount(amount: Amount) -> str:
    """A length or a range of lengths; empty where nothing was said."""
    if amount is None:
        return ""
    if not isinstance(amount, tuple):
        return length(amount)
    low, high = (length(a) for a in amount)
    if low.split()[1:] == high.split()[1:] and len(low.split()) == 2:
        low = low.split()[0]
    return f"{low} to {high}"


def count(amount: Amount, unit: str) -> str:
    """``1 round``, ``8 to 10 reps``; ``unit`` in the singular. Empty where nothing was said."""
    if amount is None:
        return ""
    if isinstance(amount, tuple):
        return f"{amount[0]:g} to {amount[1]:g} {unit}s"
    return f"{amount:g} {unit}" + ("" if amount == 1 else "s")


def between(low: float | None, high: float | None) -> str:
    """A total of the arithmetic on the clock: ``17:15 to 17:45``, ``at least 12:00``; empty where both ends are open."""
    if low is None:
        return "" if high is None else f"at most {clock(high)}"
    if high is None:
        return f"at least {clock(low)}"
    return clock(low) if clock(low) == clock(high) else f"{clock(low)} to {clock(high)}"


def stated(value: StatedLength) -> str:
    return f"{_QUALIFIER[value.qualifier]} {length(value.seconds)}"


# ---------------------------------------------------------------- a block's format


def _rest(amount: Amount, where: str) -> str:
    """A rest of nought seconds was said to be none; one that nobody named is left out."""
    if amount is None:
        return ""
    return f"no rest{where}" if amount == 0 else f"{time_amount(amount)} rest{where}"


def _work_and_rest(block: Block) -> str:
    where = ""
    if block.format == "sets":
        where = " after each set" if len(block.movements) == 1 else " between movements"
    work = f"{time_amount(block.work_s)} work" if block.work_s is not None else ""
    return ", ".join(filter(None, [work, _rest(block.rest_s, where)]))


def _round_rest(block: Block) -> str:
    if block.round_rest_s is None:
        return ""
    if block.round_rest_s == 0:
        return "no rest between rounds"
    return f"{time_amount(block.round_rest_s)} between rounds"


def _every(block: Block) -> str:
    if block.format != "emom":
        return f"a new start every {length(block.interval_s)}" if block.interval_s is not None else ""
    return "every minute on the minute" if block.interval_s in (None, 60) else f"every {length(block.interval_s)}"


def _own_length(block: Block) -> str:
    said = time_amount(block.duration_s)
    if not said:
        return ""
    if block.format == "for_time":
        return f"cap {said}"
    return f"in {said}" if block.format == "amrap" else f"{said} in all"


def _schemes(block: Block) -> list[str]:
    """A ladder's reps or times, one entry a round."""
    found = []
    if block.rep_scheme:
        found.append(", ".join(str(n) for n in block.rep_scheme) + " reps")
    if block.time_scheme:
        found.append(", ".join(length(s) for s in block.time_scheme) + " work, one length a round")
    return found


def _partner(block: Block) -> str:
    if block.partner is None:
        return ""
    how = "one works while the other waits" if block.partner.mode == "alternate" else "both together"
    swap = f", swap every {length(block.partner.swap_s)}" if block.partner.swap_s is not None else ""
    return f"in pairs, {how}{swap}"


def asides(block: Block) -> list[str]:
    """What was said of a block's format and is no number."""
    through = "the whole sequence on one side, then on the other" if block.each_side_through else ""
    return list(filter(None, [through, _partner(block)]))


def format_line(block: Block) -> str:
    """All that was said of a block's format on one line, ``3 rounds · 40 s work, 20 s rest · 90 s between rounds``.
    Empty where nothing was said."""
    lead = _LEAD.get(block.format or "", "")
    if block.format == "amrap":
        lead = " ".join(filter(None, [lead, _own_length(block)]))
    pieces = [
        lead,
        _every(block),
        count(block.rounds, "set" if block.format == "sets" else "round"),
        *_schemes(block),
        _work_and_rest(block),
        _round_rest(block),
        "" if block.format == "amrap" else _own_length(block),
        *asides(block),
    ]
    line = " · ".join(filter(None, pieces))
    return line[:1].upper() + line[1:]


# ---------------------------------------------------------------- a movement


def _amounts(dose: Dose) -> list[str]:
    return list(filter(None, [
        time_amount(dose.seconds), count(dose.reps, "rep"), count(dose.counts, "count"), count(dose.breaths, "breath"),
        count(dose.metres, "metre"), count(dose.calories, "calorie"),
    ]))


def _phases(dose: Dose) -> str:
    def one(text: str, reps: int | None, seconds: float | None) -> str:
        more = ", ".join(filter(None, [count(reps, "rep"), time_amount(seconds)]))
        return f"{text} ({more})" if more else text

    return ", then ".join(one(p.text, p.reps, p.seconds) for p in dose.phases)


def dose_and_sides(movement: Movement) -> str:
    return doing(movement.sides, movement.dose)


def doing(sides: Sides, dose: Dose) -> str:
    """``each side, 20 s a side, left first``, ``12 reps, alternating sides``; empty where neither was said."""
    amounts = _amounts(dose)
    if sides.mode == "each":
        each = [*amounts, time_amount(sides.seconds_each), count(sides.reps_each, "rep")]
        found = ["each side", *dict.fromkeys(f"{a} a side" for a in each if a)]
    elif sides.mode == "one":
        found = [*amounts, f"{sides.first} side only" if sides.first else "one side only"]
    else:
        found = [*amounts, "alternating sides" if sides.mode == "alternating" else ""]
        found += [f"{a} a side" for a in (time_amount(sides.seconds_each), count(sides.reps_each, "rep")) if a]
    if sides.first and sides.mode != "one":
        found.append(f"{sides.first} first")
    return ", ".join(filter(None, [_phases(dose), *found]))


def kind_of_option(kind: OptionKind) -> str:
    return _OPTION[kind]


def option_label(option: Option, movement: Movement) -> str:
    """``easier``, or ``easier (hammer curl)`` where the option is for one part of a chain."""
    label = kind_of_option(option.kind)
    if option.part is not None and len(movement.parts) > 1 and 0 <= option.part < len(movement.parts):
        return f"{label} ({movement.parts[option.part].name})"
    return label
