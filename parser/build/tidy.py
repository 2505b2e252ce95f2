"""Once all is heard: what was taken for a movement or a block of its own and is none, and what is several.

Each function takes blocks and gives blocks; mentions that lose their place are handed back as passing.
"""

from __future__ import annotations

from collections import Counter

from ..mentions import Heard
from .likeness import Likeness
from .open_block import DECIDING, OpenBlock
from .weights import weight

_LEAD_IN = 120      # words before the first movement with a number in which those before it may be named


def name_the_nameless(heard: Heard, blocks: list[OpenBlock], passing: list[int]) -> list[int]:
    """A block that was announced and done but never introduced its movement (``on the machines today``): what is called
    most often while the clock runs is its movement. Gives what is still passing."""
    mains = sorted((b for b in blocks if b.kind == "main"), key=lambda b: b.first)
    for block, following in zip(mains, [*mains[1:], None]):
        if block.items or not block.settings:
            continue
        end = following.first if following else len(heard.words.tokens)
        called = [n for n in passing if block.first <= heard.movements[n].first < end
                  and heard.movements[n].phase == "work" and heard.movements[n].scope is None and not heard.movements[n].match.verbal]
        names = Counter(heard.movements[n].match.name for n in called)
        if names and names.most_common(1)[0][1] >= 2:
            name = names.most_common(1)[0][0]
            block.items.append([n for n in called if heard.movements[n].match.name == name])
            passing = [n for n in passing if n not in block.items[0]]
    return passing


def merge_repeats(heard: Heard, likeness: Likeness, blocks: list[OpenBlock]) -> list[OpenBlock]:
    """A block that brings nothing new, neither a movement nor a setting of its own, is the one before it going on."""
    out: list[OpenBlock] = []
    for block in sorted(blocks, key=lambda b: b.first):
        before = next((b for b in reversed(out) if b.kind == "main"), None)
        if block.kind == "main" and before and not any(heard.quantities[k].role in DECIDING for k in block.settings):
            homes = [likeness.join(before, heard.movements[item[0]]) for item in block.items]
            known = [home for home in homes if home is not None]
            if len(known) == len(homes):
                for home, item in zip(known, block.items):
                    before.items[home].extend(item)
                before.settings += block.settings
                before.lists += block.lists
                continue
        out.append(block)
    return out


def prune(heard: Heard, block: OpenBlock) -> list[int]:
    """Between two movements whose numbers follow each other, and before number one, there is no other: what was taken for
    one there was part of showing. Where the numbers jump, as many may stand between as are missing. Gives the mentions that lose their place."""
    if block.kind != "main":
        return []
    labels = [heard.movements[item[0]].label for item in block.items]
    if sum(label is not None for label in labels) < 2:
        return []
    known = {label for item, label in zip(block.items, labels) if heard.movements[item[0]].match.rung != "unknown"}
    kept, pending, dropped, last = [], [], [], 0
    for item, label in zip(block.items, labels):
        if label in known and heard.movements[item[0]].match.rung == "unknown":
            dropped += item         # "five's the ropes. Station five is the skipping": the name of the trade is what it is
            continue
        if label is None:
            pending.append(item)
            continue
        room = max(0, label - last - 1)
        best = sorted(pending, key=lambda i: -heard.movements[i[0]].intro)[:room]
        kept += [i for i in pending if i in best] + [item]
        dropped += [n for i in pending if i not in best for n in i]
        pending, last = [], label
    block.items = kept + pending
    return dropped


