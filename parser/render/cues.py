"""The planned class as a WebVTT track from zero: to lay over a timer video, or to follow on a phone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..model import Plan
from ..schedule import Slot, schedule
from . import slots as words
from .look import Look
from .vtt import Cue, document
from .wording import dose_and_sides


def one(plan: Plan, look: Look) -> str:
    slots = schedule(plan)
    cues = [Cue(slot.start, slot.end, list(_lines(plan, slots, place))) for place, slot in enumerate(slots) if slot.seconds is not None]
    return document(cues, _notes(plan, slots))


def lacks(plan: Plan) -> str:
    if any(slot.seconds is not None for slot in schedule(plan)):
        return ""
    return "nothing in the plan has a length, so there is no clock to follow. Put lengths of work and rest into its JSON."


def _notes(plan: Plan, slots: Sequence[Slot]) -> Iterator[str]:
    for place in dict.fromkeys(slot.place for slot in slots if slot.seconds is None):
        first = next(slot for slot in slots if slot.place == place)
        yield f"{words.part(plan, first)}: work without a length takes no time here. Stop the timer for it."
    if slots[-1].end != schedule(plan, longest=True)[-1].end:
        yield "Where the words leave a length open, the shortest that they allow is taken."


def _lines(plan: Plan, slots: Sequence[Slot], place: int) -> Iterator[str]:
    slot = slots[place]
    following = slots[place + 1] if place + 1 < len(slots) else None
    if slot.kind == "work":
        yield from _work(plan, slot)
    else:
        yield "Rest"
    if following is None:
        return
    if following.seconds is None:
        yield f"Then stop the timer for: {words.what(plan, following)}"
    elif following.kind == "work" and following.side != "second":
        yield f"Next: {_next(plan, slot, following)}"


def _work(plan: Plan, slot: Slot) -> Iterator[str]:
    block, movement = plan.blocks[slot.place], words.movement_of(plan, slot)
    lead = "Change sides" if slot.side == "second" else "Work" if slot.block else words.part(plan, slot)
    if movement is None:
        yield words.what(plan, slot)
        yield words.all_numbered(block)
        return
    yield f"{lead}: {words.numbered(movement)}"
    yield words.side(movement, slot) or dose_and_sides(movement)
    if slot.block and isinstance(block.rounds, (int, float)) and block.rounds > 1:
        yield f"Round {slot.round} of {block.rounds:g}"


def _next(plan: Plan, slot: Slot, following: Slot) -> str:
    movement = words.movement_of(plan, following)
    found = [words.what(plan, following), words.side(movement, following)]
    if slot.place != following.place and movement is not None:
        found.insert(0, words.part(plan, following))
    return ", ".join(filter(None, found))
