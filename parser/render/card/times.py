"""The times of day on a class card: only those that follow from the start and the words."""

from __future__ import annotations

from ...clock import Start
from ...model import Plan
from ...schedule import Slot, schedule

_ENDS = {"under": ", done before", "about": " to about", "exact": " to", "over": " to after"}


class Times:
    """Empty strings where nothing is known, or no start was given."""

    def __init__(self, plan: Plan, start: Start | None) -> None:
        self.plan, self.start = plan, start
        self.first = _begins(schedule(plan))
        self.last = _begins(schedule(plan, longest=True))

    def of_class(self) -> str:
        """``18:30 to about 19:00``."""
        if self.start is None:
            return ""
        said, (low, high) = self.plan.stated_length, self.plan.totals.class_s
        begin = self.start.after(0)
        if said:
            return f"{begin}{_ENDS[said.qualifier]} {self.start.after(said.seconds)}"
        return begin if low is None or high is None else f"{begin} to {self._range(self.start, low, high)}"

    def of_block(self, place: int) -> str:
        return self._between(place, None)

    def of_rounds(self, place: int) -> str:
        """``18:35, 18:41, 18:47``; nothing where there is one only, or one whose time is not known."""
        rounds = self.plan.blocks[place].rounds
        if not isinstance(rounds, (int, float)) or rounds < 2:
            return ""
        found = [self._between(place, r) for r in range(1, int(rounds) + 1)]
        return ", ".join(found) if all(found) else ""

    def _between(self, place: int, round_: int | None) -> str:
        key = (place, round_)
        if self.start is None or key not in self.first or key not in self.last:
            return ""
        return self._range(self.start, self.first[key], self.last[key])

    @staticmethod
    def _range(start: Start, low: float, high: float) -> str:
        one, other = start.after(low), start.after(high)
        return one if one == other else f"{one} to {other}"


def _begins(slots: tuple[Slot, ...]) -> dict[tuple[int, int | None], float]:
    """When each block, and each of its rounds, begins, up to the first thing that nobody gave a length for."""
    found: dict[tuple[int, int | None], float] = {}
    for slot in slots:
        found.setdefault((slot.place, None), slot.start)
        if slot.round is not None and slot.kind == "work":
            found.setdefault((slot.place, slot.round), slot.start)
        if slot.seconds is None or slot.cap:
            break
    return found
