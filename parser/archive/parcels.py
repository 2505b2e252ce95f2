"""A class made ready to be kept: packed, taken apart into rows, dated. It needs no archive, so that many can be made at once."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from datetime import date

from ..model import Amount, Block, Finding, Movement, Part, Plan, Reading, Report, Source, TalkThrough
from .alike import middle, timing_of
from .dates import day_in_name, day_in_words
from .documents import pack_marks, pack_plan, pack_report, pack_talk, pack_times
from .habits import over
from .packing import squeeze
from .rows import DayFrom, Documents, Parcel, Row, Used


def parcel(reading: Reading) -> Parcel:
    """Of a talk-through that was heard."""
    talk, said = reading.talk, reading.talk.text
    documents = Documents(
        said=squeeze(said), plan=pack_plan(reading.plan, said), report=pack_report(reading.report, said), talk=pack_talk(talk),
        marks=pack_marks(reading.marks, reading.meanwhile, said), times=pack_times(talk.words, said),
    )
    return packed(documents, reading.plan, reading.report, talk)


def parcel_of_plan(plan: Plan, *, name: str, sha256: str) -> Parcel:
    """Of a plan alone, read from a file of that name and content."""
    said = _spoken(plan)
    return _parcel(plan, None, said, Documents(said=squeeze(said), plan=pack_plan(plan, said)), name=name, sha256=sha256)


def packed(documents: Documents, plan: Plan, report: Report, talk: TalkThrough) -> Parcel:
    """Of what is packed already."""
    return _parcel(
        plan, report, talk.text, documents, name=talk.name, sha256=talk.sha256, recorded=talk.duration_s,
        headings=[talk.text[slice(*cue.chars)] for cue in talk.cues if cue.heading],
    )


def _parcel(
    plan: Plan, report: Report | None, said: str, documents: Documents, *, name: str, sha256: str, recorded: float | None = None,
    headings: Sequence[str] = (),
) -> Parcel:
    day, day_from = _day(name, said, headings)
    length = plan.stated_length.seconds if plan.stated_length else None
    return Parcel(
        name=name, sha256=sha256, title=plan.title, day=day, day_from=day_from, length=length,
        lasts=next((s for s in (length, _reckoned(plan), recorded) if s is not None), None),
        audited=report is not None, followed=bool(report and report.delivered), said=said, documents=documents,
        blocks=tuple((place, b.format, *timing_of(b)) for place, b in enumerate(plan.mains, 1)),
        uses=tuple(_uses(plan, told=report is not None)),
        equipment=tuple({e.name: (e.name, e.optional) for e in reversed(plan.equipment)}.values()),
        kit=tuple(sorted(_kit(plan).items())),
        findings=tuple((place, *_finding(f), over(f, report.delivered)) for place, f in enumerate(report.findings)) if report else (),
    )


def _day(name: str, said: str, headings: Sequence[str]) -> tuple[date | None, DayFrom | None]:
    if found := day_in_name(name):
        return found, "name"
    if found := day_in_words(said, headings):
        return found, "words"
    return None, None


def _spoken(plan: Plan) -> str:
    """The words of a plan that nobody has the talk of, a line each."""
    return "\n".join(dict.fromkeys(words for words in _words(plan) if words))


def _words(plan: Plan) -> Iterator[str | None]:
    yield plan.title
    yield from (e.name for e in plan.equipment)
    yield from (c.text for c in plan.cautions)
    for block in plan.blocks:
        yield block.label
        for movement in block.movements:
            yield from (movement.name, movement.said, *movement.aliases, *(o.text for o in movement.options), *(c.text for c in movement.cues))
    yield from (b.text for b in plan.breaks)


def _reckoned(plan: Plan) -> float | None:
    low, high = plan.totals.class_s
    return None if low is None or high is None else (low + high) / 2


# ---------------------------------------------------------------- rows


def _uses(plan: Plan, *, told: bool) -> Iterator[Used]:
    item = mains = 0
    for block in plan.blocks:
        mains += block.kind == "main"
        for movement in block.movements:
            item += 1
            before = (block.kind, mains if block.kind == "main" else None, movement.number, movement.sides.mode, movement.sides.first)
            after = (
                _seconds(movement, block), middle(movement.dose.reps),
                *(sum(o.kind == kind for o in movement.options) for kind in ("regression", "progression", "substitution")),
                *_place(movement.sources, told=told),
            )
            for place, part in enumerate(movement.parts):
                equipment = _array(part.equipment) if part.equipment else None
                yield Used(item, place, *_movement(part), part.name, _array(part.modifiers), (*before, equipment, *after))


def _movement(part: Part) -> tuple[str, str, str]:
    return part.base or part.name, _array(part.patterns), _array(part.muscles)


def _array(names: Sequence[str]) -> str:
    return json.dumps(sorted(set(names)), ensure_ascii=False)


def _seconds(movement: Movement, block: Block) -> float | None:
    own: Amount = movement.dose.seconds
    return middle(block.work_s if own is None else own)


def _place(sources: Sequence[Source], *, told: bool) -> tuple[float | None, int | None, int | None]:
    """When something is said first, and where in the text; of a plan alone there is no text to have a place in."""
    first = next(iter(sources), None)
    if first is None:
        return None, None, None
    return (first.start, *first.chars) if told else (first.start, None, None)


def _kit(plan: Plan) -> dict[str, bool]:
    """Every piece of equipment by name, and whether the class needs it."""
    kit: dict[str, bool] = {}
    for item in plan.equipment:
        kit[item.name] = kit.get(item.name, False) or not (item.optional or item.alternatives)
        for other in item.alternatives:
            kit.setdefault(other, False)
    listed = set(kit)
    for block in plan.blocks:
        for movement in block.movements:
            for name in movement.equipment:
                if name not in listed:
                    kit[name] = True
    return kit


def _finding(finding: Finding) -> Row:
    first = next(iter(finding.said), None)
    return (finding.code, finding.severity, finding.corrected, finding.message, finding.block, finding.round, finding.number,
            first.start if first else None, first.quote if first else "", *(first.chars if first else (None, None)))
