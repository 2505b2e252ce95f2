"""Why a moment of the talk was heard as it was: which pattern fired over which words, what lost, how the lexicon matched."""

from __future__ import annotations

from dataclasses import dataclass

from .clock import clock
from .mentions import Heard, Layout, MovementMention
from .model import Plan

_WINDOW_S = 6.0      # how far from the moment asked for


@dataclass(frozen=True, slots=True)
class Explanation:
    """``lines`` to print; ``found`` is False where nothing was heard near the moment."""

    lines: list[str]
    found: bool


def _quote(heard: Heard, first: int, end: int) -> str:
    return " ".join(heard.words.source(first, end).quote.split())


def explain_at(heard: Heard, plan: Plan, layout: Layout, *, at: float) -> Explanation:
    """What was heard within a few seconds of ``at`` (seconds from the start)."""
    tokens = heard.words.tokens
    near = [(t.i, t.t0) for t in tokens if t.t0 is not None and abs(t.t0 - at) <= _WINDOW_S]
    if not near:
        return Explanation([f"Nothing was said within {_WINDOW_S:.0f} s of {clock(at)}."], False)
    (first, began), (last, said) = near[0], near[-1]
    end, over = last + 1, tokens[last].t1
    lines = [f"{clock(began)} to {clock(said if over is None else over)}: {_quote(heard, first, end)!r}",
             f"phase: {heard.phase_at(near[len(near) // 2][0])}"]

    def within(a: int) -> bool:
        return first <= a < end

    for q in heard.quantities:
        if within(q.first):
            lines.append(f"number {_quote(heard, q.first, q.end)!r}: {q.role}, value {q.value}"
                         + (f", said like {q.pattern!r}" if q.pattern else ", nothing around it says what for"))
            lines.extend(f"    lost: {row}" for row in q.lost)
    for n, m in enumerate(heard.movements):
        if within(m.first):
            lines.append(f"movement {_quote(heard, m.first, m.end)!r}: {m.match.name}, rung {m.match.rung}, score {m.match.score:.0f}")
            lines.append(f"    {_standing(layout, n, m)}; evidence {m.intro:+.1f}: {', '.join(m.why) or 'none'}")
    for name, phrases in (("option", heard.options), ("side", heard.sides), ("clock", heard.edges), ("format", heard.formats),
                          ("note", heard.notes), ("scope", heard.scopes)):
        lines.extend(f"{name} {_quote(heard, p.first, p.end)!r}: {p.role}, said like {p.pattern!r}" for p in phrases if within(p.first))
    for e in heard.equipment:
        if within(e.first):
            standing = "asked for" if e.asked else "not for this class" if e.negated else "mentioned"
            lines.append(f"equipment {_quote(heard, e.first, e.end)!r}: {e.name}, {standing}")
    for s in heard.slips:
        if within(s.wrong[0]) or within(s.right[0]):
            lines.append(f"put right: {s.kind}, {s.was!r} became {s.became!r}")
    return Explanation(lines, len(lines) > 2)


def _standing(layout: Layout, index: int, mention: MovementMention) -> str:
    for number, stretch in enumerate(layout.stretches, 1):
        for place, item in enumerate(stretch.items, 1):
            if item.intro == index:
                return f"introduces movement {place} of block {number} ({stretch.kind})"
            if index in item.mentions:
                return f"another mention of movement {place} of block {number} ({stretch.kind})"
    if mention.scope:
        return f"only mentioned ({mention.scope})"
    return "inside an option" if mention.option else "not placed"