def warm_up_before_one(heard: Heard, likeness: Likeness, blocks: list[OpenBlock], passing: list[int]) -> tuple[list[OpenBlock], list[int]]:
    """What is led before the first main block's number one is no movement of it: it is the warm-up that nobody called one,
    or the end of the one that was called. Gives the blocks and what is still passing."""
    main = min((b for b in blocks if b.kind == "main"), key=lambda b: b.first, default=None)
    if main is None:
        return blocks, passing
    labels = [heard.movements[item[0]].label for item in main.items]
    if 1 not in labels or sum(label is not None for label in labels) < 2:
        return blocks, passing
    one = _number_one(labels)
    warm_up = next((b for b in blocks if b.kind == "warm_up"), None)
    after = max((heard.movements[item[0]].first for item in warm_up.items), default=0) if warm_up else 0
    led = [item for item, label in zip(main.items[:one], labels) if label in (None, 1) and heard.movements[item[0]].phase in ("briefing", "demo")
           and (label is not None or after < heard.movements[item[0]].first) and heard.movements[item[0]].first < heard.movements[main.items[one][0]].first
           and not any(heard.movements[n].phase == "work" for n in item)]
    main.items = [item for item in main.items if item not in led]
    if warm_up is not None:
        warm_up.items = sorted([*warm_up.items, *led], key=lambda item: heard.movements[item[0]].first)
        return blocks, passing
    # where no block was open yet they were only named in passing
    before = [n for n in passing if heard.movements[n].first < heard.movements[main.items[0][0]].first and heard.movements[n].listed is None]
    led = sorted([*led, *_new_to(heard, likeness, main, before, weight("threshold_frame"))], key=lambda item: heard.movements[item[0]].first)
    taken = [n for item in led for n in item]
    if len({heard.movements[item[0]].match.name for item in led}) < 2:
        return blocks, [*passing, *(n for n in taken if n not in passing)]
    return [*blocks, OpenBlock("warm_up", heard.movements[led[0][0]].first, items=led)], [n for n in passing if n not in taken]


def _number_one(labels: list[int | None]) -> int:
    """The place of number one. Said twice with nothing counted between, the second begins the count: "first thing, marching" was before it."""
    one = labels.index(1)
    again = next((k for k in range(one + 1, len(labels)) if labels[k] is not None), None)
    return again if again is not None and labels[again] == 1 and labels[again + 1 : again + 2] == [2] else one


def _new_to(heard: Heard, likeness: Likeness, block: OpenBlock, passing: list[int], least: float) -> list[list[int]]:
    """Of the mentions ``passing`` those that introduce at least so much and are none of the block's movements, by name."""
    named: dict[str, list[int]] = {}
    for n in passing:
        mention = heard.movements[n]
        if mention.scope is None and not mention.option and mention.intro >= least and likeness.join(block, mention) is None:
            named.setdefault(mention.match.name, []).append(n)
    return list(named.values())


def counts_announced(heard: Heard, block: OpenBlock) -> set[int | None]:
    """Every number of movements that was announced for a block; ``None`` stands for a range."""
    said = (heard.quantities[k] for k in block.settings if heard.quantities[k].role == "movements")
    return {None if q.single is None else int(q.single) for q in said}


def _announced(heard: Heard, block: OpenBlock) -> int | None:
    """How many movements a main block was said to have, where that was said one way only."""
    said = counts_announced(heard, block)
    return said.pop() if block.kind == "main" and len(said) == 1 else None


def keep_to_count(heard: Heard, block: OpenBlock) -> list[int]:
    """Where more was taken for movements than were announced, the faintest go, as long as they are faint. Gives what was dropped."""
    announced = _announced(heard, block)
    if announced is None:
        return []
    dropped: list[int] = []
    labels = [heard.movements[item[0]].label for item in block.items]
    told = [label for label in labels if label is not None]
    if len(told) == announced and told == list(range(1, len(told) + 1)):
        # all have their numbers: nothing else is one of them
        dropped = [n for item, label in zip(block.items, labels) if label is None for n in item]
        block.items = [item for item, label in zip(block.items, labels) if label is not None]
    while len(block.items) > announced:
        faintest = min(block.items, key=lambda i: heard.movements[i[0]].intro)
        mention = heard.movements[faintest[0]]
        if mention.intro >= weight("faint") or mention.label is not None:
            break
        block.items.remove(faintest)
        dropped += faintest
    return dropped


