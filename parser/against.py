"""What a recording announces against the plan that was meant: a written one, or that of a rehearsal."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from .model import Block, Finding, Plan

Value = float | tuple[float, float]

_SETTINGS = {"work_s": "work", "rest_s": "rest", "round_rest_s": "rest between rounds", "interval_s": "interval", "duration_s": "length"}


def differences(meant: Plan, said: Plan, same: Callable[[str, str], bool]) -> list[Finding]:
    """Every setting and movement that the recording gives another way than ``meant``; what either leaves open is no difference.

    ``same`` tells whether two names are one movement.
    """
    pairs = zip(meant.mains, said.mains)
    return [f for number, (a, b) in enumerate(pairs, 1) for f in (*_settings(number, a, b), *_movements(number, a, b, same))]


def _settings(number: int, meant: Block, said: Block) -> Iterator[Finding]:
    for field, name in _SETTINGS.items():
        a, b = getattr(meant, field), getattr(said, field)
        if a is not None and b is not None and a != b:
            yield Finding(code="timing-contradiction", severity="warning", block=number, expected=f"{_seconds(a)}", said=said.sources[:1],
                          message=f"Block {number}: {name} of {_seconds(b)} in the recording, {_seconds(a)} as meant.")
    if meant.rounds is not None and said.rounds is not None and meant.rounds != said.rounds:
        yield Finding(code="count-mismatch", severity="warning", block=number, expected=f"{_plain(meant.rounds)} rounds", said=said.sources[:1],
                      message=f"Block {number}: {_plain(said.rounds)} rounds in the recording, {_plain(meant.rounds)} as meant.")


def _movements(number: int, meant: Block, said: Block, same: Callable[[str, str], bool]) -> Iterator[Finding]:
    wanted = {m.number: m for m in meant.movements}
    for movement in said.movements:
        other = wanted.get(movement.number)
        if other is not None and not same(other.name, movement.name):
            yield Finding(code="name-changed", severity="warning", block=number, number=movement.number, expected=other.name,
                          said=movement.sources[:1],
                          message=f"Block {number}, movement {movement.number}: {movement.name} in the recording, {other.name} as meant.")


def _seconds(value: Value) -> str:
    return f"{_plain(value)} s"


def _plain(value: Value) -> str:
    return f"{value[0]:g} to {value[1]:g}" if isinstance(value, (tuple, list)) else f"{value:g}"
