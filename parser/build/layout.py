"""From mentions to blocks and their movements: what introduces an item, what joins one, where another block begins."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from ..mentions import Heard, Item, Layout, MovementMention, Quantity, Stretch
from .weights import weight

_SECTION = {"warm_up": "warm_up", "cool_down": "cool_down", "close": "cool_down"}
_ANNOUNCED_WITHIN = 60      # words
_PAIR = "forty on, twenty off"        # both lengths at once: an announcement wherever it stands
_FORMATS = frozenset({"emom", "amrap", "tabata", "for_time"})
_DECIDING = frozenset({"work", "rounds", "bouts", "sets", "interval", "amrap", "cap"})
SETTINGS = frozenset({"work", "rest", "round_rest", "rounds", "bouts", "sets", "movements", "interval", "amrap", "cap", "block_rest"})
_IGNORED_SCOPES = frozenset({"negated", "how_not", "other_time", "others", "slip", "likened"})

Same = Callable[[object, object], object]


@dataclass(slots=True)
class _Open:
    """A block being filled."""

    kind: str
    first: int
    end: int = 0
    items: list[list[int]] = field(default_factory=list)     # mention indices, the introduction first
    settings: list[int] = field(default_factory=list)
    lists: list[tuple[int, ...]] = field(default_factory=list)
    worked: bool = False
    """The clock has run in it: what is named from now on is called, not introduced."""
    worked_at: int = 0
    shown: int = 0
    """Items introduced before the clock ran."""
    formats: set[str] = field(default_factory=set)
    demonstrated: bool | None = None
    """Whether those are all of it: they are called again, not followed by new ones."""


def lay_out(heard: Heard, same: Same) -> Layout:
    return _Layer(heard, same).run()


class _Layer:
    """Walks the events of the talk in order and fills one block after another."""

    def __init__(self, heard: Heard, same: Same) -> None:
        self.heard, self.same = heard, same
        self.done: list[_Open] = []
        self.open: dict[str, _Open] = {}
        self.passing: list[int] = []
        self.recapped = -2
        self.work_starts = [e.first for e in heard.edges if e.role in ("countdown", "go")]
        self.clause_starts = [c.first for c in heard.clauses]

    def run(self) -> Layout:
        for at, kind, index in self._events():
            if kind == "movement":
                self._movement(index)
            elif kind == "setting":
                self._setting(index)
            elif kind == "opener":
                self._opener(at)
            elif kind == "format":
                self._format(at, self.heard.formats[index].role)
            elif kind == "work":
                block = self.open.get("main")
                if block and block.items and not block.worked:
                    block.worked, block.worked_at = True, at
        self.done.extend(self.open.values())
        self._name_the_nameless()
        order = {"warm_up": 0, "main": 1, "cool_down": 2}
        kept = [b for b in self.done if b.items]
        if not any(b.kind == "main" for b in kept):
            kept += [b for b in self.done if b.kind == "main" and b.settings][:1]
        kept = self._merge_repeats(kept)
        for block in kept:
            self._prune(block)
        kept = [part for b in kept for part in self._by_sets(b)]
        kept.sort(key=lambda b: (order[b.kind], b.first))
        kept = _settle_orphans(self.done, kept)
        self.starts = sorted(self._opens_at(item[0]) for b in kept for item in b.items)
        first_main = next((b for b in kept if b.kind == "main"), None)
        if first_main:
            first_main.first = 0      # the welcome announces the first block
        stretches = [self._close(b) for b in kept]
        return Layout(tuple(stretches), tuple(self.passing))

    def _name_the_nameless(self) -> None:
        """A block that was announced and done but never introduced its movement (``on the machines today``): what is called
        most often while the clock runs is its movement."""
        mains = sorted((b for b in self.done if b.kind == "main"), key=lambda b: b.first)
        for block, following in zip(mains, [*mains[1:], None]):
            if block.items or not block.settings:
                continue
            end = following.first if following else len(self.heard.words.tokens)
            called = [n for n in self.passing if block.first <= self.heard.movements[n].first < end
                      and self.heard.movements[n].phase == "work" and self.heard.movements[n].scope is None and not self.heard.movements[n].match.verbal]
            names = Counter(self.heard.movements[n].match.name for n in called)
            if names and names.most_common(1)[0][1] >= 2:
                name = names.most_common(1)[0][0]
                block.items.append([n for n in called if self.heard.movements[n].match.name == name])
                self.passing = [n for n in self.passing if n not in block.items[0]]

    def _events(self):
        heard, events = self.heard, []
        listed: dict[int, list[int]] = {}
        for n, m in enumerate(heard.movements):
            if m.listed is not None:
                listed.setdefault(m.listed, []).append(n)
        self.lists = listed
        for n, m in enumerate(heard.movements):
            if m.listed is None or listed[m.listed][0] == n:
                events.append((m.label_span[0] if m.label_span and m.label_span[0] < m.first else m.first, "movement", n))
        for n, q in enumerate(heard.quantities):
            if q.role in SETTINGS:
                events.append((q.first, "setting", n))
        for n, f in enumerate(heard.formats):
            if f.role == "open" or f.role in _FORMATS:
                events.append((f.first, "opener" if f.role == "open" else "format", n))
        for clause in heard.clauses:
            if clause.phase == "work":
                events.extend((at, "work", 0) for at in self.work_starts[bisect_left(self.work_starts, clause.first) : bisect_left(self.work_starts, clause.end)])
        rank = {"opener": 0, "format": 0, "setting": 1, "movement": 2, "work": 3}
        return sorted(events, key=lambda e: (e[0], rank[e[1]]))

    def _block(self, kind: str, at: int) -> _Open:
        if kind not in self.open:
            self.open[kind] = _Open(kind, at)
        return self.open[kind]

    def _setting(self, index: int) -> None:
        q = self.heard.quantities[index]
        section = _SECTION.get(self.heard.phase_at(q.first), "main")
        if section != "main":
            return
        block = self._block("main", q.first)
        laid_out = self.heard.phase_at(q.first) in ("briefing", "demo") or q.role == "work" and q.pattern == _PAIR
        if block.worked and laid_out and self._is_other(block, q) and self._new_content(q.first):
            block = self._next_main(q.first)
        block.settings.append(index)

    def _is_other(self, block: _Open, q: Quantity) -> bool:
        """A setting that the block does not have yet, or has otherwise."""
        said = {self.heard.quantities[i].value for i in block.settings if self.heard.quantities[i].role == q.role}
        return q.role in _DECIDING and q.value not in said

    def _opener(self, at: int) -> None:
        if _SECTION.get(self.heard.phase_at(at), "main") != "main":
            return
        block = self.open.get("main")
        if not block or not block.items:
            return
        if self.heard.phase_at(at) != "work" and self._announces(at) or block.worked and self._new_content(at):
            self._next_main(at)

    def _format(self, at: int, name: str) -> None:
        """Another format than the block's is another block, once the block has its movements."""
        if _SECTION.get(self.heard.phase_at(at), "main") != "main" or self.heard.phase_at(at) == "work":
            return
        block = self._block("main", at)
        if block.items and name not in block.formats and (block.formats or block.settings):
            block = self._next_main(at)
        block.formats.add(name)

    def _announces(self, at: int) -> bool:
        """What opens a block says soon what it is: how often, how long, in which format, or counts from one again."""
        near = range(at, at + _ANNOUNCED_WITHIN)
        return any(q.first in near and (q.role in _DECIDING or q.role == "label" and q.single == 1) for q in self.heard.quantities) \
            or any(f.first in near and f.role != "open" for f in self.heard.formats)

    def _new_content(self, at: int) -> bool:
        """Something not yet in the block is introduced soon after ``at``."""
        block = self.open["main"]
        for n, m in enumerate(self.heard.movements):
            if m.first > at and m.first - at < 80 and m.scope is None and not m.option and m.intro >= weight("threshold"):
                return self._join(block, m) is None
        return False

    def _next_main(self, at: int) -> _Open:
        self.done.append(self.open.pop("main"))
        return self._block("main", at)

    def _movement(self, index: int) -> None:
        mention = self.heard.movements[index]
        group = self.lists[mention.listed] if mention.listed is not None else [index]
        section = _SECTION.get(mention.phase, "main")
        block = self._block(section, mention.first) if section == "main" or not mention.scope else self.open.get(section)
        if block is None:
            return
        if len(group) > 1:
            self._list(block, group)
        else:
            self._single(block, index)

    def _list(self, block: _Open, group: Sequence[int]) -> None:
        """A dense list: a recap where most of it is known, else the movements themselves."""
        mentions = [self.heard.movements[n] for n in group]
        if not block.items and block.kind == "main":
            block = self._gone_over(mentions) or block
        joins = [self._join(block, m) for m in mentions]
        known = sum(j is not None for j in joins)
        if block.items and (known >= len(group) / 2 or len(block.items) >= 2 and block.kind == "main"):
            block.lists.append(tuple(group))
            for n, join in zip(group, joins):
                (block.items[join] if join is not None else self.passing).append(n)
            return
        for n, m in zip(group, mentions):
            if m.scope in _IGNORED_SCOPES or m.match.verbal or m.option:
                continue
            self._single(block, n, listed=True)

    def _gone_over(self, mentions: Sequence[MovementMention]) -> _Open | None:
        """The earlier block whose movements most of ``mentions`` are."""
        for block in reversed([b for b in self.done if b.kind == "main"]):
            if sum(self._join(block, m) is not None for m in mentions) * 2 >= len(mentions):
                return block
        return None

    def _single(self, block: _Open, index: int, *, listed: bool = False) -> None:
        mention = self.heard.movements[index]
        if mention.scope in _IGNORED_SCOPES:
            return
        join = self._join(block, mention)
        if join is None and self._recapped(block, mention, index):
            return
        if join is None and mention.phase == "work" and not block.items and (earlier := self._announced_before(mention)):
            block, join = earlier
        if mention.option and mention.label is None:
            if join is not None:
                block.items[join].append(index)
            return
        if self._introduces(block, mention, join, listed):
            block.items.append([index])
            if not block.worked:
                block.shown += 1
        elif join is not None:
            block.items[join].append(index)
        else:
            self.passing.append(index)

    def _recapped(self, block: _Open, mention: MovementMention, index: int) -> bool:
        """Numbers that start again over movements of earlier blocks read the board out: ``A one, split squat. A two, row``."""
        if mention.label is None or block.kind != "main" or mention.label > max(len(block.items), 1):
            return False
        if len(block.items) < 2 and self.recapped != index - 1:
            return False
        for other in reversed([b for b in self.done if b.kind == "main"]):
            if mention.label <= len(other.items):
                known = self.heard.movements[other.items[mention.label - 1][0]].match
                if self._likeness(known, mention.match) >= weight("kind_of"):
                    other.items[mention.label - 1].append(index)
                    self.recapped = index
                    return True
        if self.recapped == index - 1:
            self.passing.append(index)
            self.recapped = index
            return True
        return False

    def _announced_before(self, mention: MovementMention) -> tuple[_Open, int] | None:
        """The item of an earlier block that is called now: a block may be announced while the one before it is still to be done."""
        for block in reversed([b for b in self.done if b.kind == "main"]):
            join = self._join(block, mention)
            if join is not None:
                block.worked = True
                return block, join
        return None

    def _introduces(self, block: _Open, mention: MovementMention, join: int | None, listed: bool) -> bool:
        """Whether the mention is a new item of the block."""
        strength = mention.intro + (weight("in_list") if listed else 0.0)
        if block.kind != "main":
            return join is None and strength >= weight("threshold_frame")
        if mention.phase == "briefing" and mention.label is None and not listed and not block.items:
            strength -= weight("briefing")
        numbered = mention.label is not None and mention.label > len(block.items)
        if join is not None:
            other = self.heard.movements[block.items[join][0]].match.name != mention.match.name
            repeat = numbered and (join != len(block.items) - 1 and not block.worked
                                   or other and mention.label == len(block.items) + 1 and mention.phase == "demo")
            fresh = mention.phase in ("demo", "briefing") and not block.worked and mention.label is None and self._is_kind(block, join, mention)
            return repeat and strength >= weight("threshold_repeat") or fresh and strength >= weight("threshold_kind")
        if block.worked and self._demonstrated(block):
            return numbered and mention.label == len(block.items) + 1 and mention.phase == "demo"
        labelled = sum(self.heard.movements[item[0]].label is not None for item in block.items)
        if labelled >= 2 and labelled == len(block.items) and mention.label is None and mention.phase == "work":
            return False        # where all have their numbers, what is called without one while the clock runs is no new one
        if labelled >= 2 and mention.label is None:
            return strength >= weight("threshold_unnumbered")
        if labelled <= 1 and self._plainly_named(mention):
            return strength >= weight("threshold_plain")
        return strength >= weight("threshold")

    def _plainly_named(self, mention: MovementMention) -> bool:
        """A full name of the trade, said as such: enough where nobody numbers anything."""
        return "full_name" in mention.why and not {"passing", "verbal", "everyday", "unsure", "scope"} & set(mention.why) \
            and mention.phase != "briefing"

    def _demonstrated(self, block: _Open) -> bool:
        """The movements were shown before the clock ran: at least two, and most of them are called again while it runs."""
        if block.demonstrated is None:
            called = [m for m in self.heard.movements if m.first > block.worked_at and m.phase in ("work", "demo")]
            again = {self._join(block, m) for m in called} - {None}
            shown = set(range(block.shown))
            block.demonstrated = block.shown >= 2 and len(again & shown) >= max(2, 0.5 * block.shown)
        return block.demonstrated

    def _join(self, block: _Open, mention: MovementMention) -> int | None:
        """The item that the mention is another mention of: the best of those that are the same movement."""
        best, best_score = None, 0.0
        for k, item in enumerate(block.items):
            score = self._likeness(self.heard.movements[item[0]].match, mention.match)
            if score > best_score:
                best, best_score = k, score
        return best

    def _likeness(self, known, said) -> float:
        """How well ``said`` names the movement ``known``: 0 where it cannot; a kind of the other counts as a short name for it."""
        if len(known.parts) > 1 and len(said.parts) > 1 and known.parts[0].patterns[:1] == ("punch",):
            one, two = [p.base for p in known.parts], [p.base for p in said.parts]
            return 100.0 if one == two else 80.0 if one[: len(two)] == two else 0.0
        verdict = self.same(known, said)
        if verdict.same or verdict.score >= weight("kind_of"):
            return verdict.score
        # a chain may be called by one of its parts
        if len(known.parts) > 1 and len(said.parts) == 1:
            return 0.9 * max(self._part_likeness(part, said.parts[0]) for part in known.parts)
        return 0.0

    def _part_likeness(self, part, said) -> float:
        if part.base_id == said.base_id or part.family == said.base_id or said.family == part.base_id:
            return 90.0
        return 0.0

    def _is_kind(self, block: _Open, join: int, mention: MovementMention) -> bool:
        """Another movement of the same family rather than the same one."""
        return not self.same(self.heard.movements[block.items[join][0]].match, mention.match).same

    def _close(self, block: _Open) -> Stretch:
        heard = self.heard
        lists = sorted(heard.movements[group[0]].first for group in block.lists)
        items = []
        for item in block.items:
            first = self._opens_at(item[0])
            end = min([s for s in self.starts if s > first] + [at for at in lists if at > first]
                      + [self._section_end(block.kind, heard.movements[item[0]].first)])
            segment = first, max(end, heard.movements[item[0]].end)
            items.append(Item(item[0], tuple(item), segment, self._shown_again(block, item, segment)))
        end = max([i.segment[1] for i in items] + [block.first])
        return Stretch(block.kind, min([block.first] + [i.segment[0] for i in items]), end, tuple(items), tuple(block.settings), tuple(block.lists))

    def _merge_repeats(self, blocks: list[_Open]) -> list[_Open]:
        """A block that brings nothing new, neither a movement nor a setting of its own, is the one before it going on."""
        out: list[_Open] = []
        for block in sorted(blocks, key=lambda b: b.first):
            before = next((b for b in reversed(out) if b.kind == "main"), None)
            if block.kind == "main" and before and not any(self.heard.quantities[k].role in _DECIDING for k in block.settings):
                homes = [self._join(before, self.heard.movements[item[0]]) for item in block.items]
                if all(home is not None for home in homes):
                    for home, item in zip(homes, block.items):
                        before.items[home].extend(item)
                    before.settings += block.settings
                    before.lists += block.lists
                    continue
            out.append(block)
        return out

    def _prune(self, block: _Open) -> None:
        """Between two movements whose numbers follow each other, and before number one, there is no other: what was taken for
        one there was part of showing. Where the numbers jump, as many may stand between as are missing."""
        if block.kind != "main":
            return
        labels = [self.heard.movements[item[0]].label for item in block.items]
        if sum(label is not None for label in labels) < 2:
            return
        kept, pending, last = [], [], 0
        for item, label in zip(block.items, labels):
            if label is None:
                pending.append(item)
                continue
            room = max(0, label - last - 1)
            best = sorted(pending, key=lambda i: -self.heard.movements[i[0]].intro)[:room]
            kept += [i for i in pending if i in best] + [item]
            self.passing += [n for i in pending if i not in best for n in i]
            pending, last = [], label
        block.items = kept + pending

    def _by_sets(self, block: _Open) -> list[_Open]:
        """Lifts that each have sets of their own are blocks of their own: ``squats, five sets; then bench press, four sets``.

        The announcement belongs to the movement named just before it, or to the next one where it comes first.
        """
        heard = self.heard
        sets = [k for k in block.settings if heard.quantities[k].role == "sets" and heard.phase_at(heard.quantities[k].first) != "work"]
        if block.kind != "main" or len(sets) < 2 or len(block.items) < 2:
            return [block]
        starts = [heard.movements[item[0]].first for item in block.items]
        closing = {}
        for k in sets:
            before = sum(s <= heard.quantities[k].first for s in starts)
            closing.setdefault(max(before, 1), k)
        if len(closing) < 2:
            return [block]
        ends = sorted(closing)
        ends[-1] = len(block.items)
        parts, begin = [], 0
        for end in ends:
            part = _Open(block.kind, block.first if begin == 0 else starts[begin], items=block.items[begin:end], worked=block.worked)
            limit = starts[end] if end < len(starts) else float("inf")
            low = starts[begin] if begin else -1
            part.settings = [k for k in block.settings if low <= heard.quantities[k].first < limit]
            parts.append(part)
            begin = end
        return parts

    def _shown_again(self, block: _Open, item: list[int], segment: tuple[int, int]) -> tuple[int, int] | None:
        """Where an item that was only announced in an overview is shown: from its first later introduction to the next item's."""
        later = [n for n in item[1:] if self.heard.movements[n].first >= segment[1] and self.heard.movements[n].listed is None
                 and self.heard.movements[n].intro >= weight("threshold_frame")]
        if not later:
            return None
        first = self.heard.movements[later[0]].first
        others = [self.heard.movements[n].first for other in block.items if other is not item for n in other]
        return first, min([at for at in others if at > first] + [self._section_end(block.kind, first)])

    def _opens_at(self, index: int) -> int:
        m = self.heard.movements[index]
        first = m.label_span[0] if m.label_span and m.label_span[0] < m.first else m.first
        if first and self.heard.words.tokens[first].brk < 2:
            # the number of repetitions just before it belongs to it
            for q in self.heard.quantities:
                if q.end == first:
                    return q.first
        return first

    def _section_end(self, kind: str, at: int) -> int:
        """Where the section around ``at`` ends: the first clause of another section."""
        clauses = self.heard.clauses
        k = max(0, bisect_left(self.clause_starts, at + 1) - 1)
        while k + 1 < len(clauses):
            k += 1
            if _SECTION.get(clauses[k].phase, "main") != kind:
                return clauses[k].first
        return len(self.heard.words.tokens)


def _settle_orphans(every: list[_Open], kept: list[_Open]) -> list[_Open]:
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
