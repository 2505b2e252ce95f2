"""What introduces a movement: whether a mention is a new item of its block."""

from __future__ import annotations

from collections.abc import Sequence

from ..mentions import Heard, MovementMention
from . import tidy
from .details import on_two_sides
from .likeness import Likeness
from .open_block import OpenBlock
from .weights import weight, words

_AT_ONCE = 4                # words from what opens a block to its first movement, named without more ado
_MORE = frozenset({"and", "then", "plus"})
_WAY_WITHIN = 10        # words from "walk" to where
_MOST_NUMBERED = 0.75


class Introductions:
    """Tells of each mention whether it introduces something."""

    def __init__(self, heard: Heard, likeness: Likeness) -> None:
        self.heard, self.likeness = heard, likeness

    def is_new(self, block: OpenBlock, mention: MovementMention, join: int | None, *, listed: bool, mains: Sequence[OpenBlock]) -> bool:
        """Whether ``mention`` is a new item of ``block``. ``join`` is the item of it that it may be another mention of, ``mains`` are all main
        blocks so far; ``listed``: it stands in a dense list."""
        strength = mention.intro + (weight("in_list") if listed else 0.0)
        if block.kind != "main":
            known = not mention.match.everyday and any(
                self.heard.movements[item[0]].match.name == mention.match.name for b in mains for item in b.items)
            if known:
                return False        # "squat jumps is what we open with" leads nothing yet
            if "verbal" in mention.why and mention.match.name in words("orders") | words("postures"):
                return False
            if block.kind == "cool_down" and not block.items and mention.match.name in words("getting_breath") and not self._leads_somewhere(mention):
                return False
            return join is None and strength >= weight("threshold_frame")
        if mention.phase == "briefing" and mention.label is None and not listed and not block.items and "first" not in mention.why:
            strength -= weight("briefing")
        if 0 < self._announced(block) <= len(block.items) and self._is_minute(mention):
            return False
        numbered = mention.label is not None and mention.label > len(block.items)
        if join is not None:
            other = self.heard.movements[block.items[join][0]].match.name != mention.match.name
            repeat = numbered and (join != len(block.items) - 1 and not block.worked
                                   or other and mention.label == len(block.items) + 1 and mention.phase == "demo"
                                   or mention.label == len(block.items) + 1 and not block.worked
                                   and on_two_sides(self.heard, self.heard.movements[block.items[join][0]], mention))
            fresh = mention.phase in ("demo", "briefing") and not block.worked and mention.label is None and self.likeness.is_kind(block, join, mention)
            return repeat and strength >= weight("threshold_repeat") or fresh and strength >= weight("threshold_kind")
        if block.worked and self._demonstrated(block):
            return numbered and mention.label == len(block.items) + 1 and mention.phase == "demo"
        if not listed and self._explains_last(block, mention) or mention.label is None and mention.match.name in words("postures"):
            return False
        if mention.label is not None and mention.label != len(block.items) + 1 and self._is_full(block):
            return False        # all that were announced have their numbers: one of them is gone over, or misnamed
        labelled = sum(self.heard.movements[item[0]].label is not None for item in block.items)
        single = len(mention.match.words) == 1 and mention.label is None
        if single and mention.phase == "work" and 0 < self._announced(block) <= len(block.items):
            return False        # all that were announced have been shown, and a single word may be another: "ten seconds and it's clean"
        if labelled >= max(2, _MOST_NUMBERED * len(block.items)) and mention.label is None and mention.phase == "work":
            return False        # where nearly all have their numbers, what is called without one while the clock runs is no new one
        if labelled >= 2 and mention.label is None:
            return strength >= weight("threshold_unnumbered")
        if labelled <= 1 and self._plainly_named(mention):
            return strength >= weight("threshold_plain")
        if not block.items and len(mains) > 1 and self._just_opened(block, mention):
            return strength >= 0
        return strength >= weight("threshold")

    def _leads_somewhere(self, mention: MovementMention) -> bool:
        """``Walk to the crane and back``, ``walk with me``, ``walk for a minute``; ``walk about a little`` only gets the breath back."""
        tokens = self.heard.words.tokens
        sentence = self.heard.words.sentence(mention.first)[1]
        return any(t.norm in words("ways") for t in tokens[mention.end : mention.end + _WAY_WITHIN]) or any(
            q.kind == "length" and mention.end <= q.first < sentence for q in self.heard.quantities)

    def _is_full(self, block: OpenBlock) -> bool:
        """As many movements as were announced, each with its number."""
        return len(block.items) == self._announced(block) and all(self.heard.movements[item[0]].label is not None for item in block.items)

    def _announced(self, block: OpenBlock) -> int:
        """The most movements that were announced for the block; 0 where nobody said."""
        return max((count or 0 for count in tidy.counts_announced(self.heard, block)), default=0)

    def _is_minute(self, mention: MovementMention) -> bool:
        """``Minute nine, cleans``: the number is the clock's."""
        span = mention.label_span
        return span is not None and any(t.norm == "minute" for t in self.heard.words.tokens[span[0] : span[1]])

    def _plainly_named(self, mention: MovementMention) -> bool:
        """A full name of the trade, said as such: enough where nobody numbers anything."""
        return "full_name" in mention.why and not {"passing", "verbal", "everyday", "unsure", "scope"} & set(mention.why) \
            and mention.phase != "briefing"

    def _explains_last(self, block: OpenBlock, mention: MovementMention) -> bool:
        """``Number four, high knees, running on the spot``: the same thing in other words, in the sentence that numbers it; or as an order in
        the next, ``First move is skaters. Leap side to side, land on one leg``."""
        if mention.label is not None or not block.items or not self.heard.words.punctuated or {"next", "last", "then_next", "first"} & set(mention.why):
            return False
        if "dosed" in mention.why and self.heard.words.tokens[mention.first - 1].norm in _MORE:
            return False        # "first one, rows, twelve reps, and split squats, ten each leg": with an amount of its own
        last = self.heard.movements[block.items[-1][0]]
        end = self.heard.words.sentence(last.first)[1]
        ordered = mention.first == end and not mention.match.words[-1].endswith("s") and not {"alone", "dosed", "named"} & set(mention.why)
        return last.label is not None and (mention.first < end or ordered)

    def _just_opened(self, block: OpenBlock, mention: MovementMention) -> bool:
        """``Bit C. Deadlift.``: named at once after the words that open a later block."""
        return mention.first - block.first <= _AT_ONCE and mention.scope is None and not {"passing", "verbal", "everyday", "unsure"} & set(mention.why)

    def _demonstrated(self, block: OpenBlock) -> bool:
        """The movements were shown before the clock ran: at least two, and most of them are called again while it runs."""
        if block.demonstrated is None:
            called = [m for m in self.heard.movements if m.first > block.worked_at and m.phase in ("work", "demo")]
            again = {self.likeness.join(block, m) for m in called} - {None}
            shown = set(range(block.shown))
            block.demonstrated = block.shown >= 2 and len(again & shown) >= max(2, 0.5 * block.shown)
        return block.demonstrated
