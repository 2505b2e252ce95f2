"""What changed between two classes, or two versions of one: plan against plan, findings against findings."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from typing import Any, Literal, get_args

from ..kinds import OptionKind
from ..model import Block, Finding, Movement, Option, Plan
from ..review.change import Change, Doing

SETTINGS = (
    "label", "format", "rounds", "work_s", "rest_s", "round_rest_s", "interval_s", "duration_s", "rep_scheme", "time_scheme",
    "rest_after_s", "each_side_through", "partner",
)
"""The fields of a block that are its format and timing, and what it is called."""

_Kind = Literal["added", "removed", "moved", "changed"]
_Block = tuple[int | None, Block]
"""A block with its number among the main blocks."""


def changes(before: Plan, after: Plan, found_before: Sequence[Finding] = (), found_after: Sequence[Finding] = ()) -> list[Change]:
    """All that differs, in the order of the newer plan: the class, its blocks with their movements, equipment, findings.

    A movement is the same where its canonical name is. Where each of something was said is no difference, nor is the file.
    """
    return [*_of_the_class(before, after), *_of_blocks(before, after), *_of_equipment(before, after), *_of_findings(found_before, found_after)]


def _changed(before: object, after: object) -> _Kind:
    return "added" if before is None else "removed" if after is None else "changed"


def _of_the_class(before: Plan, after: Plan) -> Iterator[Change]:
    if before.title != after.title:
        yield Change(about="title", change=_changed(before.title, after.title), before=before.title, after=after.title)
    if set(before.focus) != set(after.focus):
        yield Change(about="focus", change="changed", before=before.focus, after=after.focus)
    old, new = (p.stated_length and p.stated_length.model_copy(update={"sources": []}) for p in (before, after))
    if old != new:
        yield Change(about="stated_length", change=_changed(old, new), before=old, after=new)


# ---------------------------------------------------------------- blocks


def _numbered(plan: Plan) -> list[_Block]:
    mains = 0
    found = []
    for block in plan.blocks:
        mains += block.kind == "main"
        found.append((mains if block.kind == "main" else None, block))
    return found


def _names(block: Block) -> Counter[str]:
    return Counter(m.name for m in block.movements)


def _shared(one: Block, other: Block) -> int:
    return (_names(one) & _names(other)).total()


def _paired(before: Sequence[_Block], after: Sequence[_Block]) -> list[tuple[_Block | None, _Block | None]]:
    """Blocks of one kind side by side: first those that share most movements, then what is left in its order."""
    likes = sorted(
        ((-_shared(a[1], b[1]), abs(i - j), i, j) for i, a in enumerate(before) for j, b in enumerate(after) if _shared(a[1], b[1]))
    )
    match: dict[int, int] = {}
    for _, _, i, j in likes:
        if i not in match and j not in match.values():
            match[i] = j
    left = [i for i in range(len(before)) if i not in match], [j for j in range(len(after)) if j not in match.values()]
    rest = list(zip_longest(*left))
    pairs = [*match.items(), *rest]
    return [(None if i is None else before[i], None if j is None else after[j])
            for i, j in sorted(pairs, key=lambda p: (p[1] if p[1] is not None else p[0], p[1] is None))]


def _of_blocks(before: Plan, after: Plan) -> Iterator[Change]:
    pairs = [
        pair for kind in ("warm_up", "main", "cool_down")
        for pair in _paired([b for b in _numbered(before) if b[1].kind == kind], [b for b in _numbered(after) if b[1].kind == kind])
    ]
    gone, come = _left_over(pairs)
    for old, new in pairs:
        there = new or old
        assert there is not None
        number, block = there
        if old is None or new is None:
            yield Change(about="block", change="removed" if new is None else "added", kind=block.kind, block=number,
                         before=old and bare(old[1]), after=new and bare(new[1]))
        else:
            yield from _settings(old[1], new[1], number)
        yield from _movements(old or there, new or there, _keyed(old), _keyed(new), gone, come)


def bare(block: Block) -> Block:
    """Without its movements, which are changes of their own, and without where it was said."""
    return block.model_copy(update={"movements": [], "sources": []})


def _settings(old: Block, new: Block, number: int | None) -> Iterator[Change]:
    for field in SETTINGS:
        one, other = getattr(old, field), getattr(new, field)
        if one != other:
            yield Change(about="setting", change=_changed(one, other), kind=new.kind, block=number, name=field, before=one, after=other)


# ---------------------------------------------------------------- movements


_Key = tuple[str, int]
"""The name of a movement, and how often it came before in its block."""


class _Waiting:
    """Movements that their own block has no partner for, by name: one of them may stand in another block."""

    def __init__(self) -> None:
        self.by_name: dict[str, list[tuple[_Block, Movement]]] = defaultdict(list)

    def add(self, block: _Block, movement: Movement) -> None:
        self.by_name[movement.name].append((block, movement))


def _keyed(block: _Block | None) -> dict[_Key, Movement]:
    seen: Counter[str] = Counter()
    out: dict[_Key, Movement] = {}
    for movement in block[1].movements if block else ():
        out[movement.name, seen[movement.name]] = movement
        seen[movement.name] += 1
    return out


def _left_over(pairs: Sequence[tuple[_Block | None, _Block | None]]) -> tuple[_Waiting, _Waiting]:
    gone, come = _Waiting(), _Waiting()
    for old, new in pairs:
        one, other = _keyed(old), _keyed(new)
        for waiting, block, those, these in ((gone, old, one, other), (come, new, other, one)):
            for key, movement in those.items():
                if block is not None and key not in these:
                    waiting.add(block, movement)
    return gone, come


def _movements(old: _Block, new: _Block, one: dict[_Key, Movement], other: dict[_Key, Movement],
               gone: _Waiting, come: _Waiting) -> Iterator[Change]:
    """``one`` and ``other``: the movements of the two blocks, none of a block that is not there."""
    for key, movement in one.items():
        if key not in other and not _partner(gone, come, movement):
            yield _movement("removed", old, movement.name, before=movement.number)
    stay = _in_order([k for k in one if k in other], [k for k in other if k in one])
    for key, movement in other.items():
        if key in one:
            before = one[key]
            if key not in stay:
                yield _movement("moved", new, movement.name, before=before.number, after=movement.number)
            yield from _doing(before, movement, new)
        elif found := _partner(come, gone, movement):
            (number, block), before = found
            place = {"kind": block.kind, "block": number, "number": before.number}
            yield _movement("moved", new, movement.name, before=place, after=movement.number)
            yield from _doing(before, movement, new)
        else:
            yield _movement("added", new, movement.name, after=movement.number)


def _partner(own: _Waiting, others: _Waiting, movement: Movement) -> tuple[_Block, Movement] | None:
    """The movement of this name that waits on the other side, the first for the first."""
    mine = [m for _, m in own.by_name[movement.name]]
    place = next(i for i, m in enumerate(mine) if m is movement)
    theirs = others.by_name.get(movement.name, [])
    return theirs[place] if place < len(theirs) else None


def _in_order(before: Sequence[_Key], after: Sequence[_Key]) -> set[_Key]:
    """What keeps its place when both are read in order: the longest run of things that rise in both (of equals the earliest), so that
    one taken to the front is one move and not a move of all it passes."""
    rank = {key: i for i, key in enumerate(before)}
    runs: list[list[_Key]] = []
    longest: list[_Key] = []
    for key in after:
        best: list[_Key] = []
        for run in runs:
            if rank[run[-1]] < rank[key] and len(run) > len(best):
                best = run
        runs.append([*best, key])
        if len(runs[-1]) > len(longest):
            longest = runs[-1]
    return set(longest)


def _movement(change: _Kind, at: _Block, name: str, **values: Any) -> Change:
    return Change(about="movement", change=change, kind=at[1].kind, block=at[0], name=name, **values)


def _doing(old: Movement, new: Movement, at: _Block) -> Iterator[Change]:
    where: dict[str, Any] = {"kind": at[1].kind, "block": at[0], "name": new.name}
    one, other = Doing(sides=old.sides, dose=old.dose), Doing(sides=new.sides, dose=new.dose)
    if one != other:
        yield Change(about="doing", change="changed", before=one, after=other, **where)
    if set(old.equipment) != set(new.equipment):
        yield Change(about="equipment", change="changed", before=old.equipment, after=new.equipment, **where)
    for gone, come in _options(old.options, new.options):
        yield Change(about="option", change=_changed(gone, come), before=gone, after=come, **where)


def _options(old: Sequence[Option], new: Sequence[Option]) -> Iterator[tuple[Option | None, Option | None]]:
    """Easier against easier, harder against harder; those in the same words are no difference."""
    for kind in get_args(OptionKind):
        one, other = (_unsaid(o for o in options if o.kind == kind) for options in (old, new))
        same = {o.text.casefold() for o in one} & {o.text.casefold() for o in other}
        yield from zip_longest(*([o for o in options if o.text.casefold() not in same] for options in (one, other)))


def _unsaid(options: Iterable[Option]) -> list[Option]:
    return [o.model_copy(update={"sources": []}) for o in options]


# ---------------------------------------------------------------- equipment and findings


def _of_equipment(before: Plan, after: Plan) -> Iterator[Change]:
    old, new = ({e.name: e.model_copy(update={"sources": []}) for e in p.equipment} for p in (before, after))
    for name in [*new, *(n for n in old if n not in new)]:
        one, other = old.get(name), new.get(name)
        if one != other:
            yield Change(about="equipment", change=_changed(one, other), name=name, before=one, after=other)


def _of_findings(before: Sequence[Finding], after: Sequence[Finding]) -> Iterator[Change]:
    """Findings of one code in one place are one; what is only in the older is gone."""
    def by_place(found: Sequence[Finding]) -> dict[tuple[object, ...], Finding]:
        seen: Counter[tuple[object, ...]] = Counter()
        out: dict[tuple[object, ...], Finding] = {}
        for finding in found:
            place = finding.code, finding.block, finding.round, finding.number, finding.corrected
            out[*place, seen[place]] = finding
            seen[place] += 1
        return out

    old, new = by_place(before), by_place(after)
    for key, finding in old.items():
        if key not in new:
            yield Change(about="finding", change="removed", block=finding.block, name=finding.code, before=finding)
    for key, finding in new.items():
        if key not in old:
            yield Change(about="finding", change="added", block=finding.block, name=finding.code, after=finding)
