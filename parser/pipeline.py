"""How a talk-through flows through the house: the place to learn it.

    read    bytes -> TalkThrough: the text as read, cues and word times            parser.read
    hear    TalkThrough -> Heard: every mention with its place in the words        parser.hear
    build   Heard -> Plan and Layout: mentions of one thing become one movement    parser.build
    follow  Heard + Plan -> intervals as delivered                                  parser.follow
    check   all of these -> findings                                                parser.checks
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, ParamSpec, TypeVar

from .against import differences
from .build import build_plan
from .build.totals import totals
from .checks import Case, audit_case
from .explain import Explanation, explain_at
from .follow import follow
from .hear import hear
from .marks import marks_of, said_during
from .mentions import Heard, Layout
from .model import Plan, Reading, Recorded, Report, TalkThrough
from .timings import Timed, untimed

if TYPE_CHECKING:
    from lexicon import Lexicon

Given = ParamSpec("Given")
Answer = TypeVar("Answer")


def _lexicon(taught: Path | None) -> Lexicon:
    from lexicon import load

    return load(taught)


def _understood(talk: TalkThrough, lexicon: Lexicon, timed: Timed = untimed) -> tuple[Heard, Plan, Layout]:
    """What was heard, the plan of it, and how the plan's mentions were put together."""
    with timed("hear"):
        heard = hear(talk, lexicon)
    with timed("build"):
        return heard, *build_plan(heard, lexicon.same)


def _kept(call: Callable[Given, Answer]) -> Callable[Given, Answer]:
    """``call`` without a search, on the way, for what can be thrown away: of a long talk it takes a quarter of the time."""
    @wraps(call)
    def uninterrupted(*given: Given.args, **options: Given.kwargs) -> Answer:
        from lexicon import nothing_thrown_away

        with nothing_thrown_away():
            return call(*given, **options)

    return uninterrupted


def explain(talk: TalkThrough, *, at: float, lexicon: Lexicon | None = None) -> Explanation:
    """What was heard near ``at`` seconds, and why."""
    heard, made, layout = _understood(talk, lexicon or _lexicon(None))
    return explain_at(heard, made, layout, at=at)


@_kept
def plan(talk: TalkThrough, *, lexicon: Lexicon | None = None, timed: Timed = untimed) -> Plan:
    """The written plan of ``talk``."""
    return _understood(talk, lexicon or _lexicon(None), timed)[1]


@_kept
def recorded(talk: TalkThrough, *, lexicon: Lexicon | None = None, timed: Timed = untimed) -> Recorded:
    """The written plan of ``talk``, and what was done of it when."""
    heard, made, layout = _understood(talk, lexicon or _lexicon(None), timed)
    with timed("follow"):
        return Recorded(plan=made, delivered=list(follow(heard, made, layout).intervals))


def revised(plan: Plan) -> Plan:
    """``plan``, which somebody may have changed by hand, with totals that follow from its blocks."""
    possible = [totals(plan.blocks, replaces=replaces) for replaces in (None, True, False)]
    return plan if plan.totals in possible else plan.model_copy(update={"totals": possible[0]})


@_kept
def audit(talk: TalkThrough, *, lexicon: Lexicon | None = None, strict: bool = False, against: Plan | None = None,
          timed: Timed = untimed) -> Report:
    """What in ``talk`` does not agree with itself, and what was done when. ``strict`` raises the notes on good practice to warnings.

    With ``against``, a written plan or that of a rehearsal, the clock is held against that, and what the talk announces too.
    """
    lexicon = lexicon or _lexicon(None)
    heard, made, layout = _understood(talk, lexicon, timed)
    if against is None:
        return _report(heard, made, layout, lexicon, strict=strict, timed=timed)
    where = _layout_for(against, layout)
    with timed("follow"):
        followed = follow(heard, against, where)
    with timed("check"):
        findings = audit_case(Case(made, layout, heard, lexicon.same, strict=strict),
                              clock=Case(against, where, heard, lexicon.same, followed=followed, strict=strict))
        findings += differences(against, made, lambda a, b: lexicon.same(a, b).same)
    return Report(source=made.source, findings=findings, delivered=list(followed.intervals), coverage=followed.coverage)


def _report(heard: Heard, made: Plan, layout: Layout, lexicon: Lexicon, *, strict: bool = False,
            timed: Timed = untimed) -> Report:
    with timed("follow"):
        followed = follow(heard, made, layout)
    with timed("check"):
        findings = audit_case(Case(made, layout, heard, lexicon.same, followed=followed, strict=strict))
    return Report(source=made.source, findings=findings, delivered=list(followed.intervals), coverage=followed.coverage)


@_kept
def reading(talk: TalkThrough, *, lexicon: Lexicon | None = None) -> Reading:
    """Plan, report and talk side by side, with what was heard where."""
    lexicon = lexicon or _lexicon(None)
    heard, made, layout = _understood(talk, lexicon)
    report = _report(heard, made, layout, lexicon)
    return Reading(talk=talk, plan=made, report=report, marks=marks_of(heard, made), meanwhile=said_during(heard, report.delivered))


def _layout_for(plan: Plan, layout: Layout) -> Layout:
    """``layout`` where it has the shape of ``plan``, else one that knows nothing."""
    sizes = [len(b.movements) for b in plan.blocks], [len(s.items) for s in layout.stretches]
    return layout if sizes[0] == sizes[1] else Layout(())
