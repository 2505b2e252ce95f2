"""Pieces of a page laid out as lines of text."""

from __future__ import annotations

import io
from collections.abc import Iterable

from rich.console import Console, Group, RenderableType

from .look import Look


def to_text(parts: Iterable[RenderableType], look: Look) -> str:
    """Lay out ``parts``. Words reach the page as Text only: nothing that was said is read as markup."""
    out = io.StringIO()
    console = Console(
        file=out,
        width=look.width,
        color_system="standard" if look.styled else None,
        force_terminal=look.styled,
        markup=False,
        emoji=False,
        highlight=False,
        legacy_windows=False,
    )
    console.print(Group(*parts))
    return "\n".join(line.rstrip() for line in out.getvalue().splitlines()) + "\n"
