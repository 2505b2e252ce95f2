"""Classes most like one, and what differs, as plain lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.padding import Padding
from rich.text import Text

from ...model import Block
from ...review.alike import Alike, AlikeTo, Likeness
from ..clean import clean
from ..console import to_text
from ..look import Look
from ..wording import format_line
from .days import called, some

FOOT = "Alike in movements, patterns, format, timing and equipment, weighed in that order; what neither class says is left out."
_RESPECTS = ("movements", "patterns", "format", "timing", "equipment")


def text(found: AlikeTo, look: Look) -> str:
    return to_text(list(_parts(found)), look)


def _parts(found: AlikeTo) -> Iterator[RenderableType]:
    yield Text(f"Most like {called(found.shown)}", "bold")
    yield Text(f"Compared with {some(found.compared, 'other class', plural='other classes')}.", "dim")
    if found.compared and not found.alike:
        yield Text("None of them has anything in common with it.")
    for one in found.alike:
        yield Text("")
        yield Text.assemble((f"{percent(one.likeness.whole)}  {called(one.shown)}", "bold"))
        yield from (Padding(Text(line), (0, 0, 0, 2)) for line in (respects(one.likeness), *differs(one)))
    if found.alike:
        yield from (Text(""), Text(FOOT, "dim"))


def percent(share: float) -> str:
    return f"{100 * share:.0f}%"


def respects(likeness: Likeness) -> str:
    """``movements 80%, patterns 90%``; a respect that neither class says anything of is left out."""
    told = {name: getattr(likeness, name) for name in _RESPECTS}
    return ", ".join(f"{name} {percent(value)}" for name, value in told.items() if value is not None)


def differs(one: Alike) -> list[str]:
    named = {
        "both": one.shared, "it has besides": one.more, "it lacks": one.lacks,
        "equipment besides": one.equipment_more, "equipment it lacks": one.equipment_lacks,
    }
    lines = [f"{what}: {_names(names)}" for what, names in named.items() if names]
    if not one.shared:
        lines.insert(0, "no movement in common")
    return lines + [f"{_settings(mine)} → {_settings(its)}" for mine, its in one.settings]


def _settings(block: Block | None) -> str:
    return "no block" if block is None else clean(format_line(block)) or "no settings said"


def _names(names: Sequence[str]) -> str:
    return ", ".join(map(clean, names))
