"""Intervals of the planned class in the plain words that a page, a caption or a table uses. All of it has passed through ``clean``."""

from __future__ import annotations

from ..model import Block, Movement, Plan
from ..schedule import Slot
from .clean import clean
from .sheet import heading
from .wording import format_line

KINDS = {"work": "work", "rest": "rest", "round_rest": "round rest", "block_rest": "block rest"}


def movement_of(plan: Plan, slot: Slot) -> Movement | None:
    return plan.blocks[slot.place].movement(slot.number)


def numbered(movement: Movement) -> str:
    """``2. single-arm row``."""
    return clean(f"{movement.number}. {movement.name}")


def part(plan: Plan, slot: Slot) -> str:
    """The heading of its block, ``Warm-up`` or ``Main block 2: the long rope``."""
    return heading(plan, slot.place)


def side(movement: Movement | None, slot: Slot) -> str:
    """``left side`` where it was said which is first, else ``first side``; empty where the work is not split."""
    if slot.side is None:
        return ""
    first = movement.sides.first if movement else None
    if first is None:
        return f"{slot.side} side"
    other = {"left": "right", "right": "left"}[first]
    return f"{first if slot.side == 'first' else other} side"


def what(plan: Plan, slot: Slot) -> str:
    """What is worked: a movement by number, or of a block that is laid out no finer, its heading and format."""
    movement = movement_of(plan, slot)
    if movement is not None:
        return numbered(movement)
    said = format_line(plan.blocks[slot.place])
    return f"{part(plan, slot)}, {said[:1].lower()}{said[1:]}" if said else part(plan, slot)


def all_numbered(block: Block) -> str:
    return " · ".join(map(numbered, block.movements))
