"""From filled blocks to stretches: the tokens in which each item is introduced and shown."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from ..mentions import FIRST, STOP, Heard, Item, Stretch
from .open_block import SECTION, OpenBlock
from .weights import weight

_EDGES = frozenset({"go", "countdown", "stop"})


def stretches_of(heard: Heard, blocks: list[OpenBlock]) -> tuple[Stretch, ...]:
    """A stretch for each block, in the order given."""
    starts = sorted(_opens_at(heard, item[0]) for b in blocks for item in b.items)
    # what opens a later block ("part two's an AMRAP") is said of that, and ends what is shown of the one before
    starts = sorted({*starts, *(b.first for b in blocks if b.kind == "main" and b.first)})
    return tuple(_stretch(heard, b, starts) for b in blocks)


def _stretch(heard: Heard, block: OpenBlock, starts: list[int]) -> Stretch:
    lists = sorted(heard.movements[group[0]].first for group in block.lists)
    items = []
    for place, item in enumerate(block.items):
        first = _opens_at(heard, item[0])
        end = min([s for s in starts if s > first] + [at for at in lists if at > first]
                  + [_section_end(heard, block.kind, heard.movements[item[0]].first)])
        end = min(end, _next_round(heard, block, place))
        if place < block.shown and block.shown >= 2 and first < block.worked_at:
            end = min(end, block.worked_at)        # shown before the clock ran: what is called later is said of all of them
        segment = first, max(end, heard.movements[item[0]].end)
        items.append(Item(item[0], tuple(item), segment, _shown_again(heard, block, item, segment, starts)))
    end = max([i.segment[1] for i in items] + [block.first])
    return Stretch(block.kind, min([block.first] + [i.segment[0] for i in items]), end, tuple(items), tuple(block.settings), tuple(block.lists))


def _next_round(heard: Heard, block: OpenBlock, place: int) -> int:
    """Where what is shown while it is done is over: after its work another movement is called again, or the next round is."""
    item = block.items[place]
    shown = heard.movements[item[0]]
    done = next((e.first for e in heard.edges if e.first > shown.end and e.role in _EDGES), None)
    if block.kind != "main" or shown.phase == "briefing" or done is None:
        return len(heard.words.tokens)
    called = [heard.movements[n].first for other in block.items if other is not item for n in other
              if heard.movements[n].first > done and heard.movements[n].scope is None and heard.movements[n].phase == "work"]
    rounds = [q.first for q in heard.quantities if q.role == "round_label" and (q.single or 0) > 1 and q.first > done]
    return min([*called, *rounds], default=len(heard.words.tokens))


def _shown_again(heard: Heard, block: OpenBlock, item: list[int], segment: tuple[int, int], starts: list[int]) -> tuple[int, int] | None:
    """Where an item that was only announced in an overview is shown: from its first later introduction to the next item's, of any block."""
    later = [n for n in item[1:] if heard.movements[n].first >= segment[1] and heard.movements[n].listed is None
             and heard.movements[n].intro >= weight("threshold_frame")]
    if not later:
        return None
    first = heard.movements[later[0]].first
    others = [heard.movements[n].first for other in block.items if other is not item for n in other]
    return first, min([at for at in (*others, *starts) if at > first] + [_section_end(heard, block.kind, first)])


def _opens_at(heard: Heard, index: int) -> int:
    """Where the words about a movement begin: at its number, or at the repetitions counted just before it."""
    m = heard.movements[index]
    first = m.label_span[0] if m.label_span and m.label_span[0] < m.first else m.first
    if first and heard.words.tokens[first].brk < STOP:
        # the number of repetitions just before it belongs to it
        k = bisect_left(heard.quantities, first, key=FIRST) - 1
        if k >= 0 and heard.quantities[k].end == first:
            return heard.quantities[k].first
    return first


def _section_end(heard: Heard, kind: str, at: int) -> int:
    """Where the section around ``at`` ends: the first clause of another section."""
    clauses = heard.clauses
    for k in range(max(1, bisect_right(clauses, at, key=FIRST)), len(clauses)):
        if SECTION.get(clauses[k].phase, "main") != kind:
            return clauses[k].first
    return len(heard.words.tokens)
