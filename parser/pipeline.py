"""How a talk-through flows through the house: the place to learn it.

    read    bytes -> TalkThrough: the text as read, cues and word times            parser.read
    hear    TalkThrough -> Heard: every mention with its place in the words        parser.hear
    build   Heard -> Plan and Layout: mentions of one thing become one movement    parser.build
    follow  Heard + Plan -> intervals as delivered                                  parser.follow
    check   all of these -> findings                                                parser.checks
"""

from __future__ import annotations

from pathlib import Path

from .build import build_plan
from .checks import Case, audit_case
from .explain import Explanation, explain_at
from .follow import follow
from .hear import hear
from .model import Plan, Report, TalkThrough


def _lexicon(taught: Path | None):
    from lexicon import load

    return load(taught)


def explain(talk: TalkThrough, *, at: float, lexicon=None) -> Explanation:
    """What was heard near ``at`` seconds, and why."""
    lexicon = lexicon or _lexicon(None)
    heard = hear(talk, lexicon)
    made, layout = build_plan(heard, lexicon.same)
    return explain_at(heard, made, layout, at=at)


def plan(talk: TalkThrough, *, lexicon=None) -> Plan:
    """The written plan of ``talk``."""
    lexicon = lexicon or _lexicon(None)
    heard = hear(talk, lexicon)
    return build_plan(heard, lexicon.same)[0]


def audit(talk: TalkThrough, *, lexicon=None, strict: bool = False) -> Report:
    """What in ``talk`` does not agree with itself, and what was done when. ``strict`` raises the notes on good practice to warnings."""
    lexicon = lexicon or _lexicon(None)
    heard = hear(talk, lexicon)
    made, layout = build_plan(heard, lexicon.same)
    followed = follow(heard, made, layout)
    findings = audit_case(Case(made, layout, heard, lexicon.same, followed=followed, strict=strict))
    return Report(source=made.source, findings=findings, delivered=list(followed.intervals), coverage=followed.coverage)
