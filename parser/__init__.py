"""planaloud: a coach's own timestamped talk-through becomes a written plan, a report of what does not agree, and an archive.

The few public names. Each imports what it needs when it is called, so that importing the package costs next to nothing.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lexicon import Lexicon

    from .model import Plan, Report, TalkThrough

__all__ = ["audit", "load_lexicon", "make_plan", "read_talk"]


def read_talk(path: Path | str) -> TalkThrough:
    """The talk-through in the file ``path`` (``-`` is standard input), its format recognised by content.

    Raises :class:`~parser.errors.UnreadableInput` with a sentence that says what was found and what would work.
    """
    from .read import read_path

    return read_path(path)


def load_lexicon(taught: Path | None = None) -> Lexicon:
    """The shipped vocabulary, with a coach's own word file laid over it."""
    from lexicon import load

    return load(taught)


def make_plan(talk: TalkThrough, *, lexicon: Lexicon | None = None) -> Plan:
    """The written plan of ``talk``; all moments and lengths in seconds."""
    from .pipeline import plan

    return plan(talk, lexicon=lexicon)


def audit(talk: TalkThrough, *, lexicon: Lexicon | None = None, strict: bool = False, against: Plan | None = None) -> Report:
    """What in ``talk`` does not agree, worst first, and what was done when. ``strict`` raises good-practice notes to warnings;
    ``against`` is the plan that was meant, where it is not the one announced."""
    from . import pipeline

    return pipeline.audit(talk, lexicon=lexicon, strict=strict, against=against)
