"""The class card: one page of markup made for print, to tape to the wall and read from two metres."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from ...clock import Start
from ...model import Plan
from ..brief import title
from ..look import Look
from ..templates import fill, source_hash
from . import sizes
from .sheet import card_sheet
from .sizes import fit

__all__ = ["card_body", "plan", "stylesheet", "together"]


def card_body(plan: Plan, *, start: Start | None = None) -> str:
    """The card of ``plan`` as one element, to be put into a page that carries ``stylesheet``.

    Every class name begins with ``plc``; there is no id, no inline style and no script.
    """
    card = card_sheet(plan, start)
    return fill("card/body.html.j2", card=card, fit=fit(card))


@cache
def stylesheet() -> str:
    """What ``card_body`` is laid out by, on paper and on a screen."""
    return fill("card/card.css.j2", m=sizes)


def plan(plan: Plan, look: Look) -> str:
    return together([plan], look)


def together(plans: Sequence[Plan], look: Look) -> str:
    """A card each, every one on a page of its own."""
    css = stylesheet()
    bodies = [card_body(plan, start=look.start) for plan in plans]
    return fill("card/page.html.j2", titles=[title(p) for p in plans], bodies=bodies, css=css, style_hash=source_hash(css))
