"""What the welcome announces of blocks to come: ``A, that's four sets. B, three sets, a minute after. And C's five sets``."""

from __future__ import annotations

from ..mentions import Heard
from .open_block import OpenBlock
from .weights import place

_WITHIN = 40      # words from what names a later block, or from its last setting, to a setting of it
_LAST = -1
_LAID_OUT = ("briefing", "demo")


class Ahead:
    """Settings that were said of the second block, or of a later one, before any block has a movement."""

    def __init__(self, heard: Heard) -> None:
        self.heard = heard
        self.place, self.at = 1, 0
        self.later: dict[int, list[int]] = {}

    def opens(self, at: int) -> None:
        """A phrase that opens a block stands at token ``at``."""
        if self.heard.phase_at(at) in _LAID_OUT:
            self.place, self.at = self.place_of(at) or 1, at

    def takes(self, index: int) -> bool:
        """Whether the quantity ``index`` is a setting of a later block; it is kept for that."""
        q = self.heard.quantities[index]
        if not self.is_of(q.first):
            return False
        self.later.setdefault(self.place, []).append(index)
        self.at = q.first
        return True

    def is_of(self, at: int) -> bool:
        """Whether what is said at token ``at`` is said of a later block."""
        return self.place != 1 and 0 <= at - self.at <= _WITHIN and self.heard.phase_at(at) in _LAID_OUT

    def hand_out(self, mains: list[OpenBlock]) -> None:
        """Gives the blocks, in the plan's order, what was said of them ahead; where there is no such block, the first gets what it lacks."""
        for at, settings in self.later.items():
            if not mains:
                return
            alone = at > len(mains) or at == _LAST and len(mains) == 1
            heir = mains[0] if alone else mains[at if at == _LAST else at - 1]
            has = {self.heard.quantities[k].role for k in heir.settings}
            heir.settings[:0] = [k for k in settings if not alone or self.heard.quantities[k].role not in has]

    def place_of(self, at: int) -> int | None:
        """Which block the words at ``at`` name: counted from 1, ``_LAST`` for the finisher, ``None`` where they only say that there is another."""
        said = next((f for f in self.heard.formats if f.first == at and f.role == "open"), None)
        end = said.end if said else at + 1
        spoken = [t.norm for t in self.heard.words.tokens[at:end]]
        naming = [w.removesuffix("'s") for k, w in enumerate(spoken) if w != "a" or k in (0, len(spoken) - 1)]      # not "it's a superset"
        return next((n for n in map(place, naming) if n is not None), None)
