"""From mentions to blocks and their movements: what joins an item, where another block begins."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from ..mentions import Heard, Layout, MovementMention, Quantity, beginning_in
from . import tidy
from .ahead import Ahead
from .introductions import Introductions
from .likeness import Likeness, Same
from .open_block import DECIDING, FORMATS, SECTION, SETTINGS, OpenBlock
from .stretches import stretches_of
from .weights import weight, words

_ANNOUNCED_WITHIN = 60      # words from what opens a block to what it is
_MOST_PARTS = 8
_NAMED_WITHIN = 12           # words from "second superset" to its first movement, where it is announced
_SOON = 80                  # words within which something new is introduced
_PAIR = "forty on, twenty off"        # both lengths at once: an announcement wherever it stands
_OF_FORMAT = {"amrap": "amrap", "interval": "emom", "cap": "for_time"}      # settings that only blocks of one format have
_HOW_OFTEN = frozenset({"sets", "rounds", "amrap", "cap"})
_IGNORED_SCOPES = frozenset({"negated", "how_not", "other_time", "others", "slip", "likened"})
_ORDER = {"warm_up": 0, "main": 1, "cool_down": 2}


def lay_out(heard: Heard, same: Same) -> Layout:
    return _Layer(heard, same).run()


class _Layer:
    """Walks the events of the talk in order and fills one block after another."""

    def __init__(self, heard: Heard, same: Same) -> None:
        self.heard, self.likeness = heard, Likeness(heard, same)
        self.introductions = Introductions(heard, self.likeness)
        self.done: list[OpenBlock] = []
        self.open: dict[str, OpenBlock] = {}
        self.passing: list[int] = []
        self.ahead = Ahead(heard)
        self.parts = _parts(heard)
        self.recapped = -2
        self.wound_down = False
        """The cool-down was told of, and nothing of another block since."""
        self.work_starts = sorted([e.first for e in heard.edges if e.role in ("countdown", "go")]
                                  + [q.first for q in heard.quantities if q.role == "round_label"])

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
        blocks = self._tidied()
        return Layout(stretches_of(self.heard, blocks), tuple(self.passing))

    def _tidied(self) -> list[OpenBlock]:
        """The blocks that have movements, in the plan's order."""
        heard = self.heard
        self.passing = tidy.name_the_nameless(heard, self.done, self.passing)
        blocks = [b for b in self.done if b.items]
        if not any(b.kind == "main" for b in blocks):
            blocks += [b for b in self.done if b.kind == "main" and b.settings][:1]
        blocks = tidy.merge_repeats(heard, self.likeness, blocks)
        blocks, self.passing = tidy.warm_up_before_one(heard, self.likeness, blocks, self.passing)
        for block in blocks:
            self.passing += tidy.prune(heard, block) + tidy.keep_to_count(heard, block)
            end = min((b.first for b in blocks if b.kind == "main" and b.first > block.first), default=len(heard.words.tokens))
            self.passing = tidy.fill_gaps(heard, self.likeness, block, self.passing)
            self.passing = tidy.fill_to_count(heard, self.likeness, block, end, self.passing)
        blocks = [part for b in blocks for part in tidy.by_sets(heard, b)]
        blocks.sort(key=lambda b: (_ORDER[b.kind], b.first))
        blocks = tidy.settle_orphans(self.done, blocks)
        self.ahead.hand_out([b for b in blocks if b.kind == "main"])
        first_main = next((b for b in blocks if b.kind == "main"), None)
        if first_main:
            first_main.first = 0      # the welcome announces the first block
        return blocks

    def _events(self) -> list[tuple[int, str, int]]:
        heard = self.heard
        events: list[tuple[int, str, int]] = []
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
            if f.role == "open" or f.role in FORMATS:
                events.append((f.first, "opener" if f.role == "open" else "format", n))
        for clause in heard.clauses:
            if clause.phase == "work":
                begun, over = (bisect_left(self.work_starts, at) for at in (clause.first, clause.end))
                events.extend((at, "work", 0) for at in self.work_starts[begun:over])
        rank = {"opener": 0, "format": 0, "setting": 1, "movement": 2, "work": 3}
        return sorted(events, key=lambda e: (e[0], rank[e[1]]))

    def _block(self, kind: str, at: int) -> OpenBlock:
        if kind not in self.open:
            self.open[kind] = OpenBlock(kind, at)
        return self.open[kind]

    def _setting(self, index: int) -> None:
        q = self.heard.quantities[index]
        section = SECTION.get(self.heard.phase_at(q.first), "main")
        if section != "main":
            return
        self.wound_down &= q.role not in DECIDING
        block = self._block("main", q.first)
        if not block.items and self.ahead.takes(index):
            return
        laid_out = self.heard.phase_at(q.first) in ("briefing", "demo") or q.role == "work" and q.pattern == _PAIR
        lifts = q.role == "work" and any(self.heard.quantities[k].role == "sets" for k in block.settings)
        over = block.worked or lifts and block.items or self._counts_anew(block, q.first)
        if over and laid_out and self._is_other(block, q) and self._new_content(q.first):
            block = self._next_main(q.first)
        if q.role in _OF_FORMAT and (earlier := self._of_format(block, _OF_FORMAT[q.role])):
            block = earlier         # "fifteen-minute AMRAP, three minutes off, core": gone over once more
        elif q.role in ("amrap", "cap") and laid_out and block.items and self._has_a_clock(block) and _OF_FORMAT[q.role] not in block.formats:
            block = self._next_main(q.first)        # "then the second half. An eight minute AMRAP"
            block.formats.add(_OF_FORMAT[q.role])
        block.settings.append(index)

    def _counts_anew(self, block: OpenBlock, at: int) -> bool:
        """``Thirty on, fifteen off, two moves. First, mountain climbers``: what is introduced next is number one again, and not of the block."""
        m = self._introduced_after(at)
        if m is None or len(block.items) < 2 or m.label != 1 and "enumerated" not in m.why or self.likeness.join(block, m) is not None:
            return False
        # "four sets of that pair. Second superset, B": the block ends where words open another one, in a sentence of their own
        over = self.heard.words.sentence(at)[1]
        return not any(f.role == "open" and over <= f.first < m.first for f in self.heard.formats)

    def _of_format(self, block: OpenBlock, name: str) -> OpenBlock | None:
        """The earlier block that was named as of that format, where ``block`` has a clock of its own."""
        if name in block.formats or not self._has_a_clock(block):
            return None
        return next((b for b in reversed(self.done) if b.kind == "main" and name in b.formats), None)

    def _has_a_clock(self, block: OpenBlock) -> bool:
        return any(self.heard.quantities[k].role == "work" for k in block.settings)

    def _is_other(self, block: OpenBlock, q: Quantity) -> bool:
        """A setting that the block does not have yet, or has otherwise."""
        said = {self.heard.quantities[i].value for i in block.settings if self.heard.quantities[i].role == q.role}
        return q.role in DECIDING and q.value not in said

    def _opener(self, at: int) -> None:
        if SECTION.get(self.heard.phase_at(at), "main") != "main":
            return
        block = self.open.get("main")
        if not block or not block.items:
            if block and self._mains():
                block.first = at
            self.ahead.opens(at)
            return
        place, known = self.ahead.place_of(at) or 0, self._mains()
        if (0 < place <= known or 0 < self.parts <= known) and not self._unheard_of(at):
            return              # a block that is known is called, not another one opened
        if place == known + 1 <= self.parts and self._new_content(at):
            self._next_main(at)     # "four lots … the second lot is mountain climbers"
        elif self.heard.phase_at(at) != "work" and self._announces(at) and (block.worked or self._new_content(at)) or block.worked and self._new_content(at):
            self._next_main(at)

    def _main_blocks(self) -> list[OpenBlock]:
        return [b for b in (*self.done, *self.open.values()) if b.kind == "main"]

    def _mains(self) -> int:
        """The main blocks so far that have movements."""
        return sum(bool(b.items) for b in self._main_blocks())

    def _format(self, at: int, name: str) -> None:
        """Another format than the block's is another block, once the block has its movements."""
        phase, known = self.heard.phase_at(at), self.open.get("main")
        if SECTION.get(phase, "main") != "main" or phase == "work" and not (known and known.worked and self._new_content(at)):
            return
        block = self._block("main", at)
        if not block.items and self.ahead.is_of(at):
            return
        if block.items and name not in block.formats and (block.formats or block.settings):
            block = self._next_main(at)
        block.formats.add(name)

    def _announces(self, at: int) -> bool:
        """What opens a block says soon what it is: how often, how long, in which format or ladder, or counts from one again."""
        near = range(at, at + _ANNOUNCED_WITHIN)
        return any(q.first in near and (q.role in DECIDING or q.role == "label" and q.single == 1) for q in self.heard.quantities) \
            or any(f.first in near and f.role != "open" for f in self.heard.formats) or any(s.first in near for s in self.heard.schemes)

    def _new_content(self, at: int) -> bool:
        """Something not yet in the block is introduced soon after ``at``."""
        m = self._introduced_after(at)
        return m is not None and self.likeness.join(self.open["main"], m) is None

    def _unheard_of(self, at: int) -> bool:
        """What is introduced right after ``at`` is in no block yet: the ``second superset`` may be the third block."""
        m = self._introduced_after(at)
        return m is not None and m.first - at <= _NAMED_WITHIN and all(self.likeness.join(b, m) is None for b in self._main_blocks())

    def _introduced_after(self, at: int) -> MovementMention | None:
        """The first movement that is introduced soon after ``at``; none where that is led in a warm-up or a cool-down."""
        found = next((m for m in beginning_in(self.heard.movements, (at + 1, at + _SOON)) if m.scope is None and not m.option
                      and m.intro >= weight("threshold")), None)
        return found if found is not None and SECTION.get(found.phase, "main") == "main" else None

    def _next_main(self, at: int) -> OpenBlock:
        self.done.append(self.open.pop("main"))
        return self._block("main", at)

    def _movement(self, index: int) -> None:
        mention = self.heard.movements[index]
        group = self.lists[mention.listed] if mention.listed is not None else [index]
        section = SECTION.get(mention.phase, "main")
        block = self._block(section, mention.first) if section == "main" or not mention.scope else self.open.get(section)
        if block is None:
            return
        if len(group) > 1:
            self._list(block, group)
        else:
            self._single(block, index)

    def _list(self, block: OpenBlock, group: Sequence[int]) -> None:
        """A dense list: a recap where most of it is known, else the movements themselves."""
        mentions = [self.heard.movements[n] for n in group]
        if not block.items and block.kind == "main":
            block = self._gone_over(mentions) or block
        joins = [self.likeness.join(block, m) for m in mentions]
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

    def _gone_over(self, mentions: Sequence[MovementMention]) -> OpenBlock | None:
        """The earlier block whose movements most of ``mentions`` are."""
        for block in reversed([b for b in self.done if b.kind == "main"]):
            if sum(self.likeness.join(block, m) is not None for m in mentions) * 2 >= len(mentions):
                return block
        return None

    def _single(self, block: OpenBlock, index: int, *, listed: bool = False) -> None:
        mention = self.heard.movements[index]
        if mention.scope in _IGNORED_SCOPES:
            return
        join = self.likeness.join(block, mention)
        if join is None and self._recapped(block, mention, index):
            return
        called = mention.phase == "work" and (mention.label is None or not block.items)
        if join is None and called and (earlier := self._announced_before(mention)):
            block, join = earlier
            block.worked = True
        elif join is None and self.wound_down and block.kind == "main" and (earlier := self._announced_before(mention)):
            block, join = earlier       # a rehearsal that ends with what to say of each
        if join is None and not listed and self._opens_another(block, mention):
            block = self._next_main(mention.first)
        if mention.option and mention.label is None:
            if join is not None:
                block.items[join].append(index)
            return
        if self.introductions.is_new(block, mention, join, listed=listed, mains=self._main_blocks()):
            block.items.append([index])
            self.wound_down |= block.kind == "cool_down"
            if not block.worked:
                block.shown += 1
        elif join is not None and not self._has_another_number(block, join, mention):
            block.items[join].append(index)
        else:
            self.passing.append(index)

    def _opens_another(self, block: OpenBlock, mention: MovementMention) -> bool:
        """``The last job is the hip thrust. That's three sets of twelve``: what is shown after the work of a block, with how often, is no
        more of that block."""
        if block.kind != "main" or not block.worked or mention.phase != "demo" or mention.option or mention.intro < weight("threshold"):
            return False
        if any(self.heard.movements[item[0]].first > block.worked_at for item in block.items):
            return False        # it is the second of what is shown now
        near = range(mention.first, mention.first + _ANNOUNCED_WITHIN)
        return any(q.first in near and q.role in _HOW_OFTEN and self.heard.phase_at(q.first) == "demo" for q in self.heard.quantities)

    def _has_another_number(self, block: OpenBlock, join: int, mention: MovementMention) -> bool:
        """``One's your wall balls, two's your ball slams``: of the family of number one, and called number two, it is not number one."""
        known = self.heard.movements[block.items[join][0]]
        return None not in (mention.label, known.label) and mention.label != known.label and self.likeness.is_kind(block, join, mention)

    def _recapped(self, block: OpenBlock, mention: MovementMention, index: int) -> bool:
        """Numbers that start again over movements of earlier blocks read the board out: ``A one, split squat. A two, row``."""
        if mention.label is None or block.kind != "main" or mention.label > max(len(block.items), 1):
            return False
        if len(block.items) < 2 and self.recapped != index - 1:
            return False
        for other in reversed([b for b in self.done if b.kind == "main"]):
            if mention.label <= len(other.items):
                known = self.heard.movements[other.items[mention.label - 1][0]].match
                if self.likeness.of(known, mention.match) >= weight("kind_of"):
                    other.items[mention.label - 1].append(index)
                    self.recapped = index
                    return True
        if self.recapped == index - 1:
            self.passing.append(index)
            self.recapped = index
            return True
        return False

    def _announced_before(self, mention: MovementMention) -> tuple[OpenBlock, int] | None:
        """The item of an earlier block that is named now: a block may be announced while the one before it is still to be done."""
        for block in reversed([b for b in self.done if b.kind == "main"]):
            join = self.likeness.join(block, mention)
            if join is not None:
                return block, join
        return None


def _parts(heard: Heard) -> int:
    """How many blocks the welcome announces, ``there are four lots``; 0 where it does not say."""
    tokens = heard.words.tokens
    said = [int(q.single) for q in heard.quantities if q.kind == "number" and q.single and q.end < len(tokens) and q.role in ("bare", "other", "reps")
            and tokens[q.end].norm in words("parts") and heard.phase_at(q.first) in ("briefing", "demo")]
    return said[0] if said and said[0] <= _MOST_PARTS else 0