def fill_to_count(heard: Heard, likeness: Likeness, block: OpenBlock, end: int, passing: list[int]) -> list[int]:
    """Where fewer were taken for movements than were announced, and just as many are named beside them as are missing,
    these are the missing ones. ``end`` is the token where the next block begins. Gives what is still passing."""
    announced = _announced(heard, block)
    if announced is None or not block.items:
        return passing
    if sum(heard.movements[item[0]].label is not None for item in block.items) >= 2:
        return passing      # the numbers tell which there are
    missing = announced - len(block.items)
    begin = heard.movements[block.items[0][0]].first
    within = [n for n in passing if begin < heard.movements[n].first < end and heard.movements[n].phase in ("demo", "work")]
    named = _new_to(heard, likeness, block, within, weight("likely"))
    if missing < 1 or len(named) != missing:
        return passing
    block.items = sorted([*block.items, *named], key=lambda item: heard.movements[item[0]].first)
    taken = {n for item in named for n in item}
    return [n for n in passing if n not in taken]


def fill_gaps(heard: Heard, likeness: Likeness, block: OpenBlock, passing: list[int]) -> list[int]:
    """Where the numbers of the movements leave some out (``thrusters … and the second is the row``), what introduces itself
    best between those around the gap is the missing one. Gives what is still passing."""
    if block.kind != "main" or not block.items:
        return passing
    last, since, out = 0, 0, []
    for item in block.items:
        label = heard.movements[item[0]].label
        if label is None:
            since += 1
            out.append(item)
            continue
        begin = heard.movements[out[-1][0]].end if out else heard.movements[item[0]].first - _LEAD_IN
        within = [n for n in passing if begin <= heard.movements[n].first < heard.movements[item[0]].first
                  and heard.movements[n].phase in ("briefing", "demo") and not heard.movements[n].match.verbal]
        named = _new_to(heard, likeness, block, within, weight("likely"))
        missing = label - last - 1 - since
        if 0 < missing <= len(named):
            best = sorted(named, key=lambda i: -max(heard.movements[n].intro for n in i))[:missing]
            out += [i for i in named if i in best]
            taken = {n for i in best for n in i}
            passing = [n for n in passing if n not in taken]
        out.append(item)
        last, since = label, 0
    block.items = out
    return passing


def by_sets(heard: Heard, block: OpenBlock) -> list[OpenBlock]:
    """Lifts that each have sets of their own are blocks of their own: ``squats, five sets; then bench press, four sets``.

    The announcement belongs to the movement named just before it, or to the next one where it comes first.
    """
    sets = [k for k in block.settings if heard.quantities[k].role == "sets" and heard.phase_at(heard.quantities[k].first) != "work"]
    if block.kind != "main" or len(sets) < 2 or len(block.items) < 2:
        return [block]
    starts = [heard.movements[item[0]].first for item in block.items]
    closing: dict[int, int] = {}
    of_all: set[object] = set()
    for k in sets:
        before = sum(s <= heard.quantities[k].first for s in starts)
        if before == 0:
            of_all.add(heard.quantities[k].value)
        elif before == len(starts) and heard.quantities[k].value in of_all:
            continue            # said before them all, and again behind them
        closing.setdefault(max(before, 1), k)
    if len(closing) < 2:
        return [block]
    ends = sorted(closing)
    ends[-1] = len(block.items)
    parts, begin = [], 0
    for end in ends:
        part = OpenBlock(block.kind, block.first if begin == 0 else starts[begin], items=block.items[begin:end], worked=block.worked)
        limit = starts[end] if end < len(starts) else float("inf")
        low = starts[begin] if begin else -1
        part.settings = [k for k in block.settings if low <= heard.quantities[k].first < limit]
        parts.append(part)
        begin = end
    return parts


def settle_orphans(every: list[OpenBlock], kept: list[OpenBlock]) -> list[OpenBlock]:
    """Settings of blocks that got no movement go to the next main block that has some."""
    mains = [b for b in every if b.kind == "main"]
    for n, block in enumerate(mains):
        if not block.items and block.settings:
            heir = next((b for b in mains[n + 1 :] if b.items), None)
            if heir:
                heir.settings[:0] = block.settings
                if block in kept:
                    kept.remove(block)
    return kept
