"""Building: mentions of one thing become one movement of one block. What cannot be placed stays visible."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ..mentions import Heard, Item, Layout, Stretch
from ..model import Amount, Block, Dose, Movement, Part, Plan, PlanSource, Source, Unplaced
from . import frame
from .details import dose_of, options_of, otherwise_later, points_of, sides_of
from .layout import lay_out
from .likeness import Same
from .settings import settings_of
from .totals import totals

if TYPE_CHECKING:
    from ..mentions import Match

__all__ = ["build_plan", "lay_out", "totals"]


def build_plan(heard: Heard, same: Same) -> tuple[Plan, Layout]:
    """The plan, and how its mentions were put together (for the report and for explain)."""
    layout = lay_out(heard, same)
    blocks = _same_clock(_same_sets([_block(heard, s) for s in layout.stretches]))
    notes = {n.role for n in heard.notes}
    replaces = True if "replaces" in notes else False if "follows" in notes else None
    reckoned = totals(blocks, replaces=replaces)
    length = frame.stated_length(heard)
    if length is not None and reckoned.main_s == (length.seconds, length.seconds) and any(b.kind != "main" for b in blocks):
        length = None       # "four moves, sixteen minutes": that is the work, to the second, and there is more than work
    plan = Plan(
        source=plan_source(heard), focus=frame.focus(heard), stated_length=length, equipment=frame.equipment(heard),
        cautions=frame.cautions(heard), blocks=blocks, breaks=frame.breaks(heard, layout),
        totals=reckoned, unplaced=_unplaced(heard, layout))
    return plan, layout


def plan_source(heard: Heard) -> PlanSource:
    talk = heard.words.talk
    return PlanSource(name=talk.name, sha256=talk.sha256, format=talk.format, resolution=talk.resolution,
                      duration_s=talk.duration_s, words=len(heard.words.tokens))


def _block(heard: Heard, stretch: Stretch) -> Block:
    sources = [heard.words.source(*heard.quantities[i].span) for i in stretch.settings]
    if stretch.kind == "main":
        found = settings_of(heard, stretch)
    else:
        found = {"duration_s": frame.frame_length(heard, stretch.kind)}
    work = found.get("work_s")
    timed = work is not None
    counted = found.get("format") in (None, "sets", "emom", "amrap", "for_time", "flow")
    through = bool(found.get("each_side_through"))
    movements = [_movement(heard, item, n, stretch.items, work_s=work, timed=timed, counted=counted, through=through)
                 for n, item in enumerate(stretch.items, 1)]
    return Block(kind=stretch.kind, movements=movements, sources=sources, **found)


def _movement(heard: Heard, item: Item, number: int, items: tuple[Item, ...], *, work_s: Amount, timed: bool, counted: bool,
              through: bool) -> Movement:
    mention = heard.movements[item.intro]
    match = mention.match
    sides = sides_of(heard, item, work_s=work_s, timed=timed, through=through, items=items)
    others_of_block = tuple(i for i in items if i is not item)
    options = options_of(heard, item, others_of_block)
    if not options and not timed and item.again:
        # announced in an overview, shown when its turn comes
        options = options_of(heard, replace(item, segment=item.again), others_of_block)
    dose = dose_of(heard, item, sides, timed=timed, counted=counted)
    if through and sides.mode == "each" and sides.seconds_each is sides.reps_each is None:
        # all of it is done on one side, and then as much on the other
        reps = None if dose.reps is not None and otherwise_later(heard, item, dose.reps) else dose.reps
        sides, dose = sides.model_copy(update={"reps_each": reps}), dose.model_copy(update={"reps": reps})
    parts = [Part(name=p.name, base=p.base, link=p.link, modifiers=list(p.modifiers), equipment=list(p.equipment),
                  patterns=list(p.patterns), muscles=list(p.muscles)) for p in match.parts]
    said = heard.words.source(mention.first, mention.end)
    others = [heard.movements[n] for n in item.mentions[1:]]
    aliases = list(dict.fromkeys(_as_said(o.match) for o in others if not set(o.match.name.split()) <= set(match.name.split())))
    return Movement(number=number, name=match.name, parts=parts, sides=sides, dose=dose, options=options,
                    cues=points_of(heard, item, options), equipment=_kit(heard, match), said=" ".join(said.quote.split()), aliases=aliases,
                    sources=[said] + [heard.words.source(o.first, o.end) for o in others])


def _as_said(match: Match) -> str:
    """The name of a match where its words were said, else the words: ``slow walk out``, not the slow inchworm that it means."""
    named, said = ({word.removesuffix("s") for word in words} for words in (match.name.replace("-", " ").split(), match.words))
    return match.name if named <= said else " ".join(match.words)


def _kit(heard: Heard, match: Match) -> list[str]:
    """Of the usual equipment of a movement that which is spoken of in this class: nothing is assumed."""
    spoken = {e.name for e in heard.equipment if not e.negated}
    return [name for name in match.equipment if name in spoken]


def _same_clock(blocks: list[Block]) -> list[Block]:
    """``Two lots of eight bouts``: a block that was given no timing at all is done to the clock of the one before it."""
    out: list[Block] = []
    for block in blocks:
        before = out[-1] if out else None
        untold = block.format is None and block.work_s is None and block.duration_s is None and block.rep_scheme is None
        if before and untold and block.kind == before.kind == "main" and before.work_s is not None and before.movements \
                and 2 * sum(m.dose != Dose() for m in block.movements) < len(block.movements) + 1:
            update = {"format": before.format, "work_s": before.work_s, "rest_s": before.rest_s}
            if block.rounds is None and isinstance(before.rounds, int):
                bouts = before.rounds * len(before.movements)
                update["rounds"] = bouts // len(block.movements) if before.format == "tabata" and bouts % len(block.movements) == 0 else None
            block = block.model_copy(update=update)
        out.append(block)
    return out


def _same_sets(blocks: list[Block]) -> list[Block]:
    """``Three sets of A, then three of B``: a pair without sets of its own is done as often as the one before it."""
    out: list[Block] = []
    for block in blocks:
        before = out[-1] if out else None
        if before and block.kind == before.kind == "main" and before.format == "sets" and block.format in (None, "sets") \
                and block.rounds is None and len(block.movements) > 1 and len(before.movements) > 1:
            block = block.model_copy(update={"format": "sets", "rounds": before.rounds,
                                             "rest_s": before.rest_s if block.rest_s is None else block.rest_s})
        out.append(block)
    return out


def _unplaced(heard: Heard, layout: Layout) -> list[Unplaced]:
    found: dict[str, list[Source]] = {}
    for n in layout.passing:
        mention = heard.movements[n]
        if mention.scope is None and not mention.option and not mention.match.everyday and not mention.match.verbal:
            source = heard.words.source(mention.first, mention.end)
            found.setdefault(" ".join(source.quote.split()).lower(), []).append(source)
    return [Unplaced(kind="movement", text=" ".join(sources[0].quote.split()), sources=sources) for sources in found.values()]
