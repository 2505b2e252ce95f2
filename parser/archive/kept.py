"""A class read whole again."""

from __future__ import annotations

from dataclasses import dataclass

from ..errors import ArchiveError
from ..model import Mark, Plan, Reading, Report, Source, TalkThrough
from ..review.shown import Shown, Version
from .documents import unpack_marks, unpack_plan, unpack_report, unpack_talk
from .packing import unsqueeze
from .rows import Documents


@dataclass(frozen=True, slots=True)
class Kept:
    """One version of a class as it was put in. ``talk`` and ``report`` are ``None`` where a plan alone was kept."""

    shown: Shown
    version: Version
    plan: Plan
    report: Report | None
    talk: TalkThrough | None
    _marks: bytes | None
    """Packed: few who ask for a class ask for them."""

    @property
    def reading(self) -> Reading:
        """Raises ArchiveError of a plan alone."""
        if self.talk is None or self.report is None:
            raise ArchiveError(f"Class {self.shown.id} was kept from a plan: there is no talk-through beside it.")
        marks, meanwhile = self.marks()
        return Reading(talk=self.talk, plan=self.plan, report=self.report, marks=marks, meanwhile=meanwhile)

    def marks(self) -> tuple[tuple[Mark, ...], tuple[Source | None, ...]]:
        """What is marked in the talk, and what was said during each interval. Raises ValueError where they are damaged."""
        return ((), ()) if self._marks is None or self.talk is None else unpack_marks(self._marks, self.talk.text)


def whole(shown: Shown, version: Version, documents: Documents) -> Kept:
    """Raises ValueError, TypeError or KeyError where the documents are damaged."""
    said = unsqueeze(documents.said)
    return Kept(
        shown=shown, version=version, plan=unpack_plan(documents.plan, said),
        report=None if documents.report is None else unpack_report(documents.report, said),
        talk=None if documents.talk is None else unpack_talk(documents.talk, documents.times, said),
        _marks=documents.marks,
    )
